"""Map and coordinates in German: words and decimal commas change, what is looked up does not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from typing import Any

import pytest

from afield.core.language import _, speaking
from afield.plugins.geometry.computations.footprints import point_part
from afield.plugins.geometry.computations.worst import Worst
from afield.plugins.geometry.coordinates_data import coordinates_data
from afield.plugins.geometry.figures import map_figure
from afield.plugins.geometry.map_data import map_data
from afield.plugins.geometry.margins import COMPASS_WORDS, _detail
from afield.plugins.geometry.plain import coordinates_text, map_text
from afield.plugins.geometry.reference_facts import ROLES
from afield.plugins.geometry.station_facts import Outline

German = Callable[[], AbstractContextManager[None]]

Facts = dict[str, dict[str, dict[str, Any]]]


@pytest.fixture(autouse=True)
def german(in_german: German) -> Iterator[None]:
    with in_german():
        yield


def made(facts: Facts) -> dict[str, Any]:
    data = map_data(facts)
    assert data is not None
    return data


def test_the_map_as_text(facts: Facts) -> None:
    assert map_text(made(facts)).splitlines() == [
        "table (Betriebsplatz): an der Position",
        "wire (Antenne, 6 m (19,7 ft) hoch): von der Position; bis 20 m (65,6 ft), rechtweisend 090°, "
        "nach Kompass 078°",
        "Cinder Crossing: Linie, aus einer Karte mit einer Genauigkeit von 3 m (9,8 ft) (95 %); Korridor 24,4 m "
        "(80 ft) zu jeder Seite",
        "die Position liegt innerhalb von 8,1 m (26,5 ft) um ihr Zeichen (95 %)",
        "Meter östlich und nördlich der Position der Station; oben ist rechtweisend Nord.",
    ]


def test_roles_stay_the_words_by_which_marks_are_looked_up(facts: Facts) -> None:
    assert [part["role"] for part in made(facts)["parts"]] == ["operating position", "antenna"]


def test_the_drawing_is_the_same_but_for_its_words(facts: Facts) -> None:
    figure = map_figure(made(facts))
    for word in ("N rechtweisend", "Kompass 12° O", "95-%-Kreis", 'aria-label="Karte der Station, maßstäblich"'):
        assert word in figure
    with speaking("en"):
        english = map_figure(made(facts))
    paths = [[piece.split('"')[0] for piece in each.split(' d="')[1:]] for each in (figure, english)]
    assert paths[0] == paths[1]


def test_at_anchor_the_circle_has_a_german_name_and_its_own_role(facts: Facts) -> None:
    facts["station.afloat"] = {"trip": {"value": {"state": "at anchor", "radius_m": 28.4}}}
    for record in facts["part.outline"].values():
        record["value"]["radius_m"] = 28.4
    anchor, circle = made(facts)["parts"]
    assert (anchor["name"], anchor["role"], circle["name"], circle["role"]) == (
        "Anker", "anchor", "Schwojkreis", "swing circle",
    )  # fmt: skip
    assert map_text(made(facts)).startswith("Anker: an der Position\nSchwojkreis: jedes kann irgendwo im Umkreis von")


def test_the_forms_of_a_position_are_not_touched(facts: Facts) -> None:
    data = coordinates_data(facts)
    assert data is not None
    assert coordinates_text(data).splitlines() == [
        "Dezimalgrad         39.90412, -117.30288",
        "Grad und Minuten    39° 54.247' N 117° 18.173' W",
        "UTM                 11S 474110 4417159",
        "Maidenhead-Locator  DM19iv36",
        "Bezugssystem WGS 84.",
        "Innerhalb von 5 m (16,4 ft) bei 68 % (das Niveau ist nicht angegeben; Telefone meinen 68 %), das heißt "
        "innerhalb von 8,1 m (26,5 ft) bei 95 %.",
        "Die Kompassnadel weist hier 12,1° östlich von rechtweisend Nord.",
    ]


def test_compass_words_and_roles_are_data_of_a_margin() -> None:
    worst = Worst(14.1, "wire", (0.0, 0.0), (10.0, 10.0), (1.0, 0.0))
    detail = _detail(worst, Outline("wire", "antenna", "point", [(0.0, 0.0)], point_part("wire", (0.0, 0.0))))
    assert (detail["towards"], detail["role"]) == ("north-east", "antenna")
    assert [_(word) for word in COMPASS_WORDS[:3]] == ["Nord", "Nordost", "Ost"]
    assert [_(role) for role in ROLES[:3]] == ["Betriebsplatz", "Antenne", "Speiseleitung"]
