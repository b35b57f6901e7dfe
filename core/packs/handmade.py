"""The plan's `measured:` entries: values read in the field, which displace what the program finds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from afield.core.documents import Document, InputError, Problem
from afield.core.facts.declarations import Fact
from afield.core.facts.measured import Measured
from afield.core.facts.subjects import Origin, Subject
from afield.core.facts.world import Key
from afield.core.host.given import given_number, given_width, refuse_unfit
from afield.core.host.registry import Registry
from afield.core.host.stated import stated_record
from afield.core.language import _, marked
from afield.core.quantities import QuantityError
from afield.core.rules.complaint import meant

BY_HAND = marked("measured by hand")


def measured_records(document: Document, subjects: Mapping[str, Subject], registry: Registry) -> dict[Key, Measured]:
    """The records of rank measured.

    Raises:
        InputError: an unknown fact or subject, a fact of another kind, a value that does not fit the fact, no
            uncertainty to go by, two values of one fact.

    """
    records: dict[Key, Measured] = {}
    for index, data in enumerate(document.data.get("measured", [])):
        entry = _Entry(document, index, data, subjects, registry)
        key, record = entry.record()
        if key in records:
            first = records[key].place
            advice = f"The first is at {first}. Keep one of the two."
            raise entry.problem("fact", f"{key[1]} of {key[0]} is measured twice", advice)
        records[key] = record
    return records


class _Entry:
    def __init__(
        self,
        document: Document,
        index: int,
        data: Mapping[str, Any],
        subjects: Mapping[str, Subject],
        registry: Registry,
    ) -> None:
        self.document, self.index, self.data = document, index, data
        self.subjects, self.registry = subjects, registry

    def record(self) -> tuple[Key, Measured]:
        declared = self.declared()
        subject = self.subject(declared)
        origin = Origin(self.document, ("measured", self.index, "value"))
        method = _("measured by hand: {how}").format(how=self.data["how"]) if "how" in self.data else _(BY_HAND)
        if declared.type != "number":
            self.refuse_unfit(declared)
            record = stated_record(declared, self.data["value"], origin, rank="measured")
            return (subject, declared.name), replace(record, method=method)
        number = self.given("value", given_number, declared)
        self.refuse_too_small(declared, number)
        around = self.uncertainty(declared)
        parts = {f"measured:{subject}/{declared.name}": around} if around else {}
        place = origin.place()
        record = Measured(
            number, declared.unit, number - around, number + around, parts, method, str(place), rank="measured",
            place=place,
        )  # fmt: skip
        return (subject, declared.name), record

    def declared(self) -> Fact:
        name = self.data["fact"]
        if name in self.registry.facts:
            return self.measurable(self.registry.facts[name])
        raise self.problem("fact", f"no fact is called {name}", meant(name, self.registry.facts, "facts"))

    def measurable(self, declared: Fact) -> Fact:
        """The fact, unless it is the pack's own word: what a program says of itself nobody can measure."""
        if declared.kind == "program" and declared.function is None:
            what = f"{declared.name} is what the program's pack says; it cannot be measured"
            raise self.problem("fact", what, "Measure a fact of the station or of the claim.")
        # A forecast, such as how long a battery will last, has no tool either: a guess must not displace it.
        if declared.type != "opaque" and declared.function is not None and declared.tool is None:
            what = f"{declared.name} cannot be read off a tool"
            raise self.problem("fact", what, "Change in the plan what it rests on; `afield facts NAME` lists that.")
        return declared

    def subject(self, declared: Fact) -> str:
        key = str(self.data.get("of", "trip"))
        known = [subject.key for subject in self.subjects.values() if subject.kind == declared.kind]
        many = f"subjects of the kind {declared.kind}"
        if key not in self.subjects:
            raise self.problem("of", f"the plan has no subject {key}", meant(key, known, many))
        if self.subjects[key].kind != declared.kind:
            what = f"{declared.name} is a fact of a {declared.kind}, but {key} is a {self.subjects[key].kind}"
            raise self.problem("of", what, meant("", known, many))
        return key

    def refuse_too_small(self, declared: Fact, number: float) -> None:
        if declared.least is not None and number < declared.least:
            what = f"{declared.title or declared.name} is never below {declared.least:g} {declared.unit}"
            raise self.problem("value", what, "Write what the tool read.")

    def given(self, field: str, read: Callable[[Any, str | None], float], declared: Fact) -> float:
        try:
            return read(self.data[field], declared.unit)
        except QuantityError as error:
            raise self.problem(field, error.what, error.advice) from error

    def refuse_unfit(self, declared: Fact) -> None:
        if declared.type == "opaque":
            advice = "Measure a fact that rules compare; `afield facts` lists them."
            raise self.problem("fact", f"{declared.name} is no single value that can be measured", advice)
        if "uncertainty" in self.data:
            what = f"{declared.title or declared.name} is no number, so it has no uncertainty"
            raise self.problem("uncertainty", what, "Leave it out.")
        try:
            refuse_unfit(declared, self.data["value"])
        except QuantityError as error:
            raise self.problem("value", error.what, error.advice) from error

    def uncertainty(self, declared: Fact) -> float:
        if "uncertainty" in self.data:
            return self.given("uncertainty", given_width, declared)
        if declared.exact:
            return 0.0
        if declared.tool is not None:
            return declared.tool.uncertainty
        what = f"a measured {declared.title or declared.name} needs its uncertainty"
        raise self.problem("value", what, f"Add `uncertainty: ... {declared.unit}`, half of its 95 % interval.")

    def problem(self, field: str, what: str, advice: str) -> InputError:
        place = self.document.place(("measured", self.index, field))
        return InputError([Problem(place, what, advice, self.document.line(place))])
