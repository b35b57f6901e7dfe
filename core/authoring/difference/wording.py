"""What was reworded or re-sourced, in a rule and in the pack's own header."""

from __future__ import annotations

from typing import Any

from afield.core.authoring.mutation.mutants import limits_of
from afield.core.packs.model import TEXTS, Pack, Rule
from afield.core.rules.limits import Limit, Version

_HEADER_WORDS = ("title", "publisher", "licence", "notice")


def reworded(before: Rule, after: Rule) -> list[str]:
    """Names of the texts that changed."""
    named = ("title", "why", "confirm", "when", "evidence", "assumes")
    found = [name for name in named if getattr(before, name) != getattr(after, name)]
    return found + [name for name in TEXTS if before.texts.get(name) != after.texts.get(name)]


def resourced(old: Pack, before: Rule, new: Pack, after: Rule) -> list[str]:
    """What rests on another source, or on one that was checked anew: the rule, and limits that both versions have."""
    found = ["the rule"] if before.source != after.source else []
    shared = [name for name in limits_of(after) if name in limits_of(before)]
    return found + [f"limit {name}" for name in shared if _is_resourced(old.limits.get(name), new.limits.get(name))]


def _is_resourced(before: Limit | None, after: Limit | None) -> bool:
    """Whether a limit rests on something else; a printed equivalent that follows a new figure is no new source."""
    if before is None or after is None:
        return False
    same_figures = [_figure(each) for each in before.versions] == [_figure(each) for each in after.versions]
    if same_figures:
        return [_printed(each) for each in before.versions] != [_printed(each) for each in after.versions]
    return {each.source for each in before.versions} != {each.source for each in after.versions}


def _figure(version: Version) -> Any:
    return version.from_, version.until, version.value, version.unit


def _printed(version: Version) -> Any:
    return version.source, version.also_printed, version.announced, version.corrects, version.none


def header_reworded(old: Pack, new: Pack) -> list[str]:
    """Texts of the pack's header that changed."""
    return [name for name in _HEADER_WORDS if getattr(old, name) != getattr(new, name)]


def header_resourced(old: Pack, new: Pack) -> list[str]:
    """What the pack as a whole rests on otherwise."""
    found = ["sources"] if old.sources != new.sources else []
    return found + (["review_every"] if old.review_days != new.review_days else [])
