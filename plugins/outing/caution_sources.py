"""The sources of the figures on the cautions page, each with its letter and its grade."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import _, marked

PUBLISHED, PRACTICE, FROM_MEMORY = marked("published"), marked("common practice"), marked("from memory")
"""Grades of sources."""


def _source(key: str, document: str, section: str | None, edition: str | None, grade: str) -> dict[str, Any]:
    return {"key": key, "document": document, "section": section, "edition": edition, "grade": grade}


SOURCES = [
    _source("a", marked("US CPSC, warnings with antennas"), "16 CFR 1402", marked("as of 2007"), PUBLISHED),
    _source("b", marked("Practice among operators and sellers"), None, None, PRACTICE),
    _source("c", marked("US OSHA, equipment near power lines"), "29 CFR 1926.1408, Table A", "2010", PUBLISHED),
    _source("d", marked("US NOAA severe storms laboratory, 30-30 rule"), None, marked("undated page"), PUBLISHED),
    _source("e", marked("US FCC, limits of exposure"), "47 CFR 1.1310", marked("in force since 3 May 2021"), PUBLISHED),
    _source("f", marked("ASCE 7, velocity pressure q = 0.613 V²"), "V in m/s, q in Pa", marked("SI form"), FROM_MEMORY),
    _source("g", marked("Cold water teaching, the 1-10-1 rule"), None, None, PRACTICE),
    _source("h", marked("US weather service, heat index"), "Technical Attachment SR 90-23", "1990", PUBLISHED),
    _source("i", marked("US weather service, wind chill chart"), None, "2001", PUBLISHED),
    _source(
        "j", marked("US TSA and FAA, lithium batteries; IATA dangerous goods"), None, marked("undated page"), PUBLISHED
    ),
]


def said_source(source: Mapping[str, Any]) -> dict[str, Any]:
    """A source in the reader's language: what is cited of it, and its grade, stay as they are."""
    edition = source["edition"]
    # A year is no sentence.
    words = edition if edition is None or edition.isdigit() else _(edition)
    return {**source, "document": _(source["document"]), "edition": words}
