"""A placement as one HTML file: no script, nothing fetched, every text escaped, nothing calculated in the template."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from afield.core.api import style_sheet, unbroken
from afield.plugins.geometry.figures import map_figure
from afield.plugins.geometry.placement import wording
from afield.plugins.geometry.placement.figures import names_of, placement_figure, swatches
from afield.plugins.geometry.placement.rose import rose_figure, rose_swatches

if TYPE_CHECKING:
    from jinja2 import Template

Json = Mapping[str, Any]
PACKAGE = "afield.plugins.geometry"


def placement_html(found: Json) -> str:
    """The whole page, made from the placement's JSON alone."""
    return _template().render(
        found=found,
        headline=wording.headline(found),
        places=[_place(title, place) for title, place in wording.places(found)],
        map=_markup(placement_figure(found)),
        key={name: _markup(drawn) for name, drawn in {**swatches(), **rose_swatches()}.items()},
        names=names_of(found),
        has_region=bool(found["region"]),
        rose=_markup(rose_figure(found["bearings"])),
        states=sorted({arc["found"] for arc in found["bearings"]["arcs"]}, key=list(wording.STATES).index),
        state_words=wording.STATES,
        bearing_lines=list(wording.bearing_lines(found["bearings"])),
        claim_lines=list(wording.claim_lines(found)),
        set_lines=list(wording.set_lines(found)),
        searched=wording.searched(found),
        cautions=wording.CAUTIONS,
    )


def _place(title: str, place: Json) -> dict[str, Any]:
    name = title.split(",", maxsplit=1)[0].lower().replace(" ", "-")
    return {
        "title": title,
        "position": wording.position_words(place),
        "forms": [form for name, form in place["forms"].items() if name != "decimal" and form],
        "lines": list(wording.place_lines(place)),
        "open": [] if place["verified"] else list(wording.open_verdicts(place)),
        "map": _markup(map_figure(place["map"], name)) if place["map"] else "",
        "scale": place["map"]["close"]["words"] if place["map"] else "",
    }


def _markup(drawn: str) -> Any:
    """SVG that this plugin drew, which escapes what it takes from the data."""
    from markupsafe import Markup

    return Markup(drawn)


@lru_cache(maxsize=1)
def _template() -> Template:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    environment = Environment(
        loader=FunctionLoader(_file), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["unbroken"] = unbroken
    environment.globals["style_sheet"] = lambda: _markup(style_sheet())
    return environment.get_template("placement.html")


def _file(name: str) -> str:
    from importlib.resources import files

    return files(PACKAGE).joinpath("templates", name).read_text("utf-8")
