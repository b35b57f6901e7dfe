"""Small catalogues, made of GeoJSON that the tests write."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from afield.plugins.geometry.catalogue.building import Wanted, build
from afield.plugins.geometry.catalogue.naming import Naming
from afield.plugins.geometry.catalogue.rows import Counts, Provenance

STATED = Provenance("county survey", "open", "2021", "5 m", 5.0, 68)
Made = Callable[..., Counts]


def feature(name: str | None, kind: str, coordinates: Any, **properties: Any) -> dict[str, Any]:
    """A GeoJSON feature; positions are longitude, latitude."""
    named = {} if name is None else {"name": name}
    geometry = {"type": kind, "coordinates": coordinates}
    return {"type": "Feature", "properties": {**named, **properties}, "geometry": geometry}


def square(lon: float, lat: float, half: float) -> list[list[float]]:
    """A closed ring around a place."""
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)]
    return [[lon + half * east, lat + half * north] for east, north in corners]


def collection(features: Sequence[dict[str, Any]], **members: Any) -> str:
    """The text of a feature collection."""
    return json.dumps({"type": "FeatureCollection", **members, "features": list(features)})


@pytest.fixture
def made(tmp_path: Path) -> Made:
    """Builds `refs.sqlite` in the test's folder from texts by file name."""

    def build_of(files: dict[str, str], naming: Naming = Naming(), **more: Any) -> Counts:  # noqa: B008
        for name, text in files.items():
            (tmp_path / name).write_text(text, encoding="utf-8")
        wanted = [Wanted(tmp_path / name, name, more.pop("stated", STATED)) for name in files]
        return build(wanted, tmp_path / "refs.sqlite", naming, **more)

    return build_of
