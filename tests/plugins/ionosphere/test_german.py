"""The band outlook in German: no sentence without a translation, room for longer names, and whole lines."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from afield.core.briefing.page import _section_html
from afield.core.engine import Engine, load
from afield.core.language import missing, speaking
from afield.core.testing.catalogues import sentences
from afield.plugins import ionosphere
from afield.plugins.ionosphere.computations import iri
from afield.plugins.ionosphere.section import sections

from .test_facts import EVENING, SLOTS, SUN, engine, made, outlook, plan, section

__all__ = ["made", "plan"]
Made = Callable[..., dict[str, Any]]


OWN = {each if isinstance(each, str) else each[0] for each in sentences(Path(ionosphere.__file__).parent)}
"""What the plugin itself says; names and words of others may pass through as they are."""


@pytest.fixture(autouse=True)
def german() -> Iterator[None]:
    """German, with the catalogues of all plugins; at the end nothing may have lacked a translation."""
    Engine()
    with speaking("de"):
        yield
        assert not missing() & OWN


def text_of(data: Any) -> str:
    text = sections()[0].text
    assert text is not None
    return text(data)


def test_the_chart_is_in_german_and_its_names_have_room(made: Made) -> None:
    data = section(made(SLOTS + SUN))
    lines = text_of(data).splitlines()
    assert lines[:2] == [
        "# offen; grenzwertig: + nahe der nutzbaren Frequenz, ~ schwach",
        "geschlossen: . Frequenz zu hoch, - zu schwach; t Tag, n Nacht, * auf Sendung",
    ]
    assert lines[3] == "UTC          19 20 21 22 23 00 01 02 03"
    assert lines[5:8] == [
        "Sonne         t  n  n  n  n  n  n  n  n",
        "auf Sendung            *  *  *  *",
        "gesendet      a  a  a  a  a  b  b  b  b",
    ]
    drawn = sections()[0].figures["panel 2"](data)
    assert 'aria-label="Funkweg von 3000 km, Stunde für Stunde: 160 m offen um 20, 21, 22, 23 UTC; ' in drawn
    place = re.search(r'x="([0-9.]+)"[^>]*text-anchor="end">auf Sendung<', drawn)
    assert place is not None
    assert float(place[1]) > len("auf Sendung") * 5.9


def test_the_page_is_in_german(made: Made) -> None:
    page = str(_section_html(sections()[0], section(made(SLOTS + SUN))))
    for words in (
        "<b>grenzwertig</b>: höchstens 20 % neben der nutzbaren Frequenz",
        "Sendeleistung und Betriebsart, in der Zeile „gesendet“: a: 100 W, CW; b: 5 W, SSB.",
        "Ortszeit ist die von Europe/Berlin.",
        "und von 04:35 (28. Juni) bis",
        "Steilstrahlweg von 200 km",
    ):
        assert words in page, words
    assert re.search(r"<td>Beginn bei [0-9]+ km, Ende bei [0-9]+ bis [0-9]{4} km</td>", page)
    assert not {"the", "of", "not", "is"} & set(re.sub(r"<[^>]*>", " ", page).split())


def test_what_is_assumed_is_said_in_german(made: Made) -> None:
    lines = EVENING.replace("mode: CW, power: 10 W", "mode: RTTY, power: 0.5 W") + SUN
    basis = section(made(lines))["chart"]["basis"]  # type: ignore[index]
    assert basis[0].endswith("CCIR-Karten, Monatsmedian; solarer Flux 120 (Sonnenfleckenzahl 71).")
    assert basis[1].startswith("0,5 W, SSB, beide Antennen zusammen 6 dB, Rauschen wie in ländlicher Lage an der ")
    assert basis[2] == "Was RTTY braucht, ist nicht bekannt: SSB, das am meisten braucht, wird angenommen."
    zero = outlook(made(EVENING.replace("mode: CW, power: 10 W", "power: 0 W") + SUN))
    assert zero["notes"] == [
        "Die Sendeleistung ist mit 0 W angegeben, es wird nichts gesendet: 10 W werden angenommen, wie für eine "
        "Station, die zu hören wäre.",
        "Die Betriebsart ist nicht angegeben: CW wird angenommen.",
    ]


def test_a_missing_library_is_said_in_german(made: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PyIRI", None)
    iri._layers.cache_clear()
    found = made(EVENING + SUN)
    told = "PyIRI, das die Ionosphäre kennt, ist nicht installiert"
    # What settles it is read by the program, and stays as it is.
    assert (outlook(found)["reason"]["text"], outlook(found)["reason"]["settle"]) == (
        told,
        "install afield[ionosphere]",
    )
    assert section(found) == {"missing": f"{told}; afield[ionosphere] installieren", "chart": None}


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (EVENING.replace("39.90412", "82.5"), "die Breite 82,5° liegt jenseits von 80°, wo die Karten wenig sagen; "),
        (
            EVENING.replace("station:", "date: 2090-06-27\nstation:"),
            "das Jahr 2090 liegt außerhalb von 1965 bis ",
        ),
    ],
)
def test_where_the_model_ends_is_said_in_german(plan: Callable[[str], Path], lines: str, told: str) -> None:
    path = plan(lines + SUN)
    text = path.read_text()
    path.write_text(text.replace("date: 2026-06-27\n", "") if text.count("date: ") > 1 else text)
    reason = load(path, engine()).world.value("trip", "bands.outlook").reason
    assert reason is not None
    assert reason.text.startswith(told)


GROUND = """\
station:
  at: {lat: 39.90412, lon: -117.30288, accuracy: 5 m}
  ground: fresh water
  parts:
    - {name: table, role: operating position, at: [0 m, 0 m]}
    - {name: whip, role: antenna, at: [2 m, 2 m], height: 5 m}
schedule: {arrive: "14:45", leave: "21:15", band: 40m, zone: America/Los_Angeles}
"""


def test_the_ground_is_in_german(plan: Callable[[str], Path]) -> None:
    world = load(plan(GROUND), engine()).world
    water = world.value("trip", "ground.conductivity")
    assert water.method == "ITU-R P.527-3, Bild 1"
    assert water.notes[0].startswith("Süßwasser leitet 2500-mal schlechter als das Meer: ein Erddraht im See ist ")
    gain = world.value("part:whip", "part.low_angle_gain")
    assert "Bodenkonstanten (Süßwasser)" in gain.parts
    assert (gain.detail["wave"], gain.detail["middle"]) == ("vertikal", "2,5")
    assert gain.detail["frequency"] == "7.1"
