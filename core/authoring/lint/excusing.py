"""Exceptions that a pack writes under `lint:` in pack.yaml, each with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.authoring.lint.findings import ABOUT, Finding, finding
from afield.core.frozen import frozen
from afield.core.packs.model import Pack


@frozen
class Excused:
    """A finding that the pack keeps, and why."""

    finding: Finding
    reason: str


def excused(findings: list[Finding], pack: Pack) -> tuple[list[Finding], list[Excused]]:
    """The findings that stand, among them one for each exception that excuses nothing, and those that are excused.

    What stands in the files of a pack that this one extends is excused by that pack's own exceptions too.
    """
    used: set[int] = set()
    standing: list[Finding] = []
    kept: list[Excused] = []
    entries = [(index, entry, each is pack) for each in pack.lineage() for index, entry in enumerate(_written(each))]
    for each in findings:
        fitting = [(index, entry, own) for index, entry, own in entries if _excuses(entry, each)]
        used |= {index for index, _, own in fitting if own}
        if fitting:
            kept.append(Excused(each, fitting[0][1]["reason"]))
        else:
            standing.append(each)
    return [*standing, *_unused(pack, used)], kept


def _written(pack: Pack) -> list[Mapping[str, Any]]:
    return list(pack.documents["pack"].data.get("lint", []))


def _excuses(entry: Mapping[str, Any], found: Finding) -> bool:
    """Whether the exception is of the finding's code and names what it is about, and nothing that it is not about."""
    named = {word: entry[word] for word in ABOUT if word in entry}
    fits = all(found.about.get(word) == name for word, name in named.items())
    return entry["code"] == found.code and fits and bool(named) == bool(found.about)


def _unused(pack: Pack, used: set[int]) -> Iterator[Finding]:
    for index, entry in enumerate(_written(pack)):
        if index not in used:
            named = " ".join(f"{word} {entry[word]}" for word in ABOUT if word in entry)
            what = f"there is no finding {entry['code']} of {named or 'the pack as a whole'} to excuse"
            advice = "Take the exception out, or name what it is about: a rule, limit, fact or reference."
            yield finding("exception-unused", pack.documents["pack"], ("lint", index), what, advice)
