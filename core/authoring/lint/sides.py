"""Whether cases lie below, at and above every figure that a rule compares with."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from afield.core.authoring.lint.bench import LintBench, conditions_of, limits_of
from afield.core.authoring.lint.findings import Finding, either, finding
from afield.core.frozen import frozen
from afield.core.packs.model import Rule
from afield.core.quantities import convert, to_12_digits
from afield.core.rules.bounds import comparable
from afield.core.rules.conditions import ORDERED, Aggregate, FactOf, Leaf, leaves
from afield.core.rules.explain import LeafResult
from afield.core.rules.limits import Version, printed_figure
from afield.core.rules.outcomes import FAILED, PASSED
from afield.core.rules.wording import measure_in_words

SIDES = {-1: "below", 0: "at", 1: "above"}
Seen = dict[tuple[tuple[str | int, ...], str, int, tuple[str | int, ...]], set[int]]
"""(the comparison's path, rule, which of its bounds, the limit's version) -> sides on which a case was decided."""


@frozen
class _Figure:
    """One figure that one comparison of a rule is made with.

    Attributes:
        index: which of the comparison's bounds it is.
        version: of the limit; None for a figure written in the rule.

    """

    rule: Rule
    key: str
    leaf: Leaf
    index: int
    value: Decimal
    unit: str
    version: Version | None

    @property
    def words(self) -> str:
        """The figure, its limit, and its days."""
        name, printed = self.leaf.bounds[self.index].limit, printed_figure(self.value, self.unit)
        if name is None or self.version is None:
            return printed
        until = f" until {self.version.until}" if self.version.until else ""
        return f"the {printed} of {name} (from {self.version.from_}{until})"


def side_findings(bench: LintBench) -> Iterator[Finding]:
    """A finding for every figure that some side of is not tried; none for rules that no case reaches at all."""
    seen = _seen(bench)
    tried = {trial.verdict.rule.id for trial in bench.right if trial.verdict is not None}
    own = set(bench.own_limits)
    for rule in bench.pack.rules:
        mine = bench.pack.writes(rule)
        if rule.id in tried or (not mine and bench.trials and own & set(limits_of(rule))):
            for figure in _figures(rule, bench):
                if mine or figure.leaf.bounds[figure.index].limit in own:
                    yield from _untried(figure, seen, bench)


def _figures(rule: Rule, bench: LintBench) -> Iterator[_Figure]:
    for key, condition in conditions_of(rule):
        for leaf in leaves(condition):
            for index, bound in enumerate(leaf.bounds if leaf.comparison in ORDERED else ()):
                if bound.limit is None and isinstance(bound.value, Decimal):
                    yield _Figure(rule, key, leaf, index, bound.value, bound.unit, None)
                for version in bench.pack.limits[bound.limit].versions if bound.limit else ():
                    if version.value is not None and _meet(version, rule):
                        yield _Figure(rule, key, leaf, index, version.value, version.unit, version)


def _meet(version: Version, rule: Rule) -> bool:
    """Whether there are days on which both are in force."""
    ends = [end for end in (version.until, rule.until) if end is not None]
    begins = [begin for begin in (version.from_, rule.from_) if begin is not None]
    return not ends or not begins or max(begins) < min(ends)


def _seen(bench: LintBench) -> Seen:
    found: Seen = {}
    for verdict in bench.comparing:
        for result in verdict.explanation.leaves if verdict.explanation else ():
            if result.outcome in (PASSED, FAILED) and isinstance(result.value, float | int):
                for index, side in _sides(result):
                    version = result.bounds[index].version
                    key = (result.leaf.path, verdict.rule.id, index, version.path if version else ())
                    found.setdefault(key, set()).add(side)
    return found


def _sides(result: LeafResult) -> Iterator[tuple[int, int]]:
    for index, bound in enumerate(comparable(result.bounds)):
        if isinstance(bound, float):
            difference = to_12_digits(float(result.value)) - bound
            yield index, (difference > 0) - (difference < 0)


def _untried(figure: _Figure, seen: Seen, bench: LintBench) -> Iterator[Finding]:
    rule, leaf = figure.rule, figure.leaf
    key = (leaf.path, rule.id, figure.index, figure.version.path if figure.version else ())
    missing = [side for side in SIDES if side not in seen.get(key, ()) and _can_be(side, figure, bench)]
    if not missing:
        return
    what = f"no case tries the rule {rule.id} {either([SIDES[side] for side in missing])} {figure.words}"
    told = either([_told(side, figure) for side in missing], "and")
    measure = measure_in_words(leaf.measure, bench.registry.facts)
    advice = f"Add {'a case' if len(missing) == 1 else 'cases'} in which {measure} is {told}."
    limit = leaf.bounds[figure.index].limit
    about = {"rule": rule.id, **({"limit": limit} if limit else {})}
    if bench.pack.writes(rule):
        yield finding("side-untried", bench.rules_file, leaf.path, what, advice, about)
    elif figure.version is not None:
        yield finding("side-untried", bench.rules_file, figure.version.path, what, advice, about)


def _told(side: int, figure: _Figure) -> str:
    """Where the case must lie and, in the condition itself, the sign of the margin there."""
    printed = printed_figure(figure.value, figure.unit)
    place = f"{SIDES[side]} {printed}" if side else f"exactly {printed}"
    if figure.key == "where":
        return place
    upward = figure.leaf.comparison in ("at_least", "above") or (figure.leaf.comparison, figure.index) == ("between", 0)
    negated = sum(step == "none" for step in figure.leaf.path) % 2 == 1
    room = side if upward != negated else -side
    return f"{place} (margin {'above' if room > 0 else 'below' if room else 'of'} 0)"


def _can_be(side: int, figure: _Figure, bench: LintBench) -> bool:
    """Whether the fact can have a value on that side of the figure."""
    least = _least(figure, bench)
    if side > 0 or least is None:
        return True
    return least <= _in_fact_unit(figure, bench) if side == 0 else least < _in_fact_unit(figure, bench)


def _least(figure: _Figure, bench: LintBench) -> float | None:
    """The smallest value that there can be, in the fact's unit; what is counted is never below 0."""
    measure = figure.leaf.measure
    if isinstance(measure, Aggregate):
        return 0.0 if measure.how == "count" else None
    declared = bench.registry.facts.get(measure.name) if isinstance(measure, FactOf) else None
    if declared is None or declared.least is not None:
        return declared.least if declared else None
    return 0.0 if declared.unit == "" else None


def _in_fact_unit(figure: _Figure, bench: LintBench) -> float:
    measure = figure.leaf.measure
    declared = bench.registry.facts.get(measure.name) if isinstance(measure, FactOf) else None
    unit = declared.unit if declared and declared.unit is not None else figure.unit
    return to_12_digits(convert(float(figure.value), figure.unit, unit))
