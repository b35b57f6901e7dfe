"""Calls a fact's function with the facts that its parameters name, and gives the result its uncertainty."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING

from afield.core.documents import InputError
from afield.core.facts.declarations import Each, Fact
from afield.core.facts.measured import CannotTell, Estimate, Measured, Reason, root_sum_square, unknown
from afield.core.facts.plain_values import prints, refuse_changed, refuse_endless
from afield.core.facts.subjects import Subject
from afield.core.facts.time_limit import limited
from afield.core.facts.uncertainty import Argument, plain_arguments, spread
from afield.core.frozen import frozen
from afield.core.language import _

if TYPE_CHECKING:
    from afield.core.facts.world import World


@frozen
class Crash:
    """A fact function, or a hook, that raised: who, where, what."""

    plugin: str
    doing: str
    error: str

    @property
    def text(self) -> str:
        """The crash in one line."""
        told = _("{plugin} failed at {doing}: {error}")
        return told.format(plugin=self.plugin, doing=self.doing, error=self.error)


class _Missing(Exception):
    """An input that a function cannot do without is not there."""

    def __init__(self, record: Measured, fact: str, subject: str) -> None:
        super().__init__(fact)
        self.record, self.fact, self.subject = record, fact, subject


class Resolver:
    """Finds one computed record at a time; the World keeps them."""

    def __init__(self, world: World) -> None:
        self.world = world

    def computed(self, subject: Subject, declared: Fact) -> Measured:
        """The record that the fact's function gives for the subject; never raises."""
        inputs: list[tuple[str, str]] = []
        try:
            arguments = self._arguments(subject, declared, inputs)
            return limited(self._called, subject, declared, arguments, inputs)
        except _Missing as missing:
            return unknown(_because(missing), unit=declared.unit, inputs=tuple(inputs))
        except CannotTell as silence:
            return unknown(_settled(silence.reason, subject), unit=declared.unit, inputs=tuple(inputs))
        except InputError:
            raise  # what the user wrote is wrong: that is no crash, and it ends the run with its own message
        except Exception as error:
            return unknown(self._crashed(subject, declared, error), unit=declared.unit, inputs=tuple(inputs))

    def _arguments(self, subject: Subject, declared: Fact, inputs: list[tuple[str, str]]) -> dict[str, Argument]:
        return {
            parameter: self._argument(subject, declared, parameter, need, inputs)
            for parameter, need in declared.parameters.items()
        }

    def _argument(
        self, subject: Subject, declared: Fact, parameter: str, need: str | Each, inputs: list[tuple[str, str]]
    ) -> Argument:
        if need == "subject":
            return subject
        optional = parameter in declared.optional
        if isinstance(need, Each):
            self._refuse_failed(need.kind)
            members = self.world.gathered(subject, need.kind)
            return [(member, self._record(member, need.fact, optional, inputs)) for member in members]
        record = self._record(subject, need, optional, inputs)
        return record if record.known else None

    def _refuse_failed(self, kind: str) -> None:
        """Members that could not be had are not the same as no members."""
        reason = self.world.failed_kinds.get(kind)
        if reason is not None:
            raise CannotTell(reason.text, reason.settle, reason.code, reason.subject)

    def _record(self, subject: Subject, need: str, optional: bool, inputs: list[tuple[str, str]]) -> Measured:
        holder = subject.within(self.world.facts[need].kind)
        if holder is None:
            text = _("{subject} lies within no {kind}").format(subject=subject.key, kind=_(self.world.facts[need].kind))
            raise CannotTell(text, code="kind absent")
        inputs.append((holder, need))
        record = self.world.value(holder, need)
        # Optional means that it need not be stated; an input that failed for another reason still matters.
        if not record.known and not (optional and record.not_stated):
            raise _Missing(record, need, holder)
        return record

    def _called(
        self, subject: Subject, declared: Fact, arguments: Mapping[str, Argument], inputs: list[tuple[str, str]]
    ) -> Measured:
        assert declared.function is not None
        before = prints(arguments)
        result = declared.function(**plain_arguments(arguments))
        refuse_changed(before, arguments)
        estimate = result if isinstance(result, Estimate) else Estimate(result)
        _check(declared, estimate)
        parts, changed_by = dict(estimate.parts), None
        if not declared.owns_uncertainty:
            found = spread(declared.function, arguments, estimate.value)
            parts, changed_by = {**found.parts, **parts}, found.changed_by
        if changed_by is not None:
            raise self._changing(changed_by, inputs)
        if not all(math.isfinite(part) for part in parts.values()):
            raise ValueError("its value is not finite at the edge of an input's uncertainty")
        return _record(declared, estimate, _with_own(parts, estimate, f"{declared.name} of {subject.key}"), inputs)

    def _changing(self, origin: str, inputs: list[tuple[str, str]]) -> CannotTell:
        """A result that is no number and is not the same all over an input's interval; names that input."""
        holder, need = next(key for key in inputs if origin in self.world.value(*key).parts)
        title = self.world.facts[need].title or need
        text = _("it changes within the uncertainty of {fact}").format(fact=_(title))
        return CannotTell(text, need, "within uncertainty", holder)

    def _crashed(self, subject: Subject, declared: Fact, error: Exception) -> Reason:
        plugin = self.world.owners.get(declared.name) or _("an unnamed plugin")
        doing = _("{fact} of {subject}").format(fact=declared.name, subject=subject.key)
        crash = Crash(plugin, doing, f"{type(error).__name__}: {error}")
        self.world.crashes.append(crash)
        return Reason("plugin failed", crash.text)


