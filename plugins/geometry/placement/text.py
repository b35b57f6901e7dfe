"""The answer of a placement as plain text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from textwrap import wrap
from typing import Any

from afield.core.api import _, frozen
from afield.plugins.geometry.placement.section_data import section_data

Json = Mapping[str, Any]


@frozen(slots=False)
class Widths:
    """How wide a text may be, in columns.

    Attributes:
        sentences: of what is said in sentences.
        lines: of single findings; a terminal shows them whole, so that they can be searched for.

    """

    sentences: int
    lines: int


TERMINAL, BRIEFING = Widths(110, 10_000), Widths(78, 78)


def placement_text(found: Json) -> str:
    """The whole answer, with the trip that it is for."""
    variant = " " + _("(variant {name})").format(name=found["variant"]) if found["variant"] else ""
    return f"{found['trip']['title']}, {found['trip']['date']}{variant}\n{_text(section_data(found), TERMINAL)}\n"


def section_text(data: Json) -> str:
    """The section of the briefing."""
    return _text(data, BRIEFING)


def _text(data: Json, widths: Widths) -> str:
    return "\n\n".join("\n".join(block) for block in _blocks(data, widths) if block)


def _blocks(data: Json, widths: Widths) -> Iterator[list[str]]:
    yield _wrapped(data["answer"], widths.lines)
    for place in data["places"]:
        told = _lines([place["position"], *place["lines"]], widths.lines, "  ")
        yield [place["title"], *told, *_lines(place["open"], widths.sentences, "  ")]
    yield _titled(_("What can be had together"), data["sets"], widths.lines)
    yield _titled(_("Each claim alone, laid as planned"), data["claims"], widths.lines)
    yield _lines(data["bearings"]["lines"], widths.lines)
    yield _titled(_("Not searched, judged only at the places named"), data["unsearched"], widths.lines)
    yield [line for text in (data["searched"], *data["cautions"]) for line in _wrapped(text, widths.sentences)]


def _titled(title: str, lines: Iterable[str], width: int) -> list[str]:
    told = _lines(lines, width, "  ")
    return [title, *told] if told else []


def _lines(lines: Iterable[str], width: int, indent: str = "") -> list[str]:
    """Each line as far in as it stands, and what does not fit on it further in."""
    whole = ((indent + " " * (len(line) - len(line.lstrip())), line.lstrip()) for line in lines)
    return [each for inside, line in whole for each in _wrapped(line, width, inside, f"{inside}  ")]


def _wrapped(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    return wrap(
        text, width, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    )
