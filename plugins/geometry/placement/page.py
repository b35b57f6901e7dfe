"""A placement as one HTML file of its own, around the same part as in the briefing: no script, nothing fetched."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from afield.core.api import _, ngettext, style_sheet, unbroken
from afield.plugins.geometry.placement.section import PACKAGE, PART, TITLE, figures
from afield.plugins.geometry.placement.section_data import section_data

if TYPE_CHECKING:
    from jinja2 import Template

Json = Mapping[str, Any]


def placement_html(found: Json) -> str:
    """The whole page, made from the placement's JSON alone; every text is escaped, nothing calculated."""
    data = {**section_data(found), "solution": found}
    drawn = {name: _markup(draw(data)) for name, draw in figures().items()}
    return _template().render(found=found, title=_(TITLE), part=PART, data=data, figures=drawn)


def _markup(drawn: str) -> Any:
    """SVG that this plugin drew, which escapes what it takes from the data."""
    from markupsafe import Markup

    return Markup(drawn)


@lru_cache(maxsize=1)
def _template() -> Template:
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    environment = Environment(
        loader=FunctionLoader(_file), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )  # fmt: skip
    # Both ask for the language that is spoken when the page is made, not now.
    environment.install_gettext_callables(_, ngettext, newstyle=True)  # type: ignore[attr-defined]
    environment.filters["unbroken"] = unbroken
    environment.globals["style_sheet"] = lambda: _markup(style_sheet())
    return environment.get_template("placement.html")


def _file(name: str) -> str:
    from importlib.resources import files

    return files(PACKAGE).joinpath("templates", name).read_text("utf-8")
