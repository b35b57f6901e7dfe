"""The rulebook's tables: limits with dates and sources, what the program says of itself, its places."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from afield.core.authoring.rulebook.sentences import Speaker, version_words
from afield.core.packs.model import DatedFact, Pack
from afield.core.report.overrides import limit_names
from afield.core.rules.limits import Source, Version

Json = dict[str, Any]
MOST_PLACES = 200
"""Places that are listed; of more, how many there are is said."""


def source_words(source: Source | None) -> str | None:
    """The passage, how far it can be relied on, and when it was last looked at."""
    if source is None:
        return None
    edition = f" ({source.edition})" if source.edition else ""
    checked = f", last checked {source.last_checked}" if source.last_checked else ""
    return f"{source.document}{edition}, section {source.section}; {source.grade or 'no grade'}{checked}"


def limit_rows(pack: Pack, speaker: Speaker) -> list[Json]:
    """Each limit with all its dated values, and the rules and facts of the program that use it."""
    return [
        {
            "name": name,
            "used_by": [*_rules_with(name, pack), *_facts_with(name, pack, speaker)],
            "whose": str(pack.origins[name].by) if pack.origins[name].by != pack.name else None,
            "versions": [_version(version) for version in limit.versions],
        }
        for name, limit in pack.limits.items()
    ]


def _rules_with(limit: str, pack: Pack) -> list[str]:
    return [rule.title for rule in pack.rules if limit in limit_names(rule)]


def _facts_with(limit: str, pack: Pack, speaker: Speaker) -> list[str]:
    used = [name for name, versions in pack.facts.items() if any(version.limit == limit for version in versions)]
    return [speaker.title(name) for name in used]


def _version(version: Version) -> Json:
    notes = [
        version.none or "",
        f"Announced {version.announced}." if version.announced else "",
        f"Corrects: {version.corrects}" if version.corrects else "",
    ]
    return {
        "figure": "no limit" if version.value is None else version_words(version),
        "from": str(version.from_ or "ever"),
        "until": str(version.until or ""),
        "source": source_words(version.source),
        "notes": " ".join(note for note in notes if note),
    }


def fact_rows(pack: Pack, speaker: Speaker) -> list[Json]:
    """What holds for the program, with the days of each value."""
    return [
        {"title": speaker.title(name), "versions": [_fact(version) for version in versions]}
        for name, versions in pack.facts.items()
    ]


def _fact(version: DatedFact) -> Json:
    if version.limit is not None:
        words = f"the limit {version.limit}"
    else:
        words = ", ".join(map(str, version.value)) if isinstance(version.value, list) else _word(version.value)
    return {"words": words, "from": str(version.from_ or ""), "until": str(version.until or "")}


def _word(value: Any) -> str:
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)


def reference_rows(pack: Pack) -> Json:
    """The places of the program, as far as they fit, and how many more there are."""
    rows = list(_references(pack))
    return {"rows": rows[:MOST_PLACES], "more": max(len(rows) - MOST_PLACES, 0)}


def _references(pack: Pack) -> Iterator[Json]:
    for entry in pack.references or ():
        yield {"title": entry.title, "id": entry.id, "from": str(entry.from_ or ""), "until": str(entry.until or "")}
