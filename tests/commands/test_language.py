"""`--language`: anywhere in the line, or by the environment; what the program does not speak is refused."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from afield.core.cli.languages import asked_language

from .conftest import Run


@pytest.mark.parametrize(
    "line",
    [["--language", "de", "check", "trip.yaml"], ["check", "trip.yaml", "--language=de"],
     ["check", "--language", "de", "trip.yaml"]],
)  # fmt: skip
def test_the_option_may_stand_anywhere(line: list[str]) -> None:
    assert asked_language(line) == ("de", ["check", "trip.yaml"])


def test_the_option_goes_before_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("AFIELD_LANGUAGE", "de")
    assert asked_language(["check"]) == ("de", ["check"])
    assert asked_language(["check", "--language", "en"]) == ("en", ["check"])
    monkeypatch.setenv("AFIELD_LANGUAGE", "")
    assert asked_language(["check"]) == ("en", ["check"])


@pytest.mark.parametrize(
    ("line", "told"),
    [
        (["--language", "xx", "check", "trip.yaml"], '--language: there is no language "xx"'),
        (["check", "trip.yaml", "--language"], "--language: no language is named"),
        (["check", "trip.yaml", "--language="], "--language: no language is named"),
    ],
)
def test_a_language_that_is_not_spoken_is_refused(base: Path, run: Run, line: list[str], told: str) -> None:
    assert run(*line) == (2, "", f'{told}\n    = Languages: "de", "en".\n')


def test_one_of_the_environment_is_refused_by_its_name(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("AFIELD_LANGUAGE", "de_DE")
    assert run("check", "trip.yaml") == (
        2, "", 'AFIELD_LANGUAGE: there is no language "de_DE"\n    = Languages: "de", "en".\n',
    )  # fmt: skip


ENGLISH = frozenset(
    [
        "the",
        "and",
        "of",
        "with",
        "which",
        "that",
        "from",
        "not",
        "are",
        "is",
        "or",
        "to",
        "by",
        "for",
        "on",
        "at",
        "as",
        "it",
        "be",
        "this",
        "where",
        "when",
        "what",
        "whether",
        "has",
        "have",
        "than",
        "no",
        "yes",
        "if",
        "each",
        "all",
        "more",
        "less",
        "only",
        "found",
        "stated",
        "taken",
        "unknown",
        "within",
        "without",
        "passed",
        "failed",
        "required",
    ]
)
"""Words that hardly a sentence does without, and that are none of German."""


def names_of(report: dict[str, Any]) -> Iterator[str]:
    """What is a name, and stays as it is: documents and what they call their parts, places, programs, things."""
    for source in (*report["sources"], *(s for v in report["verdicts"] for s in v["sources"])):
        yield from (str(source[key]) for key in ("document", "section", "edition") if source.get(key))
    for subject in report["subjects"]:
        yield from (str(subject[key]) for key in ("label", "title") if subject[key])
    yield from (str(pack[key]) for pack in report["run"]["packs"] for key in ("title", "publisher", "licence"))
    yield from ("common practice", "US CPSC, warnings with antennas")


def written_in(folder: Path) -> Iterator[str]:
    """What a plan and its kits say, which are the user's own words, or a catalogue of things, which are names."""
    for path in sorted(folder.rglob("*.yaml")):
        yield from _texts(YAML(typ="safe", pure=True).load(path.read_text(encoding="utf-8")))


def _texts(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        yield from (str(key) for key in data)
    if isinstance(data, dict | list):
        yield from (text for value in (data.values() if isinstance(data, dict) else data) for text in _texts(value))
    elif isinstance(data, str) and len(data) > 3:
        yield data


def english_in(text: str, report: dict[str, Any], own: Iterable[str] = ()) -> list[str]:
    """The lines of a text that still hold English, names and the user's own words taken out."""
    plain = re.sub(r"\s+", " ", text)
    for name in sorted({*names_of(report), *own}, key=len, reverse=True):
        plain = plain.replace(name, "")
    plain = re.sub(r"`[^`]*`|\S+[./_]\S+|[\w-]+-[\w-]+", " ", plain)
    return [
        piece for piece in re.split(r"[.;:?!()] ", plain) if ENGLISH & set(re.findall(r"\b[a-zäöüß]+\b", piece.lower()))
    ]


@pytest.mark.parametrize("variant", [None, "with-amplifier", "hundred-watts", "boat"])
def test_the_demo_s_briefing_is_german_throughout(tmp_path: Path, run: Run, variant: str | None) -> None:
    run("demo", str(tmp_path / "demo"))
    plan, folder = tmp_path / "demo" / "trip.yaml", tmp_path / "german"
    chosen = ["--variant", variant] if variant else []
    status, out, err = run("--language", "de", "brief", str(plan), "-o", str(folder), *chosen)
    assert (status, err) == (0, "")
    assert out == f"{folder / 'briefing.html'} ist geschrieben; zum Drucken, oder auf dem Telefon zu öffnen.\n"
    report = json.loads((folder / "report.json").read_text(encoding="utf-8"))
    catalogue = Path(str(files("afield.programs").joinpath("catalogue")))
    own = [*written_in(tmp_path / "demo"), *written_in(catalogue)]
    assert english_in((folder / "briefing.txt").read_text(encoding="utf-8"), report, own) == []
    page = (folder / "briefing.html").read_text(encoding="utf-8")
    assert '<html lang="de">' in page
    shown = re.sub(r"<style>.*?</style>|<code>.*?</code>|<[^>]+>", " ", page, flags=re.DOTALL)
    assert english_in(html.unescape(shown), report, own) == []


def test_english_is_found_where_it_is() -> None:
    report: Any = {"sources": [], "verdicts": [], "subjects": [], "run": {"packs": []}}
    assert english_in("Die Station steht im Gebiet. Keep clear of the road.", report) == ["Keep clear of the road."]
