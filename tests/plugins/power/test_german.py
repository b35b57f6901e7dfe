"""Power in German: whole sentences where it is shown, origins and codes as they are."""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.core.api import CannotTell
from afield.core.engine import Engine, judge, load, report
from afield.core.language import _, add_catalogues, missing, speaking
from afield.plugins.power import plugin
from afield.plugins.power.battery.cells import CHEMISTRIES
from afield.plugins.power.energy.figures import charge_figure
from afield.plugins.power.energy.section import energy_section, energy_text
from afield.plugins.power.stated import Thing

KIT = """\
items:
  - {name: Gerät, is: hf-radio-10-w}
  - {name: Akku, is: lithium-iron-battery-6-ah}
  - {name: Kabel, is: dc-lead-coaxial}
"""
PLAN = """\
trip: Ein Tag
date: 2026-06-27
packs: [gear]
kit: [kit.yaml]
schedule: {arrive: "13:00", on_air: ["14:00", "18:00"], leave: "19:00", mode: SSB, power: 10 W}
"""


@pytest.fixture(autouse=True)
def german() -> Iterator[None]:
    add_catalogues(Path(plugin.__file__).parent / "locale")
    with speaking("de"):
        yield


@pytest.fixture
def data(tmp_path: Path) -> dict[str, Any]:
    (tmp_path / "kit.yaml").write_text(KIT, encoding="utf-8")
    (tmp_path / "trip.yaml").write_text(PLAN, encoding="utf-8")
    engine = Engine()
    made = report(judge(load(tmp_path / "trip.yaml", engine), engine), engine, briefing=True)
    assert engine.failures() == []
    (found,) = [section["data"] for section in made["sections"] if section["name"] == "energy"]
    Draft202012Validator(dict(energy_section().schema)).validate(found)
    assert isinstance(found, dict)
    return found


def test_the_energy_as_text(data: Any) -> None:
    lines = energy_text(data).split("\n")
    assert lines[0] == "Akku: Lithium-Eisenphosphat, 6 Ah, 69 Wh nutzbar"
    heads = ("Energieverbrauch:  ", "Kleinste Restladung:  ", "Leer nach Ankunft:  ", "Längste Zeit auf Sendung:  ",
             "Kleinste genügende Kapazität: ")  # fmt: skip
    for line, head in zip(lines[1:6], heads, strict=True):
        assert line.startswith(head)
    assert lines[6].startswith("  Gerät: ") and lines[6].endswith(" W bei Empfang") and "," in lines[6]
    assert "- Akku ist nach Annahme bei Ankunft voll, auf 5 % genau (übliche Praxis, ohne Quelle)." in lines
    assert not [line for line in lines if " the " in line or " is " in line]


def test_a_long_name_keeps_its_distance_from_the_figure(data: Any) -> None:
    data["batteries"][0]["rows"][0]["name"] = "Ein Name, der länger ist als die ganze Spalte"
    assert "Ein Name, der länger ist als die ganze Spalte: " in energy_text(data)


def test_the_chart_says_it_too(data: Any) -> None:
    told = charge_figure(0, data)
    assert 'aria-label="Nutzbare Ladung von Akku über der Zeit"' in told
    assert ">noch 20 %</text>" in told


def test_an_origin_is_the_same_in_every_language() -> None:
    figure = Thing("akku", "Akku").figure("capacity", 6.0, "battery.capacity")
    assert figure.origin == "capacity of Akku"
    assert figure.notes == ("Werte der Ausrüstung gelten als auf ± 5 % genau (95 %; übliche Praxis, ohne Quelle).",)


def test_what_is_not_stated_and_where_to_write_it() -> None:
    silent = Thing("akku", "Akku").silent("the battery of {name} is not described", "battery")
    assert isinstance(silent, CannotTell)
    reason = silent.reason
    assert (reason.code, reason.subject) == ("not stated", "item:akku")
    assert (reason.text, reason.settle) == (
        "der Akku von Akku ist nicht beschrieben",
        "battery von Akku in der Ausrüstung",
    )


def test_every_word_of_batteries_and_loads_is_said() -> None:
    definitions = json.loads(files("afield.schemas").joinpath("kit.json").read_text("utf-8"))["$defs"]
    words = {*CHEMISTRIES, *definitions["battery"]["properties"]["chemistry"]["enum"]}
    words |= set(definitions["load"]["properties"]["state"]["enum"])
    assert len(words) > 8
    for word in words:
        _(word)
    assert not missing() & words
