"""Limits and severities that a pack sets in place of those of the pack that it extends, as JSON and in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Any

from afield.core.language import _
from afield.core.packs.model import Pack, Rule
from afield.core.packs.origins import PackName, limit_change_words, severity_change_words
from afield.core.packs.verdicts import NOT_APPLICABLE, Verdict
from afield.core.rules.conditions import limits_asked
from afield.core.rules.limits import in_force

Json = dict[str, Any]


def limit_names(rule: Rule) -> list[str]:
    """The limits that a rule compares with, each once."""
    conditions = [condition for condition in (rule.require, rule.where) if condition is not None]
    return list(dict.fromkeys(name for condition in conditions for name in limits_asked(condition)))


def override_words(verdict: Verdict) -> list[str]:
    """What the reader of a verdict must know: whose limit it was judged by, and whose severity it has.

    A verdict that is not applicable was judged by no limit, unless one was taken away.
    """
    applies = verdict.outcome != NOT_APPLICABLE
    names = [name for name in limit_names(verdict.rule) if applies or _is_taken_away(verdict, name)]
    change = verdict.rule.change
    return [
        *(words for name in names if (words := _limit_words(verdict.pack, name, verdict.day)) is not None),
        *([severity_change_words(change)] if applies and change else []),
    ]


def _limit_words(pack: Pack, name: str, day: date) -> str | None:
    limit, origin = pack.limits.get(name), pack.origins.get(name)
    return limit_change_words(name, limit, origin, day) if limit and origin else None


def _is_taken_away(verdict: Verdict, name: str) -> bool:
    limit = verdict.pack.limits.get(name)
    version = in_force(limit.versions, verdict.day) if limit else None
    return version is not None and version.value is None


def overrides_json(packs: Iterable[Pack], day: date) -> list[Json]:
    """Every limit and severity that stands in place of another pack's, with the figures of the day."""
    return [entry for pack in packs for entry in (*_limits(pack, day), *_severities(pack))]


def _limits(pack: Pack, day: date) -> Iterator[Json]:
    for name, origin in pack.origins.items():
        words = _limit_words(pack, name, day)
        if words is not None:
            yield _entry(pack, "limit", name, words, str(origin.place))


def _severities(pack: Pack) -> Iterator[Json]:
    for rule in pack.rules:
        if rule.change is not None:
            words = _("{title}: {change}").format(title=rule.title, change=severity_change_words(rule.change))
            yield _entry(pack, "severity", rule.id, words, str(rule.change.place))


def _entry(pack: Pack, what: str, name: str, words: str, place: str) -> Json:
    return {"pack": pack.id, "of": what, "name": name, "words": words, "place": place}


def pack_name_json(name: PackName) -> Json:
    """A pack's name with its version."""
    return {"id": name.id, "version": name.version}
