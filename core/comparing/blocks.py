"""The verdicts that change, in words: told one by one with their figures, or together where many come out alike."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from afield.core.comparing.differences import CANNOT_TELL
from afield.core.frozen import frozen
from afield.core.language import _

Json = Mapping[str, Any]
MOST_NAMES = 8
"""Names of subjects or rules that are listed; the rest is counted, and stands in the JSON."""
MOST_ALONE = 3
"""Verdicts of one rule with the same outcomes that are told one by one, with their figures."""


def changes_title(changes: Json, base: str) -> str:
    """The heading of the verdicts that change."""
    return _("Verdicts: {side} against {base}").format(side=changes["label"], base=base)


@frozen
class Block:
    """Verdicts that are told together: how much hangs on them, their title, what is said of them."""

    severity: str
    title: str
    lines: list[str]


def changed_blocks(changes: Json) -> list[Block]:
    """The verdicts that change, required ones first."""
    return _blocks(changes["changed"], lambda change: tuple(side["outcome"] for side in change["sides"]), _changed)


def open_blocks(group: Json) -> list[Block]:
    """The verdicts of one side alone that are not passed, required ones first."""
    return _blocks(group["open"], lambda verdict: (verdict["outcome"],), _open)


def tick_blocks(changes: Json) -> list[Block]:
    """The items of the checklist that stand otherwise on the two sides."""
    return _blocks(changes["checklist"], lambda item: tuple(side["tick"] for side in item["sides"]), _ticks)


def _ticks(item: Json) -> Iterator[str]:
    yield _on_both(item["sides"], "tick")


def _on_both(sides: Sequence[Json], what: str) -> str:
    """What is said of the base, and what of the other side."""
    one, two = sides
    return _("{one} with {base}, {two} with {other}").format(
        one=_(one[what]), base=one["label"], two=_(two[what]), other=two["label"]
    )


def _blocks(
    entries: Sequence[Json], outcomes: Callable[[Json], tuple[str, ...]], lines: Callable[[Json], Iterator[str]]
) -> list[Block]:
    """One block a verdict; where a rule comes out alike for many subjects, one for all of them, without figures."""
    groups: dict[tuple[str, ...], list[Json]] = {}
    for entry in entries:
        groups.setdefault((entry["severity"], entry["rule"], *outcomes(entry)), []).append(entry)
    blocks = []
    for (severity, *_same), group in groups.items():
        if len(group) > MOST_ALONE:
            blocks.append(Block(_(severity), _title(group), [next(lines(group[0]))]))
        else:
            blocks += [Block(_(severity), _title([entry]), list(lines(entry))) for entry in group]
    return blocks


def _title(group: Sequence[Json]) -> str:
    """The rule's title with the subjects that it is on."""
    names = [entry["of"] for entry in group if entry["of"]]
    many = f"{len(group)}: " if len(group) > 1 else ""
    return f"{group[0]['title']} ({many}{shown_names(names)})" if names else str(group[0]["title"])


def _changed(change: Json) -> Iterator[str]:
    """First the outcomes, then margins, and why it is not passed."""
    one, two = change["sides"]
    yield _on_both(change["sides"], "outcome")
    if one["severity"] != two["severity"]:
        yield _on_both(change["sides"], "severity")
    for side in change["sides"]:
        yield from (f"{side['label']}: {words}" for words in _figures(side))


def _open(verdict: Json) -> Iterator[str]:
    yield _(verdict["outcome"])
    yield from _figures(verdict)


def _figures(side: Json) -> Iterator[str]:
    if side["margin"]:
        # "Room" is said of what is told alone; a bare figure must say what it is.
        named = _("margin {margin}") if side["outcome"] == CANNOT_TELL else "{margin}"
        margin = named.format(margin=side["margin"])
        known = side["measured"] and side["limit"]
        found = _("{measured}, due {limit}: {margin}") if known else "{margin}"
        yield found.format(measured=side["measured"], limit=side["limit"], margin=margin)
    if side["because"]:
        yield side["because"]
    if side["waived"]:
        yield side["waived"]


def only_words(group: Json) -> Iterator[str]:
    """What is judged on one side alone."""
    kinds: dict[str, list[str]] = {}
    for subject in group["subjects"]:
        kinds.setdefault(subject["kind"], []).append(subject["of"])
    yield from (f"{_(kind)}: {shown_names(names)}" for kind, names in kinds.items())
    if group["rules"]:
        yield _("rules: {names}").format(names=shown_names(group["rules"]))
    yield _("verdicts: {outcomes}").format(outcomes=counted(group["outcomes"]))


def shown_names(names: Sequence[str]) -> str:
    """Names in one line, of many the first."""
    rest, first = len(names) - MOST_NAMES, ", ".join(names[:MOST_NAMES])
    return _("{names} and {count} more").format(names=first, count=rest) if rest > 0 else first


def counted(outcomes: Mapping[str, int]) -> str:
    """The outcomes that there are, counted."""
    return ", ".join(f"{count} {_(outcome)}" for outcome, count in outcomes.items() if count) or _("none")
