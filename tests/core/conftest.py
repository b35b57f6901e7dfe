"""Toys: plugins, packs and plans that know nothing of radio. Ladders lean against walls, and shelves hold books."""

import json
import re
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from datetime import date
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from babel.messages import Catalog

from afield.core.engine import Engine, judge, load, report
from afield.core.facts.declarations import Fact, Tool, fact
from afield.core.facts.subjects import Subject
from afield.core.host.hookspecs import Fragment, hookimpl
from afield.core.host.loading import Host, PluginInfo, new_host
from afield.core.language import add_catalogues
from afield.core.language.speech import OWN
from afield.core.testing.catalogues import sentences, written

CORE = Path(__file__).parents[2] / "core"
Json = dict[str, Any]

SOURCE = {"document": "House rules", "section": "1", "grade": "invented", "last_checked": "2026-01-02"}
PACK = {
    "version": "1.0.0", "title": "House", "publisher": "the household", "licence": "MIT", "judges": "trip",
    "needs": ["house"], "date_basis": "local", "review_every": "365 days",
    "sources": [{"document": "House rules", "edition": "first", "grade": "invented"}],
}  # fmt: skip
PLAN = {"trip": "Moving day", "date": "2026-06-27", "packs": ["tidy"]}


def quantity(title: str, fact_name: str, **more: Any) -> Json:
    return {"type": "string", "title": title, "x-dimension": "length", "x-fact": fact_name, "x-example": "2 m", **more}


SHELF = {
    "type": "object", "title": "shelf",
    "properties": {
        "name": {"type": "string", "title": "shelf's name"},
        "books": {"type": "integer", "title": "number of books", "x-fact": "shelf.books"},
        "width": quantity("width of the shelf", "shelf.width", **{"x-default-uncertainty": 0.01}),
        "colour": {"type": "string", "enum": ["red", "blue"], "title": "colour", "x-fact": "shelf.colour"},
    },
    "required": ["name"],
}  # fmt: skip
BOX = {
    "type": "object", "title": "box",
    "properties": {
        "name": {"type": "string", "title": "box's name"},
        "books": {"type": "integer", "title": "number of books", "x-fact": "box.books"},
    },
    "required": ["name"],
}  # fmt: skip
TAPE = {"name": "tape measure", "uncertainty": 0.01}
HOUSE = [
    Fragment("plan", "/", {
        "wall": {"type": "object", "title": "wall", "properties": {
            "height": quantity("height of the wall", "wall.height", **{"x-default-uncertainty": 0.03, "x-tool": TAPE}),
            "depth": quantity("depth of the wall", "wall.depth"),
            "damp": {"type": "boolean", "title": "dampness", "x-fact": "wall.damp"},
        }},
        "ladder": {"type": "object", "title": "ladder", "properties": {
            "length": quantity("length of the ladder", "ladder.length", **{"x-default-uncertainty": 0.04}),
        }},
        "shelves": {"type": "array", "title": "shelves", "x-kind": "shelf", "x-key": "name", "items": SHELF},
    }),
    Fragment("plan", "claims[]", {
        "boxes": {"type": "array", "title": "boxes", "x-kind": "box", "x-key": "name", "items": BOX},
    }),
    Fragment("references", "/", {
        "floor": {"type": "integer", "title": "floor", "x-fact": "room.floor"},
    }),
]  # fmt: skip


@fact(
    "wall.gap", kind="trip", unit="m", title="gap above the ladder", tool=Tool("tape measure", 0.01),
    detail={"end": "the end that is nearer"},
)  # fmt: skip
def wall_gap(wall_height: float, ladder_length: float) -> Any:
    from afield.core.facts.measured import Estimate

    return Estimate(wall_height - ladder_length, detail={"end": "top"}, method="wall less ladder")


@fact("wall.fits", kind="trip", type="bool", title="whether the ladder fits")
def wall_fits(wall_height: float, ladder_length: float) -> bool:
    return ladder_length <= wall_height


@fact(
    "shelf.spare",
    kind="shelf",
    unit="m",
    title="what the wall leaves beside the shelf",
    tool=Tool("tape measure", 0.01),
)
def shelf_spare(wall_height: float, shelf_width: float) -> float:
    return wall_height - shelf_width


@fact(
    "trip.books",
    kind="trip",
    unit="",
    title="number of books",
    exact=True,
    tool=Tool("tally", 0.0),
    each={"books": ("shelf", "shelf.books")},
)
def trip_books(books: list[tuple[Subject, int]]) -> int:
    return int(sum(count for _, count in books))


@fact("claim.boxed", kind="claim", unit="", title="books in boxes", exact=True, each={"books": ("box", "box.books")})
def claim_boxed(books: list[tuple[Subject, int]]) -> int:
    return int(sum(count for _, count in books))


@fact("trip.boxed", kind="trip", unit="", title="books in all boxes", exact=True, each={"books": ("box", "box.books")})
def trip_boxed(books: list[tuple[Subject, int]]) -> int:
    return int(sum(count for _, count in books))


FACTS: list[Fact] = [wall_gap, wall_fits, shelf_spare, trip_books, claim_boxed, trip_boxed]
PROGRAM_FACTS = [
    Fact("program.most_books", "program", unit="", title="most books of a box", exact=True),
    Fact("program.colour", "program", "text", title="colour of the program", choices=("red", "blue"), exact=True),
]


