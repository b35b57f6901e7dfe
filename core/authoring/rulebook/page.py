"""The rulebook as one HTML file: no script, nothing fetched, every text escaped, nothing calculated in the template."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from afield.core.briefing.page import style_sheet, unbroken

if TYPE_CHECKING:
    from jinja2 import Template

PACKAGE = "afield.core.authoring.rulebook"
_DAY = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")


def rulebook_html(book: Mapping[str, Any]) -> str:
    """The whole page, made from the rulebook's data alone."""
    return _template().render(book)


def _whole(text: str | None) -> Any:
    """Escaped text in which no line end tears a quantity or a day apart."""
    from markupsafe import Markup, escape

    return Markup(_DAY.sub(r'<span class="day">\g<0></span>', str(escape(unbroken(text)))))


@lru_cache(maxsize=1)
def _template() -> Template:
    from jinja2 import Environment, FunctionLoader, StrictUndefined
    from markupsafe import Markup

    environment = Environment(
        loader=FunctionLoader(_file), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["unbroken"] = _whole
    environment.globals["style_sheets"] = lambda: Markup(f"{style_sheet()}\n{_file('rulebook.css')}")
    return environment.get_template("rulebook.html")


def _file(name: str) -> str:
    return files(PACKAGE).joinpath("templates", name).read_text("utf-8")
