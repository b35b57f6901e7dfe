"""Catalogues are the same in every language; what lies near a position is said in the reader's."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

from afield.plugins.geometry.catalogue.asked import position_asked, within_m
from afield.plugins.geometry.catalogue.findings import findings
from afield.plugins.geometry.catalogue.opening import opened
from afield.plugins.geometry.catalogue.saying import near_text

from .conftest import Made, collection, feature, square

German = Callable[[], AbstractContextManager[None]]

HERE = "39.90412, -117.30288"
SHAPES = [
    feature("wash", "Polygon", [square(-117.3, 39.9, 0.01)]),
    feature("trail", "LineString", [[-117.31, 39.91], [-117.29, 39.91]]),
    {"type": "Feature", "properties": {"name": "lost"}, "geometry": None},
]


def test_a_catalogue_holds_english_notes_whoever_builds_it(made: Made, tmp_path: Path, in_german: German) -> None:
    with in_german():
        made({"all.geojson": collection(SHAPES)})
    with sqlite3.connect(tmp_path / "refs.sqlite") as connection:
        ((notes,),) = connection.execute("SELECT notes FROM layer").fetchall()
    assert notes == '["all.geojson: 1 feature without a geometry was left out."]'


def test_what_lies_near_in_german(made: Made, tmp_path: Path, in_german: German) -> None:
    made({"all.geojson": collection(SHAPES)})
    with in_german(), opened(tmp_path / "refs.sqlite", "refs.sqlite") as connection:
        asked = position_asked(HERE, "5 m", "95%")
        found = findings(connection, "refs.sqlite", asked, within_m("5 km"), 25.0)
        told = near_text(found).splitlines()
    assert [each["towards"] for each in found["references"]] == ["west", "north"]
    assert told == [
        "39.90412, -117.30288 (WGS 84, aus lat/lon)",
        "Referenzen im Umkreis von 5 km, aus 2 Referenzen in refs.sqlite:",
        "  wash (Gebiet)",
        told[3],
        "    eine Station, die von dort 25 m (82 ft) weit reicht, liegt als Ganzes innerhalb, in welcher Richtung auch "
        "immer",
        "  trail (Linie)",
        told[6],
        told[7],
        "Alle zugleich nehmen eine solche Station als Ganzes auf: wash",
        "Was zählt, sagen die Regeln jedes Programms: mit --trip beurteilen.",
        "Quelle: all.geojson#all: county survey, 2021, open, Kanten nach lonlat",
    ]
    assert told[3].startswith("    innerhalb: ")
    assert told[3].endswith(" bis zur Gebietsgrenze, rechtweisend 270° (West)")
    assert told[6].endswith(" bis zur Linie, rechtweisend 000° (Nord)")
    assert " ist kein Teil weiter als " in told[7]
