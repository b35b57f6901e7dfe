"""The briefing as one HTML file: no script, nothing fetched, every text escaped."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from afield.core.briefing import arranging
from afield.core.facts.time_limit import limited
from afield.core.language import _, language, ngettext
from afield.core.report.formats.rows import has_figures
from afield.core.report.formats.text import figures_in_words, graded
from afield.core.report.solved import drawn_from

if TYPE_CHECKING:
    from jinja2 import Environment

    from afield.core.host.hookspecs import Section

BACK_FROM = 900
"""Sections of this order and above stand at the end, each on a page of its own."""
PACKAGE = "afield.core.briefing"
_TIES = re.compile(r"(?<=\d) (?=[^\W\d]|[%°])|(?<=±) (?=\d)|(?<=\d) (?=\d{3}(?!\d))")


def briefing_html(report: Mapping[str, Any], sections: Sequence[Section]) -> str:
    """The whole page.

    Args:
        report: the report's JSON.
        sections: the installed plugins' sections, which draw the report's sections of their name. One that is missing
            or that fails is named on the page in its place; the rest of the page stands.

    """
    drawers = {section.name: section for section in sections}
    orders = {section.name: section.order for section in sections}
    front, back = arranging.front_and_back(report, orders, BACK_FROM)
    page = _environment(PACKAGE).get_template("page.html")
    return page.render(
        report=report,
        settle=arranging.to_settle(report),
        not_met=arranging.not_met(report),
        sources=arranging.sources_by_document(report),
        tables=arranging.tables(report),
        labels=arranging.labels(report),
        checklist=arranging.checklist(report),
        headlines=list(arranging.headlines(report)),
        front=[_drawn(section, drawers, report) for section in front],
        back=[_drawn(section, drawers, report) for section in back],
    )


def _drawn(section: Mapping[str, Any], drawers: Mapping[str, Section], report: Mapping[str, Any]) -> dict[str, Any]:
    """The section with its HTML, or with what kept it from being drawn."""
    drawer = drawers.get(section["name"])
    if drawer is None:
        return {**section, "html": None, "trouble": missing(section["name"])}
    try:
        return {**section, "html": limited(_section_html, drawer, drawn_from(section, report)), "trouble": None}
    except Exception as error:
        return {**section, "html": None, "trouble": failed(drawer, error)}


def missing(name: str) -> str:
    """What is said in place of a section that no installed plugin draws."""
    return _("No installed plugin draws the section {name}. Its data is in report.json.").format(name=name)


def failed(section: Section, error: Exception) -> str:
    """What is said in place of a section that could not be drawn."""
    told = _("{package} could not draw the section {name}: {error}. Its data is in report.json.")
    return told.format(package=section.package, name=section.name, error=f"{type(error).__name__}: {error}")


def _section_html(section: Section, data: Mapping[str, Any]) -> Any:
    from markupsafe import Markup

    # Figures are SVG text from an installed plugin, which escapes what it takes from the data.
    figures = {name: Markup(draw(data)) for name, draw in section.figures.items()}
    template = _environment(section.package).get_template(section.template)
    return Markup(template.render(data=data, figures=figures))


@lru_cache(maxsize=16)
def _environment(package: str) -> Environment:
    from jinja2 import Environment, FunctionLoader, StrictUndefined
    from markupsafe import Markup

    environment = Environment(
        loader=FunctionLoader(_loader(package)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )
    # Both ask for the language that is spoken when the page is made, not now.
    environment.install_gettext_callables(_, ngettext, newstyle=False)  # type: ignore[attr-defined]
    environment.globals["language"] = language
    environment.globals["claim_title"] = arranging.claim_title
    environment.globals["whose"] = arranging.whose
    environment.globals["whose_dropped"] = arranging.whose_dropped
    environment.globals["has_figures"] = has_figures
    environment.globals["figures"] = figures_in_words
    environment.globals["graded"] = graded
    environment.globals["also"] = arranging.also_asked
    environment.globals["at_first"] = arranging.at_first
    environment.globals["grounds_of"] = arranging.grounds_of
    environment.globals["others"] = arranging.other_leaves
    environment.filters["unbroken"] = unbroken
    environment.filters["called"] = _called
    environment.globals["style_sheet"] = lambda: Markup(style_sheet())
    return environment


def _called(subject: str, labels: Mapping[str, str]) -> str:
    return labels.get(subject, subject)


def unbroken(text: str | None) -> str:
    """A printed quantity that no line end tears apart: a number keeps unit and thousands, and the sign its number."""
    return _TIES.sub("\u00a0", text or "")


def style_sheet() -> str:
    """The style sheet of the briefing, for pages that look like it."""
    return _file(PACKAGE, "briefing.css")


def _loader(package: str) -> Callable[[str], str]:
    return lambda name: _file(package, name)


def _file(package: str, name: str) -> str:
    from importlib.resources import files

    return files(package).joinpath("templates", name).read_text("utf-8")
