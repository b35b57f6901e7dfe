"""The sections of the briefing that show where the station is: the map and the coordinates."""

from __future__ import annotations

from typing import Any

from afield.core.api import Section
from afield.plugins.geometry import coordinates_data, figures, map_data, plain, strokes

PACKAGE = "afield.plugins.geometry"


def sections() -> list[Section]:
    """The map and the coordinates."""
    return [_map_section(), _coordinates_section()]


def _map_section() -> Section:
    return Section(
        name="map",
        title="Map",
        order=100,
        wants=map_data.WANTS,
        data=map_data.map_data,
        schema=_schema("map"),
        template="map.html",
        package=PACKAGE,
        figures={"map": figures.map_figure, "overview": figures.overview_figure, **strokes.swatches()},
        text=plain.map_text,
    )


def _coordinates_section() -> Section:
    return Section(
        name="coordinates",
        title="Coordinates",
        order=110,
        wants=coordinates_data.WANTS,
        data=coordinates_data.coordinates_data,
        schema=_schema("coordinates"),
        template="coordinates.html",
        package=PACKAGE,
        text=plain.coordinates_text,
    )


def _schema(name: str) -> dict[str, Any]:
    import json
    from importlib.resources import files

    schema: dict[str, Any] = json.loads(files("afield.schemas").joinpath("sections", f"{name}.json").read_text("utf-8"))
    return schema
