"""Groups of subjects for what a rule gathers: about as many as it is compared with, alike and unlike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from afield.core.authoring.sampling.bounds import Judging, compared_with, gathered_bounds
from afield.core.authoring.sampling.candidates import UNTOLD, Candidate, candidates_of
from afield.core.authoring.sampling.combining import combined
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.rules.conditions import Aggregate, facts_asked, verdicts_asked
from afield.core.rules.outcomes import WORDS

MOST_MEMBERS = 12
MOST_FORMS = 12

Entry = dict[str, Any]


@frozen(slots=False)
class Members:
    """What can be gathered; each candidate's value is a list of subjects without kind and key."""

    kind: str
    candidates: list[Candidate]


def members_of(kind: str, measures: Sequence[Aggregate], judgings: Sequence[Judging], registry: Registry) -> Members:
    """The groups to try of a kind that is gathered: none, and one form or two of them in the numbers that decide."""
    forms = list(_forms(kind, measures, judgings, registry)) or [Candidate({})]
    counted = [measure for measure in measures if measure.how == "count"]
    figures = [int(figure.value) for measure in counted for figure in gathered_bounds(measure, judgings)]
    counts = sorted({count + more for count in figures or [1] for more in (-1, 0, 1)} & set(range(1, MOST_MEMBERS)))
    groups = [Candidate([], 1)]
    for count in counts:
        groups += [Candidate([form.written] * count, form.cost) for form in forms]
        groups += [_mixed(forms[0], form, count) for form in forms[1:] if count > 1]
    apart = [fact.name for measure in measures for fact in measure.distinct if _takes_any_word(fact.name, registry)]
    return Members(kind, [*(_told_apart(group, apart) for group in groups if apart), *groups])


def _mixed(many: Candidate, one: Candidate, count: int) -> Candidate:
    return Candidate([*[many.written] * (count - 1), one.written], one.cost + 1)


def _told_apart(group: Candidate, distinct: Sequence[str]) -> Candidate:
    """The group with a word of its own for each member, where the facts that tell them apart are words."""
    apart = [
        {**entry, "facts": {**entry.get("facts", {}), **dict.fromkeys(distinct, f"word {index + 1}")}}
        for index, entry in enumerate(group.written)
    ]
    return Candidate(apart, group.cost)


def _forms(
    kind: str, measures: Sequence[Aggregate], judgings: Sequence[Judging], registry: Registry
) -> Iterator[Candidate]:
    """One member with every fact that counts for what is gathered, in its plainest forms."""
    wheres = [measure.where for measure in measures if measure.where is not None]
    asked = [name for where in wheres for name in facts_asked(where)]
    asked += [fact.name for measure in measures for fact in (measure.of, *measure.distinct) if fact is not None]
    names = [name for name in dict.fromkeys(asked) if _belongs(name, kind, registry)]
    rules = list(dict.fromkeys(rule for where in wheres for rule in verdicts_asked(where)))
    slots = [candidates_of(registry.facts[name], compared_with(name, judgings)) for name in names]
    slots += [[Candidate(word) for word in WORDS] for _ in rules]
    for _, row in zip(range(MOST_FORMS), combined(slots), strict=False):
        facts = {name: candidate.written for name, candidate in zip(names, row, strict=False)}
        verdicts = {rule: candidate.written for rule, candidate in zip(rules, row[len(names) :], strict=True)}
        entry = {name: value for name, value in (("facts", facts), ("verdicts", verdicts)) if value}
        yield Candidate(entry, min(UNTOLD, sum(candidate.cost for candidate in row)))


def _takes_any_word(name: str, registry: Registry) -> bool:
    declared = registry.facts.get(name)
    return declared is not None and declared.type == "text" and not declared.choices


def _belongs(name: str, kind: str, registry: Registry) -> bool:
    return name in registry.facts and registry.facts[name].kind == kind
