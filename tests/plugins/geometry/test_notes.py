"""Sentences that are kept in English, and said in the language that is spoken when they are told."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from contextlib import AbstractContextManager

import pytest

from afield.plugins.geometry.computations.repair import cleaned_polygons
from afield.plugins.geometry.notes import Digits, Note, said
from afield.plugins.geometry.readers.shapes import notes_of

German = Callable[[], AbstractContextManager[None]]

CURVED = "{file}: curved edges were cut into straight ones, off by up to {share} % of their radius."


def test_a_note_is_its_english_sentence_wherever_it_is_kept(in_german: German) -> None:
    with in_german():
        note = Note(CURVED, file="roads.gpkg", share=0.06)
        kept = json.loads(json.dumps([note]))
    assert kept == ["roads.gpkg: curved edges were cut into straight ones, off by up to 0.06 % of their radius."]


def test_a_note_is_said_in_the_language_spoken_then(in_german: German) -> None:
    note = Note(CURVED, file="v1.5.gpkg", share=0.06)
    with in_german():
        told = said([note, "a plain text"])
    assert told == (
        "v1.5.gpkg: Gebogene Kanten wurden in gerade zerlegt, mit einer Abweichung von bis zu 0,06 % ihres Radius.",
        "a plain text",
    )
    assert said([note]) == (str(note),)


def test_digits_keep_their_places(in_german: German) -> None:
    sentence = "the farthest point is found to within {distance} m only: the shapes are very detailed"
    note = Note(sentence, distance=Digits("0.120"))
    with in_german():
        assert said([note])[0].startswith("der fernste Punkt ist nur auf 0,120 m genau gefunden")
    assert "0.120 m only" in note


def test_a_note_within_a_note_is_said_too(in_german: German) -> None:
    square = [[0, 0], [0, 1], [0, 1], [1, 1], [1, 0], [0, 0]]
    notes = cleaned_polygons([[square]])[1]
    assert notes == ("ring 1 of polygon 1 repeats 1 of its points: left out",)
    with in_german():
        assert said(notes) == ("Ring 1 von Polygon 1 wiederholt 1 seiner Punkte: weggelassen",)


@pytest.mark.parametrize(
    ("count", "english", "german"),
    [
        (1, "a: 1 feature without a geometry was left out.", "a: 1 Objekt ohne Geometrie wurde weggelassen."),
        (2, "a: 2 features without a geometry were left out.", "a: 2 Objekte ohne Geometrie wurden weggelassen."),
    ],
)
def test_one_and_many(count: int, english: str, german: str, in_german: German) -> None:
    notes = notes_of("a", Counter({"no geometry": count}))
    with in_german():
        assert (notes, said(notes)) == ([english], (german,))
