"""The plan's `measured:` entries: values read in the field, which displace what the program finds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.documents import Document, InputError, Problem, did_you_mean
from afield.core.facts.declarations import Fact
from afield.core.facts.measured import Measured
from afield.core.facts.subjects import Origin, Subject
from afield.core.facts.world import Key
from afield.core.host.registry import Registry
from afield.core.host.stated import number_in, stated_record
from afield.core.quantities import QuantityError


def measured_records(document: Document, subjects: Mapping[str, Subject], registry: Registry) -> dict[Key, Measured]:
    """The records of rank measured.

    Raises:
        InputError: an unknown fact or subject, a fact of another kind, a wrong unit, no uncertainty to go by.

    """
    entries = document.data.get("measured", [])
    return dict(_Entry(document, index, entry, subjects, registry).record() for index, entry in enumerate(entries))


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
        method = f"measured by hand: {self.data['how']}" if "how" in self.data else "measured by hand"
        if declared.type != "number":
            record = stated_record(declared, self.data["value"], origin, rank="measured")
            return (subject, declared.name), _with_method(record, method)
        number = self.number(declared, "value")
        around = self.uncertainty(declared)
        parts = {f"measured:{subject}/{declared.name}": around} if around else {}
        place = origin.place()
        record = Measured(
            number,
            declared.unit,
            number - around,
            number + around,
            parts,
            method,
            str(place),
            rank="measured",
            place=place,
        )
        return (subject, declared.name), record

    def declared(self) -> Fact:
        name = self.data["fact"]
        if name in self.registry.facts:
            return self.registry.facts[name]
        raise self.problem("fact", f"no fact is called {name}", _guess(name, list(self.registry.facts)))

    def subject(self, declared: Fact) -> str:
        key = str(self.data.get("of", "trip"))
        if key not in self.subjects:
            known = [subject.key for subject in self.subjects.values() if subject.kind == declared.kind]
            raise self.problem("of", f"the plan has no subject {key}", _guess(key, known))
        if self.subjects[key].kind != declared.kind:
            what = f"{declared.name} is a fact of a {declared.kind}, but {key} is a {self.subjects[key].kind}"
            known = [subject.key for subject in self.subjects.values() if subject.kind == declared.kind]
            raise self.problem("of", what, f"write one of {', '.join(known) or 'none: the plan has no such subject'}")
        return key

    def number(self, declared: Fact, field: str) -> float:
        try:
            return number_in(self.data[field], declared.unit)
        except QuantityError as error:
            raise self.problem(field, error.what, error.advice) from error

    def uncertainty(self, declared: Fact) -> float:
        if "uncertainty" in self.data:
            return self.number(declared, "uncertainty")
        if declared.exact:
            return 0.0
        if declared.tool is not None:
            return declared.tool.uncertainty
        what = f"a measured {declared.title or declared.name} needs its uncertainty"
        raise self.problem("value", what, f"add `uncertainty: ... {declared.unit}` (95 %)")

    def problem(self, field: str, what: str, advice: str) -> InputError:
        place = self.document.place(("measured", self.index, field))
        return InputError([Problem(place, what, advice, self.document.line(place))])


def _with_method(record: Measured, method: str) -> Measured:
    from dataclasses import replace

    return replace(record, method=method)


def _guess(word: str, known: list[str]) -> str:
    guess = did_you_mean(word, known)
    return f"did you mean {guess}?" if guess else f"known are {', '.join(sorted(known)) or 'none'}"
