"""How a catalogue is laid out in its SQLite file, and the error of one that cannot be used."""

from __future__ import annotations

APPLICATION_ID = 0x41666C64
"""Tells a catalogue from any other SQLite file (SQLite file format, 1.3.15); the letters Afld."""
VERSION = 1
"""Of the tables below, in `PRAGMA user_version`; a catalogue of another version is built again from its files."""

TABLES = """
CREATE TABLE layer (
    id INTEGER PRIMARY KEY, file TEXT NOT NULL, name TEXT NOT NULL, sha256 TEXT NOT NULL, crs TEXT NOT NULL,
    edge_model TEXT NOT NULL, datum_accuracy_m REAL, source TEXT, licence TEXT, dated TEXT,
    map_accuracy TEXT, map_accuracy_m REAL, level INTEGER, notes TEXT NOT NULL
);
CREATE TABLE reference (
    id INTEGER PRIMARY KEY, layer INTEGER NOT NULL REFERENCES layer, program TEXT NOT NULL, name TEXT NOT NULL,
    kind TEXT NOT NULL, plain INTEGER NOT NULL, doubt_m REAL NOT NULL
);
CREATE TABLE shape (
    id INTEGER PRIMARY KEY, reference INTEGER NOT NULL REFERENCES reference, part INTEGER NOT NULL,
    rings BLOB NOT NULL, degrees BLOB NOT NULL
);
CREATE VIRTUAL TABLE box USING rtree(id, west, east, south, north, +shape INTEGER, +reference INTEGER);
"""
"""An area has a shape for each of its polygons, a point one for each point; a line is cut into pieces, each a shape of
the same `part` that begins where the one before ended. `rings` counts the vertices of each ring; `degrees` holds all
latitudes, then all longitudes, which run on past 180 without a jump. `plain`: what the quick measures are right for."""

INDEXES = """
CREATE UNIQUE INDEX reference_name ON reference (program, name);
CREATE INDEX name_alone ON reference (name);
CREATE INDEX shape_reference ON shape (reference);
"""
"""Made last, when all rows are in."""

PIECE_VERTICES = 64
"""The most vertices of a piece of a line, and of the piece of a ring that is passed over or measured as one."""
LONGEST_EDGE_M = 10_000.0
"""A geodesic up to this long is a straight line of the plane of a place within 50 km of it, but for 1.1 cm."""
STEEPEST_DEG = 88.0
"""Nearer to a pole the quick measures are not used."""


class CatalogueError(Exception):
    """A catalogue, or what is to go into one, cannot be used: which file, what is wrong, what to do about it."""

    def __init__(self, file: str, what: str, advice: str) -> None:
        super().__init__(f"{file}: {what}\n{advice}")
        self.file, self.what, self.advice = file, what, advice
