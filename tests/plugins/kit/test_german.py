"""The kit in German: whole sentences where it is shown, codes and keys as they are."""

from __future__ import annotations

import json
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.core.documents import read_document
from afield.core.language import _, add_catalogues, missing, speaking
from afield.plugins.kit import plugin
from afield.plugins.kit.assembling import kit_of
from afield.plugins.kit.packing_section import packing_section, packing_text
from afield.plugins.kit.picture.drawing import wiring_picture
from afield.plugins.kit.wiring import wired
from afield.plugins.kit.words import ANY_ROLE

GAP = """\
items:
  - {name: Gerät, is: hf-radio-100-w, bag: Koffer}
  - {name: Strahler, is: telescopic-whip-hf, bag: Koffer}
  - {name: Bleistift}
chains: [{role: RF, from: Gerät, to: Strahler}]
"""


@pytest.fixture(autouse=True)
def catalogue() -> None:
    add_catalogues(Path(plugin.__file__).parent / "locale")


@pytest.fixture
def german() -> Iterator[None]:
    with speaking("de"):
        yield


@pytest.fixture
def data(bag: Any, german: None) -> dict[str, Any]:
    made = bag.report(GAP)
    (section,) = [section for section in made["sections"] if section["name"] == "packing"]
    found: dict[str, Any] = section["data"]
    return found


def test_the_packing_list_as_text(data: Any) -> None:
    assert packing_text(data) == (
        "Koffer: 3,5 kg ± 0,6 kg (95 %)\n"
        "[ ] Strahler (Antenne, 0,80 kg)\n"
        "[ ] Gerät (Funkgerät, 2,7 kg)\n"
        "\n"
        "Noch in keiner Tasche: keine Massen angegeben\n"
        "[ ] Bleistift\n"
        "\n"
        "Insgesamt 3 Gegenstände, 3,5 kg ± 0,6 kg (95 %) und 1 Gegenstand ohne angegebene Masse\n"
        "\n"
        "UNVOLLSTÄNDIG: HF von Gerät zu Strahler\n"
        "  o   o  nötig: Leitung von Gerät.antenna zu Strahler.feed (Stecker UHF an Stecker UHF) [FEHLT]\n"
        "         nichts verbindet Gerät mit Strahler\n"
        "\n"
        "Von Hand einzustellen\n"
        "[ ] Strahler abstimmen; kein Antennentuner ist daran angeschlossen"
    )


def test_what_is_compared_stays_as_it_is(data: Any) -> None:
    Draft202012Validator(dict(packing_section().schema)).validate(data)
    assert (data["chains"][0]["state"], data["chains"][0]["steps"][0]["mark"]) == ("incomplete", "missing")
    assert [box["note"] for box in data["picture"]["boxes"]] == ["radio", "antenna"]


def test_the_drawing_says_it_too(data: Any) -> None:
    told = wiring_picture(data)
    assert "<title>Wie die Ausrüstung verbunden ist</title>" in told
    assert "HF von Gerät zu Strahler: nötig: Leitung von Gerät.antenna zu Strahler.feed" in told
    assert ">Antenne</text>" in told


def test_a_kit_of_one_language_does_not_serve_in_another(bag: Any) -> None:
    bag.file("kit.yaml", GAP)
    plan = read_document(bag.plan(), "trip.yaml")
    titles = {}
    for language in ("en", "de", "en"):
        with speaking(language):
            (state,) = wired(kit_of(plan, bag.folder)).chains
            titles[language] = (state.chain.title, state.why)
    assert titles == {
        "en": ("RF from Gerät to Strahler", "nothing joins Gerät to Strahler"),
        "de": ("HF von Gerät zu Strahler", "nichts verbindet Gerät mit Strahler"),
    }


def test_the_name_of_an_item_is_not_translated(bag: Any, german: None) -> None:
    (joint,) = bag.wiring(
        "items:\n"
        "  - {name: key, class: key, ports: [{name: plug, connector: 3.5 mm jack, gender: male, role: keying, "
        "direction: source}]}\n"
        "  - {name: radio, class: meter, ports: [{name: key, connector: 3.5 mm jack, gender: female, role: keying, "
        "direction: sink}]}\n"
        "connections: [[key.plug, radio.key]]\n"
    ).joints
    assert joint.words == "key.plug an radio.key"


def chosen(*path: str) -> list[str]:
    """The words that a kit file chooses from at a place of its schema."""
    found = json.loads(files("afield.schemas").joinpath("kit.json").read_text("utf-8"))["$defs"]
    for step in path:
        found = found[step]
    return [str(word) for word in found["enum"]]


@pytest.mark.parametrize(
    "words",
    [chosen("item", "properties", "class"), chosen("port", "properties", "polarity"), list(ANY_ROLE)],
    ids=["class", "polarity", "role"],
)
def test_every_word_that_a_kit_file_chooses_from_is_said(words: list[str], german: None) -> None:
    assert len(words) > 3
    for word in words:
        _(word)
    assert not missing() & set(words)
