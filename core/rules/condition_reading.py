"""Conditions as a pack writes them -> `Condition`, checked as far as that can be done before there is a plan."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.documents import Path
from afield.core.facts.declarations import Fact, Kind
from afield.core.rules.bound_reading import BoundReader
from afield.core.rules.complaint import Complaint, as_written, unknown_keys
from afield.core.rules.conditions import COMPARISONS, Bound, Condition, Group, Leaf
from afield.core.rules.limits import Limit
from afield.core.rules.measure_reading import MEASURE_KEYS, MeasureReader
from afield.core.rules.outcomes import OPERATORS
from afield.core.rules.vocabulary import Target, Vocabulary

_FITTING = {
    "number": COMPARISONS,
    "instant": (*COMPARISONS[:5], "is", "exists"),
    "text": ("is", "one_of", "exists"),
    "bool": ("is", "exists"),
    "verdict": ("is", "one_of"),
    "list": ("exists",),
    "opaque": (),
    "": COMPARISONS,
}
"""Type of what is compared -> the comparisons that fit it; "" is the type of a fact whose plugin is absent."""


def read_condition(
    data: Any,
    path: Path,
    facts: Mapping[str, Fact],
    limits: Mapping[str, Limit],
    *,
    kind: str | None = None,
    kinds: Mapping[str, Kind] | None = None,
    rules: Mapping[str, str] | None = None,
    absent: tuple[str, ...] = (),
    program: bool = False,
    own: tuple[str, ...] = (),
) -> tuple[Condition | None, list[Complaint]]:
    """The condition and the complaints about it; with any complaint there is no condition.

    Args:
        data: plain, as written.
        path: of the data in its document.
        facts: all that are declared, by name.
        limits: of the pack, by name.
        kind: of the subjects that the rule judges; None skips the check that its facts can be had of them.
        kinds: all that are registered, by name.
        rules: name -> kind of the subjects that it judges, of all rules in the pack, and of those of other packs that
            may be named, as "pack/rule"; None skips their check.
        absent: plugins that the pack needs and that are not there; a fact that nothing declares may be theirs.
        program: whether the pack is a program's, which may not ask facts that gather claims.
        own: ids of the pack and of those that it extends, whose rules go by their bare names.

    """
    reader = _ConditionReader(Vocabulary(facts, limits, kinds or {}, rules, absent, program, own))
    condition = reader.condition(data, path, kind)
    return (None if reader.complaints else condition), reader.complaints


class _ConditionReader:
    """Reads the tree; the leaves' parts are read by their own readers into the same list of complaints."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.complaints: list[Complaint] = []
        self.measures = MeasureReader(vocabulary, self.complaints, self.condition)
        self.bounds = BoundReader(vocabulary, self.complaints)

    def condition(self, data: Any, path: Path, kind: str | None) -> Condition | None:
        if not isinstance(data, Mapping):
            self._complain(path, f"a condition is a mapping, not {as_written(data)}", _EXAMPLE)
            return None
        operators = [key for key in data if key in OPERATORS]
        if operators:
            return self._group(data, operators, path, kind)
        return self._leaf(data, path, kind)

    def _group(self, data: Mapping[str, Any], operators: list[str], path: Path, kind: str | None) -> Group | None:
        first = operators[0]
        beside = [key for key in data if key != first]
        if beside:
            what = f'"{beside[0]}" stands beside "{first}"'
            self._complain((*path, beside[0]), what, f"Write it inside the list of `{first}`.", (*path, first))
            return None
        written = data[first]
        if not isinstance(written, list) or not written:
            self._complain(
                (*path, first), f'"{first}" joins no conditions', "Write a list of conditions in brackets: `[...]`."
            )
            return None
        children = [self.condition(child, (*path, first, index), kind) for index, child in enumerate(written)]
        return Group(first, tuple(child for child in children if child is not None), path)

    def _leaf(self, data: Mapping[str, Any], path: Path, kind: str | None) -> Leaf | None:
        before = len(self.complaints)
        self.complaints.extend(unknown_keys(data, (*MEASURE_KEYS, *COMPARISONS, *OPERATORS), path))
        measured = self.measures.measure(data, path, kind)
        comparison = self._comparison(data, path, measured[1] if measured else None)
        if measured is None or comparison is None:
            return None
        bounds = self._bounds(data[comparison], comparison, (*path, comparison), measured[1])
        return Leaf(measured[0], comparison, bounds, path) if len(self.complaints) == before else None

    def _comparison(self, data: Mapping[str, Any], path: Path, target: Target | None) -> str | None:
        written = [key for key in data if key in COMPARISONS]
        fitting = _FITTING[target.type] if target else COMPARISONS
        if not written:
            self._complain(path, "there is no comparison", f"Write one of {', '.join(fitting)}.")
            return None
        if len(written) > 1:
            advice = "Write one comparison; join two conditions with `all`, or write `between: [least, most]`."
            what = f'"{written[0]}" and "{written[1]}" are two comparisons of one value'
            self._complain((*path, written[1]), what, advice, (*path, written[0]))
            return None
        if target and written[0] not in fitting:
            what = f'"{written[0]}" does not fit {target.title}, which is {_phrase(target.type)}'
            self._complain((*path, written[0]), what, f"Write one of {', '.join(fitting)}.")
            return None
        return written[0]

    def _bounds(self, written: Any, comparison: str, path: Path, target: Target) -> tuple[Bound, ...]:
        if comparison == "exists":
            return self.bounds.existence(written, path)
        if comparison == "between":
            return self.bounds.range(written, path, target)
        if comparison == "one_of":
            return self.bounds.several(written, path, target)
        return self.bounds.single(written, path, target)

    def _complain(self, path: Path, what: str, advice: str, other_path: Path | None = None) -> None:
        self.complaints.append(Complaint(path, what, advice, other_path))


_EXAMPLE = "Write `{fact: NAME, at_most: {limit: NAME}}` or the like."


def _phrase(fact_type: str) -> str:
    return {"bool": "true or false", "instant": "an instant", "text": "text"}.get(fact_type, f"a {fact_type}")
