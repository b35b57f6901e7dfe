"""What would settle a verdict that cannot be told: a thing to measure, with its figures, to state, confirm or renew."""

from __future__ import annotations

from typing import Any

from afield.core.facts.declarations import Fact, Tool
from afield.core.facts.measured import Reason
from afield.core.language import _, local_digits
from afield.core.packs.verdicts import CANNOT_TELL, Verdict
from afield.core.quantities import shown_unit
from afield.core.report.margins import bound_words, detail_of
from afield.core.report.origins import origin_in_words
from afield.core.report.readings import OPPOSITE, readings
from afield.core.rules.conditions import Condition, FactOf, Leaf
from afield.core.rules.explain import Explanation, LeafResult

Json = dict[str, Any]


def settle_json(verdict: Verdict, facts: dict[str, Fact]) -> Json | None:
    """What would settle the verdict; None if it needs nothing, or nothing is known that would."""
    if verdict.outcome != CANNOT_TELL or verdict.reason is None:
        return None
    measured = _by_measuring(verdict, facts)
    return measured or _by_other_means(verdict, verdict.reason, facts)


def _entry(kind: str, words: str, **more: Any) -> Json:
    empty = {
        "fact": None, "subject": None, "title": None, "input": None, "tool": None, "tool_uncertainty": None,
        "counts_if": None, "fails_if": None,
    }  # fmt: skip
    return {"kind": kind, "words": words, **empty, **more}


def _by_measuring(verdict: Verdict, facts: dict[str, Fact]) -> Json | None:
    explanation = verdict.explanation
    if explanation is None:
        return None
    result = explanation.leaves[explanation.decider]
    measure = result.leaf.measure
    declared = facts.get(measure.name) if isinstance(measure, FactOf) else None
    if declared is None or declared.tool is None or len(result.bounds) != 1 or result.bounds[0].version is None:
        return None
    if _lacks_ground(result, declared):
        return None
    counts, fails = _told_signs(declared, _figures(verdict, explanation, declared.tool, declared.unit or ""))
    holder, tool = verdict.subject.within(declared.kind), declared.tool
    width = f"± {local_digits(f'{tool.uncertainty:g}')} {shown_unit(declared.unit or '')} (95 %)".replace("  ", " ")
    return _entry(
        "measure", _measuring(verdict, result, declared, tool), fact=declared.name, subject=holder,
        title=_(declared.title), input=declared.name, tool=_(tool.name), tool_uncertainty=width, counts_if=counts,
        fails_if=fails,
    )  # fmt: skip


def _measuring(verdict: Verdict, result: LeafResult, declared: Fact, tool: Tool) -> str:
    """What to measure with what, and the limit; whose that is, where it stands in place of another pack's."""
    given = {"what": _what(declared, result), "tool": _(tool.name), "due": bound_words(result.bounds[0])}
    origin = verdict.pack.origins.get(result.bounds[0].limit or "")
    if origin and origin.replaces:
        return _("Measure the {what} with a {tool}; the limit of {pack} is {due}.").format(pack=origin.by, **given)
    return _("Measure the {what} with a {tool}; the limit is {due}.").format(**given)


def _what(declared: Fact, result: LeafResult) -> str:
    """The thing to measure, with the part that is now found to decide it."""
    part, title = detail_of(result.record).get("part"), _(declared.title)
    return _("{title} (now the {part})").format(title=title, part=part) if part else title


def _told_signs(declared: Fact, figures: tuple[str | None, str | None]) -> tuple[str | None, str | None]:
    """The readings, with what a negative one means where the fact says so."""
    counts, fails = figures
    if declared.below_zero is None:
        return figures
    return _sign_told(counts, declared.below_zero), _sign_told(fails, declared.below_zero)


def _sign_told(words: str | None, below_zero: str) -> str | None:
    if not words or not any(f" {sign}" in words for sign in MINUS):
        return words
    return _("{reading}; a reading below 0 is {below_zero}").format(reading=words, below_zero=_(below_zero))


def _lacks_ground(result: LeafResult, declared: Fact) -> bool:
    """Whether the value fails for want of something that a reading needs as well; its last input is what failed."""
    record = result.record
    return (
        record is not None and not record.known and bool(record.inputs) and record.inputs[-1][1] in declared.stands_on
    )


def _figures(verdict: Verdict, explanation: Explanation, tool: Tool, unit: str) -> tuple[str | None, str | None]:
    """The readings with which the rule passes and fails; none where the comparison alone does not decide it."""
    leaves, decider = explanation.leaves, explanation.decider
    open_ones = [index for index, result in enumerate(leaves) if result.outcome == CANNOT_TELL]
    if open_ones != [decider] or decider >= explanation.required or verdict.rule.require is None:
        return None, None
    comparison = leaves[decider].leaf.comparison
    if negations(verdict.rule.require)[decider]:
        comparison = OPPOSITE.get(comparison, "")
    width = 0.0 if verdict.rule.decision == "simple" else tool.uncertainty
    return readings(comparison, leaves[decider].bounds[0], width, unit) or (None, None)