def plugin(**hooks: Callable[..., Any]) -> SimpleNamespace:
    """An object that implements the hooks: `kinds=lambda: [...]` and the like."""
    return SimpleNamespace(**{f"afield_{name}": hookimpl(function) for name, function in hooks.items()})


def given(value: Any) -> Callable[[], Any]:
    return lambda: value


class Toys:
    """A folder with packs and plans, and a host with toy plugins."""

    FACTS, FRAGMENTS, SOURCE = [*FACTS, *PROGRAM_FACTS], HOUSE, SOURCE

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.host: Host = new_host()
        self.engine = Engine(self.host)

    def add(self, name: str, **hooks: Callable[..., Any]) -> "Toys":
        self.host.add(plugin(**hooks), PluginInfo(name, "toys", "1.0"))
        return self

    def house(self, **more: Callable[..., Any]) -> "Toys":
        """The toy plugin `house`; a hook given by name takes the place of its own."""
        hooks: dict[str, Callable[..., Any]] = {"fragments": given(HOUSE), "facts": given(self.FACTS)}
        return self.add("house", **{**hooks, **more})

    def pack(
        self, *rules: Json, name: str = "tidy", limits: Json | None = None, references: Any = None, **more: Any
    ) -> Path:
        """Write a pack; rules get a title, severity and source where they have none."""
        folder = self.folder / name
        data = {"id": name, **PACK, **more}
        if references is not None:
            data["references"] = "references.yaml"
            self.write(folder / "references.yaml", {"references": references})
        self.write(folder / "pack.yaml", data)
        self.write(folder / "rules.yaml", {"rules": [_rule(rule) for rule in rules], "limits": _limits(limits or {})})
        return folder

    def plan(self, name: str = "plan.yaml", **more: Any) -> Path:
        return self.write(self.folder / name, {**PLAN, **more})

    def write(self, path: Path, data: Any) -> Path:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(data if isinstance(data, str) else json.dumps(data, indent=1), encoding="utf-8")
        return path

    def load(self, variant: str | None = None, **plan: Any) -> Any:
        return load(self.plan(**plan), self.engine, variant)

    def judged(self, variant: str | None = None, now: date | None = None, **plan: Any) -> Any:
        return judge(self.load(variant, **plan), self.engine, now)

    def report(
        self,
        variant: str | None = None,
        now: date | None = None,
        strict: bool = False,
        briefing: bool = False,
        **plan: Any,
    ) -> Json:
        return report(self.judged(variant, now, **plan), self.engine, briefing, strict)

    def told(self, **plan: Any) -> list[tuple[str, str, str]]:
        """(rule, subject, outcome) of every verdict."""
        return [
            (verdict["rule"], verdict["subject"], verdict["outcome"]) for verdict in self.report(**plan)["verdicts"]
        ]

    def only(self, **plan: Any) -> Json:
        """The only verdict."""
        (verdict,) = self.report(**plan)["verdicts"]
        return dict(verdict)


def _rule(rule: Mapping[str, Any]) -> Json:
    filled = {
        "title": f"The rule {rule['id']}",
        "why": "So says the house.",
        "severity": "required",
        "for_each": "trip",
    }
    return {**filled, "source": SOURCE, **rule}


def _limits(limits: Mapping[str, Any]) -> Json:
    return {name: [{"source": SOURCE, **version} for version in versions] for name, versions in limits.items()}


@pytest.fixture
def toys(tmp_path: Path) -> Toys:
    return Toys(tmp_path)


@pytest.fixture
def house(toys: Toys) -> Toys:
    """Toys with the plugin `house` and nothing else."""
    return toys.house()


@pytest.fixture
def gap_limit() -> Json:
    return {"gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}]}


class Marks:
    """A language in which every sentence stands between marks, so that a test sees which are looked up."""

    language = "sw"
    """The program has no catalogue of it, and it writes the decimal point."""

    def __init__(self, locale: Path) -> None:
        self.locale = locale

    def mark(self, *folders: str, words: Iterable[str] = ()) -> None:
        """Let the language's catalogue hold the sentences of folders of core, and words that others mark."""
        catalogue = Catalog(locale=self.language)
        for sentence in sorted({str(said) for folder in folders for said in sentences(CORE / folder)} | set(words)):
            catalogue.add(sentence, f"«{sentence}»")
        path = self.locale / self.language / "LC_MESSAGES" / "marks.mo"
        path.parent.mkdir(parents=True)
        path.write_bytes(written(catalogue)[1])
        add_catalogues(self.locale)

    def off(self, text: str) -> str:
        """The text without the marks, and without the spaces by which columns are lined up."""
        return re.sub(r"[ \u00a0]+", " ", re.sub("[«»]", "", text))

    def leaves(self, data: Any, names: Container[str], name: str = "") -> Iterator[tuple[str, Any]]:
        """(name, value) of everything so named in JSON, in order."""
        inner = data.items() if isinstance(data, dict) else [(name, value) for value in data]
        for key, value in inner:
            if isinstance(value, dict | list):
                yield from self.leaves(value, names, key)
            elif key in names:
                yield key, value


@pytest.fixture
def marks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Marks:
    monkeypatch.setattr("afield.core.language.speech._folders", {OWN: None})
    return Marks(tmp_path / "locale")
