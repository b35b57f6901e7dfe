"""An outing: a plan in a folder of its own, and what the plugin makes of its times."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from afield.core.documents import InputError
from afield.core.engine import Engine, judge, load, report
from afield.core.host.loading import PluginInfo, new_host
from afield.core.language import speaking, speech
from afield.plugins.geometry import plugin as geometry
from afield.plugins.outing import plugin as outing
from afield.plugins.timing import plugin as timing

LOCALE = Path(timing.__file__).parent / "locale"
PACK = """\
id: watch
version: "1.0.0"
title: Watch
publisher: the tests
licence: MIT
judges: trip
needs: [outing, timing]
date_basis: utc
review_every: 365 days
sources: [{document: Watch book, publisher: the tests, edition: "2026", grade: invented}]
"""
SOURCE = 'source: {document: Watch book, section: "1", grade: invented, last_checked: 2026-05-02}'
RULES = f"""\
rules:
  - id: there
    title: It is said when one is there
    why: Somebody may wait.
    severity: note
    for_each: trip
    require: {{fact: trip.date, exists: true}}
    {SOURCE}
"""
PLACES = {
    "desert": (39.90412, -117.30288),
    "denver": (39.7392, -104.9903),
    "kathmandu": (27.7172, 85.324),
    "chatham": (-43.95, -176.55),
    "auckland": (-36.85, 174.76),
    "berlin": (52.5, 13.4),
    "london": (51.5, -0.1),
    "svalbard": (78.22, 15.64),
    "ocean": (0.0, -30.0),
}


class Outing:
    """A plan with a schedule, at a place of PLACES."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        host = new_host()
        for name, module in {"outing": outing, "geometry": geometry, "timing": timing}.items():
            host.add(module, PluginInfo(name, "afield", "0.1.0"))
        self.engine = Engine(host)
        self.file("watch/pack.yaml", PACK)
        self.file("watch/rules.yaml", RULES)

    def file(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    def rules(self, *rules: str) -> None:
        """Replace the pack's rules."""
        self.file("watch/rules.yaml", "rules:\n" + "\n".join(f"{rule}\n    {SOURCE}" for rule in rules) + "\n")

    def plan(
        self,
        place: str | None,
        date: str,
        schedule: str,
        more: str = "",
        accuracy: str = ", accuracy: 5 m, level: 68 %",
    ) -> Path:
        lat, lon = PLACES[place] if place else (0.0, 0.0)
        lines = [f"trip: An outing\ndate: {date}\npacks: [watch]"]
        lines += [f"station: {{at: {{lat: {lat}, lon: {lon}{accuracy}}}}}"] if place else []
        return self.file("trip.yaml", "\n".join([*lines, f"schedule: {{{schedule}}}" if schedule else "", more]) + "\n")

    def facts(self, path: Path) -> Facts:
        """The facts of the plan."""
        trip = load(path, self.engine)
        assert self.engine.failures() == []
        return Facts(trip.world)

    def report(self, path: Path) -> dict[str, Any]:
        made = report(judge(load(path, self.engine), self.engine), self.engine, briefing=True)
        assert self.engine.failures() == []
        assert not [warning["what"] for warning in made["warnings"] if "failed" in warning["what"]]
        return made

    def section(self, path: Path) -> dict[str, Any]:
        """The data of the timeline."""
        return next(section["data"] for section in self.report(path)["sections"] if section["name"] == "timeline")

    def complaint(self, path: Path, fact: str = "schedule.instants") -> str:
        """All that is said of a plan whose times are wrong."""
        with pytest.raises(InputError) as refused:
            self.facts(path).record(fact)
        return refused.value.text(verbose=True)


class Facts:
    """Values and records by fact name, of the trip or of another subject."""

    def __init__(self, world: Any) -> None:
        self.world = world

    def record(self, fact: str, subject: str = "trip") -> Any:
        found = self.world.value(subject, fact)
        assert [crash.text for crash in self.world.crashes] == []
        return found

    def __getitem__(self, fact: str) -> Any:
        record = self.record(fact)
        assert record.known, record.reason
        return record.value

    def of(self, subject: str, fact: str) -> Any:
        record = self.record(fact, subject)
        assert record.known, record.reason
        return record.value

    def reason(self, fact: str, subject: str = "trip") -> tuple[str, str, str | None]:
        """Code, text and what settles a fact that cannot be told."""
        reason = self.record(fact, subject).reason
        assert reason is not None
        return reason.code, reason.text, reason.settle


@pytest.fixture
def outing_of(tmp_path: Path) -> Outing:
    return Outing(tmp_path)


@pytest.fixture
def german(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """German, by the catalogues of the program and of this plugin."""
    monkeypatch.setattr(speech, "_folders", {speech.OWN: None, LOCALE: None})
    with speaking("de"):
        yield
