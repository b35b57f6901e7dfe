"""The words of a comparison that the terminal and the page share; made from its JSON alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from afield.core.comparing.differences import CANNOT_TELL, SAME
from afield.core.language import _

Json = Mapping[str, Any]


def headline(comparison: Json) -> str:
    """What is compared with what."""
    base, *others = [side["label"] for side in comparison["sides"]]
    return _("Compared with {base}: {others}").format(base=base, others=", ".join(others))


def side_lines(side: Json, base: Json) -> Iterator[str]:
    """How a side stands as a whole; its trip and date where they are not the base's."""
    standing = side["standing"]
    if side["trip"] != base["trip"]:
        yield f"{side['trip']['title']}, {side['trip']['date']}"
    yield standing["words"]
    yield _("required: {outcomes}").format(outcomes=standing["required_words"])
    if standing["claims"]:
        same = side is not base and standing["claims"] == base["standing"]["claims"]
        yield _("claims as with {base}").format(base=base["label"]) if same else standing["claims"]
    if standing["waived"]:
        same = side is not base and standing["waived"] == base["standing"]["waived"]
        yield from [_("waived as with {base}").format(base=base["label"])] if same else standing["waived"]


def difference_words(difference: Json | None, value: Json, base: str) -> str | None:
    """How a value differs from the base's: the difference, the plugin's own words, whether it can be told.

    None for the base itself, and for a value that already says why it is not known.
    """
    if difference is None or value["reason"]:
        return None
    told = difference["finding"]
    if told == CANNOT_TELL:
        return f"{_(told)} ({difference['why']})"
    figures = [words for words in (difference["words"], difference["extra"]) if words]
    finding = _("the same as with {base}").format(base=base) if told == SAME else _(told)
    return f"{', '.join(figures)}: {finding}" if figures else finding


def silent_words(entry: Json) -> str:
    """A fact that is known on no side, with the reason."""
    return _("{title}: cannot tell: {why}").format(title=entry["title"], why=entry["why"])


def shown_lines(value: Json, row: Json) -> list[str]:
    """The lines below a value, unless they are the base's, which stand there already."""
    base = row["values"][0]
    return [] if value is not base and value["lines"] == base["lines"] else list(value["lines"])


def note_words(note: Json, row: Json) -> str:
    """A note, with the sides that it is for where it is not for all of them."""
    whose = "" if len(note["sides"]) == len(row["values"]) else f"{', '.join(note['sides'])}: "
    return f"{whose}{note['text']}"


def warning_words(warning: Json, sides: Sequence[Json]) -> str:
    """A warning, with the sides that it is for where it is not for all of them."""
    place = f"{warning['place']}: " if warning["place"] else ""
    whose = "" if len(warning["sides"]) == len(sides) else f"{', '.join(warning['sides'])}: "
    return f"{whose}{place}{warning['what']}; {warning['do']}"


def how_drawn() -> str:
    """How the chart is to be read."""
    return _("A mark is the value, the line through it its 95 % interval. The strips of one figure have one scale.")


def grounds(comparison: Json) -> Iterator[str]:
    """What the reader must know to read it."""
    base = comparison["sides"][0]["label"]
    yield _("Differences are to {base}; ± is at 95 %. Errors of one origin cancel in a difference.").format(base=base)
    yield _("A difference that is not more than its ± is none that can be told. Nothing is weighed or ranked here.")
    yield _("What to do with one of them, `afield check` says; local rules and licensed practice come first.")
