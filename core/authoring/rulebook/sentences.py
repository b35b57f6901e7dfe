"""Conditions as sentences: what must be so, and where a rule applies, with the figures of the limits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from afield.core.facts.declarations import Fact, Kind
from afield.core.frozen import frozen
from afield.core.packs.model import Pack
from afield.core.quantities import printed_both
from afield.core.rules.conditions import Aggregate, Bound, Condition, FactOf, Group, Leaf, Measure, VerdictOf
from afield.core.rules.limits import Limit, Version, printed_figure

MUST, IS = "must be", "is"
NOT = {MUST: "must not be", IS: "is not"}
_WITHOUT_ARTICLE = ("the ", "a ", "an ", "what ", "when ", "own ", "whether ")
_SYSTEMS = ("m", "km", "cm", "mm", "ft", "yd", "mi", "in")


@frozen
class Speaker:
    """What names stand for: facts, kinds, and a pack's rules and limits."""

    facts: Mapping[str, Fact]
    kinds: Mapping[str, Kind]
    pack: Pack

    def due(self, condition: Condition) -> str:
        """What must be so, as a sentence."""
        return sentence(self.clause(condition, MUST))

    def applies(self, condition: Condition) -> str:
        """Where a rule applies, as a sentence."""
        return sentence(f"it applies where {self.clause(condition, IS)}")

    def clause(self, condition: Condition, verb: str) -> str:
        """The condition as a clause, without a capital and a full stop.

        Args:
            condition: a comparison, or several joined.
            verb: MUST for what is due, IS for where it is due.

        """
        if isinstance(condition, Leaf):
            return self._leaf(condition, verb)
        clauses = [self.clause(child, verb if condition.operator == "all" else IS) for child in condition.children]
        if len(clauses) == 1 and condition.operator != "none":
            return clauses[0]
        return self._joined(condition, clauses)

    def _joined(self, group: Group, clauses: list[str]) -> str:
        if group.operator == "all":
            return ", and ".join(clauses)
        if group.operator == "any":
            return f"at least one of these is so: {'; or '.join(clauses)}"
        return f"none of these is so: {'; '.join(clauses)}"

    def _leaf(self, leaf: Leaf, verb: str) -> str:
        told = self._yes_or_no(leaf, verb)
        if told is not None:
            return told
        what = self.measure(leaf.measure)
        if leaf.comparison == "exists":
            return f"{what} {verb} {'stated' if leaf.bounds[0].value else 'left unstated'}"
        bounds = [self.bound(bound) for bound in leaf.bounds]
        if leaf.comparison == "between":
            return f"{what} {verb} between {' and '.join(bounds)}, both included"
        if leaf.comparison == "one_of":
            return f"{what} {verb} {listed(bounds, 'or')}"
        comparison = "" if leaf.comparison == "is" else f"{leaf.comparison.replace('_', ' ')} "
        return f"{what} {verb} {comparison}{bounds[0]}"

    def _yes_or_no(self, leaf: Leaf, verb: str) -> str | None:
        """A fact that is true or false, as what is so or not so."""
        value, measure = leaf.bounds[0].value, leaf.measure
        if leaf.comparison != "is" or not isinstance(value, bool) or not isinstance(measure, FactOf):
            return None
        title = self.title(measure.name)
        if title.startswith("whether "):
            return yes_or_no(title, value)
        return f"{with_article(title)} {verb if value else NOT[verb]} so"

    def measure(self, measure: Measure) -> str:
        """The measure as a noun phrase with its article."""
        if isinstance(measure, FactOf):
            return with_article(self.title(measure.name))
        if isinstance(measure, VerdictOf):
            return f'the verdict on "{self.rule_title(measure.rule)}"'
        return self._gathered(measure)

    def _gathered(self, aggregate: Aggregate) -> str:
        kind = self.kind(aggregate.kind)
        of = self.title(aggregate.of.name) if aggregate.of else ""
        heads = {"count": f"the number of: {kind}", "sum": f"the sum of the {of} over each {kind}"}
        head = heads.get(aggregate.how, f"the {aggregate.how} {of} of any {kind}")
        only = f", counting only where {self.clause(aggregate.where, IS)}" if aggregate.where else ""
        same = listed([self.title(fact.name) for fact in aggregate.distinct], "and")
        once = f", those with the same {same} counting once" if same else ""
        return f"{head}{only}{once}{',' if only or once else ''}"

    def bound(self, bound: Bound) -> str:
        """What is compared with: a figure, or that of a limit which is in force last."""
        if bound.limit is not None:
            return limit_words(self.pack.limits.get(bound.limit), bound.limit)
        if isinstance(bound.value, Decimal):
            return figure_words(bound.value, bound.unit)
        if isinstance(bound.value, bool):
            return "true" if bound.value else "false"
        return str(bound.written)

    def title(self, name: str) -> str:
        """The fact's title; its name where its plugin is absent."""
        fact = self.facts.get(name)
        return fact.title if fact and fact.title else name

    def kind(self, name: str) -> str:
        """The kind's title; its name where its plugin is absent."""
        kind = self.kinds.get(name)
        return kind.title if kind and kind.title else name

    def rule_title(self, name: str) -> str:
        """The title of a rule of the pack, or of another pack whose verdict it asks for."""
        if name in self.pack.elsewhere:
            return f"{self.pack.elsewhere[name].title} (pack {name.partition('/')[0]})"
        return next((rule.title for rule in self.pack.rules if rule.id == name), name)


def limit_words(limit: Limit | None, name: str) -> str:
    """The figure of a limit that is in force last, with the day from which it is, where there were others."""
    if limit is None or not limit.versions:
        return f"the limit {name}"
    version = limit.versions[-1]
    if version.value is None:
        return f"the limit {name}, which is not in force since {version.from_}"
    since = f", from {version.from_} on" if len(limit.versions) > 1 else ""
    return f"{version_words(version)}{since}"


def version_words(version: Version) -> str:
    """The figure that governs, with the equivalents that the source prints, or else the same in the other system."""
    assert version.value is not None
    also = [printed_figure(value, unit) for value, unit in version.also_printed]
    figure = printed_figure(version.value, version.unit)
    return f"{figure} ({', '.join(also)})" if also else figure_words(version.value, version.unit)


def figure_words(value: Decimal, unit: str) -> str:
    """A figure as printed, a length that is not 0 in both systems."""
    other = printed_both(float(value), unit).partition(" (")[2] if unit in _SYSTEMS and value else ""
    return f"{printed_figure(value, unit)} ({other}" if other else printed_figure(value, unit)


def yes_or_no(title: str, value: bool) -> str:
    """A title such as "whether the chain is complete" as what is so, or not so."""
    told = title.removeprefix("whether ")
    return told if value else f"it is not so that {told}"


def with_article(title: str) -> str:
    """The title as a noun phrase in a sentence."""
    return title if title.startswith(_WITHOUT_ARTICLE) else f"the {title}"


def listed(words: Iterable[str], joiner: str) -> str:
    """Words with commas, the last joined by a word."""
    found = list(words)
    return f"{', '.join(found[:-1])} {joiner} {found[-1]}" if len(found) > 1 else "".join(found)


def sentence(clause: str) -> str:
    """The clause with a capital and a full stop."""
    return f"{clause[:1].upper()}{clause[1:]}{'' if clause.endswith(('.', '?', '!')) else '.'}"