def negations(condition: Condition, negated: bool = False) -> list[bool]:
    """Of every comparison in written order, whether an odd number of `none` stands above it."""
    if isinstance(condition, Leaf):
        return [negated]
    below = negated != (condition.operator == "none")
    return [found for child in condition.children for found in negations(child, below)]


ALREADY_STATED = ("outside validity", "cannot be computed")
"""Codes of reasons whose input is there, but is not such that an answer follows from it."""


def _by_other_means(verdict: Verdict, reason: Reason, facts: dict[str, Fact]) -> Json | None:
    if reason.code == "to be confirmed":
        if reason.settle in (None, verdict.rule.key):
            return _entry("confirm", _("Confirm it in the plan: add it under `confirmed:`."), input=verdict.rule.key)
        words = f"Confirm {reason.settle} in the plan: add it under `confirmed:`."
        return _entry("confirm", words, input=reason.settle)
    inner = _innermost(verdict, reason)
    if inner.code in ("no value in force", "versions disagree"):
        return _entry("renew", _renewing(verdict, inner), input=inner.settle, subject=inner.subject)
    if inner.settle is None:
        return None
    if inner.code == "pack absent":
        words = f"Name the pack {inner.settle} under `packs:`, or claim a reference of it if it judges a program."
        return _entry("state", words, input=inner.settle)
    declared = facts.get(inner.settle)
    title = _(declared.title) if declared else inner.settle
    if inner.code in ("plugin absent", "kind absent"):
        return _entry("install", _installing(inner.settle), input=inner.settle)
    words = (_narrowing(verdict) if inner.code == "within uncertainty" else None) or _stating(inner.code, inner.settle)
    return _entry("state", words, input=inner.settle, subject=inner.subject, title=title,
                  fact=declared.name if declared else None)  # fmt: skip


INSTALL = "install "
"""How what settles a reason begins where it says itself what to install, such as an extra of a distribution."""


def _installing(settle: str) -> str:
    if settle.startswith(INSTALL):
        return _("Install {what}.").format(what=settle.removeprefix(INSTALL))
    return _("Install the {what}.").format(what=settle)


MINUS = tuple(f"-{digit}" for digit in range(10))
"""How a figure below 0 begins."""
MOST_NAMED = 3
WORTH_NAMING = 0.25
"""Share of the whole uncertainty below which a contribution is not worth the trouble."""


def _narrowing(verdict: Verdict) -> str | None:
    """What makes the deciding value unsure, the greatest contribution first; None where nothing is known of it."""
    explanation = verdict.explanation
    result = explanation.leaves[explanation.decider] if explanation is not None else None
    record = result.record if result is not None else None
    if record is None or not record.parts or record.uncertainty == 0:
        return None
    worth = [
        (origin, abs(part)) for origin, part in record.parts.items() if abs(part) > WORTH_NAMING * record.uncertainty
    ]
    named = sorted(worth, key=lambda pair: -pair[1])[:MOST_NAMED]
    told = ", ".join(_made(origin, part, shown_unit(record.unit or "")) for origin, part in named)
    return _("Find out more exactly: {what}.").format(what=told) if named else None


def _made(origin: str, part: float, unit: str) -> str:
    size = f"{local_digits(f'{part:.2g}')} {unit}".rstrip()
    return _("{origin} (makes ± {size})").format(origin=origin_in_words(origin), size=size)


def _innermost(verdict: Verdict, reason: Reason) -> Reason:
    """The reason of the comparison for which it cannot be told whether the rule applies at all."""
    explanation = verdict.explanation
    if reason.code != "applicability" or explanation is None:
        return reason
    return explanation.leaves[explanation.decider].reason or reason


def _stating(code: str, name: str) -> str:
    if code == "within uncertainty":
        return _("Give `{name}` more exactly.").format(name=name)
    return (_("Change `{name}`.") if code in ALREADY_STATED else _("State `{name}`.")).format(name=name)


def _renewing(verdict: Verdict, reason: Reason) -> str:
    if reason.code == "versions disagree":
        return _("Make the date certain: the outcome changes with it.")
    told = _("Get a version of the pack {pack} that covers {day}.")
    if reason.settle == "date":
        told = _("Get a version of the pack {pack} that covers {day}, or change `date`.")
    return told.format(pack=_lapsed_pack(verdict), day=verdict.day)


def _lapsed_pack(verdict: Verdict) -> str:
    """The pack that writes the limit without a value; it may be one that the judging pack extends."""
    leaves = verdict.explanation.leaves if verdict.explanation else ()
    lapsed = [bound.limit for result in leaves for bound in result.bounds if bound.missing and bound.limit]
    origin = verdict.pack.origins.get(lapsed[0]) if lapsed else None
    return origin.by.id if origin else verdict.pack.id
