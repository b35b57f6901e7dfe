"""The section of the briefing on where the station can stand; made only where it is asked for.

The search and the drawing are imported when they are used: most briefings are made without them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.core.api import Engine, Section, Solution, Solver

Json = Mapping[str, Any]
PACKAGE = "afield.plugins.geometry"
TITLE = "Where the station can stand"
PART = "placement_part.html"
"""The template that the briefing and the page of `afield place` share."""
WHICH = ("nearest", "best")
SAMPLES = (
    *("region", "window", "place", "plan", "access", "line", "corridor", "point"),
    *("area 0", "area 1", "area 2", "area 3", "zone"),
    *("fits", "does not fit", "cannot tell", "planned", "best"),
)
"""What the keys of map and rose may show a sample of."""


def placement_section() -> Section:
    """The section."""
    return Section(
        name="place",
        title=TITLE,
        order=115,
        wants=(),
        data=_data,
        schema=_schema("sections", "place.json"),
        template=PART,
        package=PACKAGE,
        figures=figures(),
        text=_text,
        files={f"placement.{kind}": _file(kind) for kind in ("geojson", "gpx", "kml")},
        solver=Solver(
            function="afield.plugins.geometry.placement.section:solve",
            command="place",
            schema=_schema("placement.json"),
            settings=("within", "around", "from", "accuracy"),
        ),
    )


def solve(trip: Any, engine: Engine, settings: Mapping[str, str]) -> Solution:
    """The answer of `afield place` for the trip.

    Raises:
        UsageError: a setting is none, or the plan leaves nothing to be placed.
        InputError: the plan's position is none.

    """
    from afield.plugins.geometry.placement.asking import Flags, placed, wanted
    from afield.plugins.geometry.placement.telling import Teller

    asked = wanted(settings, Flags("--set place.", "="))
    with Teller() as teller:
        found, crashes = placed(trip, engine, asked, teller.tell)
    return Solution(found, crashes)


def figures() -> dict[str, Callable[[Json], str]]:
    """The drawings by name, each made from the section's data with its solution."""
    stations = {f"there {which}": _station(which) for which in WHICH}
    return {"map": _map, "rose": _rose, **stations, **{name: _sample(name) for name in SAMPLES}}


def _data(given: Json) -> Json:
    from afield.plugins.geometry.placement.section_data import section_data

    return section_data(given["solution"])


def _text(data: Json) -> str:
    from afield.plugins.geometry.placement.text import section_text

    return section_text(data)


def _map(data: Json) -> str:
    from afield.plugins.geometry.placement.figures import placement_figure

    return placement_figure(data["solution"])


def _rose(data: Json) -> str:
    from afield.plugins.geometry.placement.rose import rose_figure

    return rose_figure(data["solution"]["bearings"])


def _station(which: str) -> Callable[[Json], str]:
    def drawn(data: Json) -> str:
        from afield.plugins.geometry.placement.figures import station_figure

        return station_figure(data["solution"], which)

    return drawn


def _sample(name: str) -> Callable[[Json], str]:
    def drawn(data: Json) -> str:
        from afield.plugins.geometry.placement.figures import samples

        return samples()[name]

    return drawn


def _file(kind: str) -> Callable[[Json], str]:
    def written(data: Json) -> str:
        from afield.plugins.geometry.placement import exports

        text: str = getattr(exports, kind)(data["solution"])
        return text

    return written


def _schema(*path: str) -> dict[str, Any]:
    import json
    from importlib.resources import files

    schema: dict[str, Any] = json.loads(files("afield.schemas").joinpath(*path).read_text("utf-8"))
    return schema
