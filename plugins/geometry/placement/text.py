"""The answer of a placement as plain text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from textwrap import wrap
from typing import Any

from afield.plugins.geometry.placement import wording

Json = Mapping[str, Any]
WIDTH = 110


def placement_text(found: Json) -> str:
    """The whole answer."""
    return "\n".join(line for block in _blocks(found) if block for line in [*block, ""])[:-1] + "\n"


def _blocks(found: Json) -> Iterator[list[str]]:
    variant = f" (variant {found['variant']})" if found["variant"] else ""
    yield [f"{found['trip']['title']}, {found['trip']['date']}{variant}", wording.headline(found)]
    for title, place in wording.places(found):
        yield [title, f"  {wording.position_words(place)}", *_indented(wording.place_lines(place)), *_open(place)]
    yield from _titled("What can be had together", wording.set_lines(found))
    yield from _titled("Each claim alone, laid as planned", wording.claim_lines(found))
    yield list(wording.bearing_lines(found["bearings"]))
    yield from _titled("Not searched, judged only at the places named", found["unsearched"])
    yield [line for text in (wording.searched(found), *wording.CAUTIONS) for line in wrap(text, WIDTH)]


def _titled(title: str, lines: Iterable[str]) -> Iterator[list[str]]:
    told = list(_indented(lines))
    if told:
        yield [title, *told]


def _indented(lines: Iterable[str]) -> Iterator[str]:
    return (f"  {line}" for line in lines)


def _open(place: Json) -> list[str]:
    told = wording.open_verdicts(place) if not place["verified"] else ()
    return [line for text in told for line in wrap(text, WIDTH, initial_indent="  ", subsequent_indent="    ")]