def _because(missing: _Missing) -> Reason:
    reason = missing.record.reason
    assert reason is not None
    code = "missing input" if reason.code == "not stated" else reason.code
    return Reason(code, reason.text, reason.settle or missing.fact, reason.subject or missing.subject)


def _settled(reason: Reason, subject: Subject) -> Reason:
    # A computed fact is never "not stated" itself: something that it needs is missing.
    code = "missing input" if reason.code == "not stated" else reason.code
    return Reason(code, reason.text, reason.settle, reason.subject or subject.key)


def _check(declared: Fact, estimate: Estimate) -> None:
    """Refuse a result that is not what the fact declares; silence about it would look like an answer."""
    value = estimate.value
    due: dict[str, tuple[type, ...]] = {"number": (int, float), "text": (str,), "bool": (bool,), "list": (list, tuple)}
    wanted = due.get(declared.type)
    wrong = wanted is not None and (not isinstance(value, wanted) or (declared.type == "number" and value is True))
    if wrong or (declared.type == "number" and isinstance(value, bool)):
        raise TypeError(f"it returned {value!r}, not a {declared.type}")
    numbers = [number for number in (value, estimate.low, estimate.high) if isinstance(number, float)]
    if any(not math.isfinite(number) for number in [*numbers, *estimate.parts.values()]):
        raise ValueError("it returned a number that is not finite")
    _check_interval(estimate)
    refuse_endless(estimate)
    if declared.choices and value not in declared.choices:
        raise ValueError(f"it returned {value!r}, which is none of {', '.join(declared.choices)}")


def _check_interval(estimate: Estimate) -> None:
    """An interval beside its value would be judged as if it held it."""
    too_low = estimate.low is not None and estimate.low > estimate.value
    too_high = estimate.high is not None and estimate.high < estimate.value
    if too_low or too_high:
        raise ValueError(
            f"it returned {estimate.value!r} outside of its interval {estimate.low!r} to {estimate.high!r}"
        )


def _with_own(parts: dict[str, float], estimate: Estimate, origin: str) -> dict[str, float]:
    """An interval without parts is an origin of its own, so that facts which rest on this one inherit it."""
    if parts or (estimate.low is None and estimate.high is None):
        return parts
    ends = [abs(end - estimate.value) for end in (estimate.low, estimate.high) if end is not None]
    return {origin: max(ends)} if max(ends) else parts


def _record(declared: Fact, estimate: Estimate, parts: dict[str, float], inputs: list[tuple[str, str]]) -> Measured:
    low, high = estimate.low, estimate.high
    if declared.type == "number":
        around = root_sum_square(parts)
        low = estimate.value - around if low is None else low
        high = estimate.value + around if high is None else high
    return Measured(
        value=estimate.value, unit=declared.unit, low=low, high=high, parts=parts, method=estimate.method,
        inputs=tuple(inputs), rank="computed", detail=dict(estimate.detail), notes=estimate.notes,
    )  # fmt: skip
