"""Reads a checked document beside its schema: its subjects, and the facts that it states, each with its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from afield.core.documents import InputError
from afield.core.facts.declarations import Fact
from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.facts.subjects import Origin, Piece, Subject, slug
from afield.core.language import _, local_digits
from afield.core.quantities import QuantityError, convert, parse_quantity, shown_unit

Path = tuple[str | int, ...]


@dataclass
class Statement:
    """What one document states: subjects in their order, and records by (subject key, fact)."""

    subjects: list[Subject] = field(default_factory=list)
    records: dict[tuple[str, str], Measured] = field(default_factory=dict)


def read_statement(origin: Origin, schema: Mapping[str, Any], subject: Subject, facts: Mapping[str, Fact]) -> Statement:
    """Walk the object at the origin beside its schema.

    Args:
        origin: the document and the path of the object.
        schema: the object's schema, with x-fact, x-kind and x-key.
        subject: whose facts the object's own leaves state.
        facts: declared facts, for units and defaults.

    Raises:
        InputError: two items of one key.

    """
    statement = Statement()
    _Walk(origin, facts, statement).object(schema, _at(origin.document.data, origin.path), (), subject)
    return statement


@dataclass
class _Walk:
    origin: Origin
    facts: Mapping[str, Fact]
    into: Statement

    def object(self, schema: Mapping[str, Any], data: Mapping[str, Any], path: Path, subject: Subject) -> None:
        for name, inner in schema.get("properties", {}).items():
            if name in data:
                self.property(inner, data[name], (*path, name), subject)

    def property(self, schema: Mapping[str, Any], value: Any, path: Path, subject: Subject) -> None:
        if "x-fact" in schema:
            self.into.records[subject.key, schema["x-fact"]] = self.record(schema["x-fact"], value, path)
        elif isinstance(value, dict):
            self.object(schema, value, path, subject)
        elif isinstance(value, list) and "properties" in schema.get("items", {}):
            self.array(schema, value, path, subject)

    def array(self, schema: Mapping[str, Any], items: list[Any], path: Path, subject: Subject) -> None:
        for index, item in enumerate(items):
            inner = subject
            if "x-kind" in schema:
                inner = self.subject(schema, item, (*path, index), subject)
            self.object(schema["items"], item, (*path, index), inner)

    def subject(self, schema: Mapping[str, Any], item: Mapping[str, Any], path: Path, outer: Subject) -> Subject:
        kind, keys = schema["x-kind"], schema["x-key"]
        names = [str(item[key]) for key in ([keys] if isinstance(keys, str) else keys)]
        local = "/".join(slug(name) for name in names)
        prefix = "" if outer.kind == "trip" else outer.key.split(":", 1)[1] + "/"
        found = Subject(
            key=f"{kind}:{prefix}{local}", kind=kind, label=" / ".join(names),
            parents={**outer.parents, outer.kind: outer.key}, data=item, origin=self.piece(path), program=outer.program,
        )  # fmt: skip
        self.refuse_twice(found, path, names)
        self.into.subjects.append(found)
        return found

    def refuse_twice(self, subject: Subject, path: Path, names: list[str]) -> None:
        first = next((other for other in self.into.subjects if other.key == subject.key), None)
        if first is None:
            return
        assert first.origin is not None
        what = f"a second {subject.kind} {'/'.join(names)}"
        alike = "" if first.label == subject.label else " Capitals, spaces and punctuation do not tell names apart."
        advice = f"The first is at {first.origin.place()}.{alike} Keep one of the two, or name another."
        raise InputError([self.origin.document.problem(self.origin.path + path, what, advice)])

    def piece(self, path: Path) -> Origin:
        return Origin(self.origin.document, self.origin.path + path, self.origin.folder, self.origin.closed)

    def record(self, name: str, value: Any, path: Path) -> Measured:
        return stated_record(self.facts[name], value, self.piece(path))


def stated_record(declared: Fact, value: Any, origin: Origin, rank: str = "stated") -> Measured:
    """The record of a stated value: a quantity in the fact's unit, text and truth as they are, a structure as a Piece.

    Raises:
        InputError: a number without the unit that is due, or with another's.

    """
    place = origin.place()
    shared: dict[str, Any] = {"rank": rank, "place": place, "source": str(place), "unit": declared.unit}
    if declared.type == "opaque":
        return Measured(Piece(value, origin), **shared)
    if declared.type != "number":
        return Measured(value, **shared)
    number = _number_at(origin, value, declared.unit)
    if declared.exact:
        return Measured(number, low=number, high=number, **shared)
    if declared.default_uncertainty is None:
        text = _("{title} is stated without an uncertainty, and {fact} has no default")
        text = text.format(title=_(declared.title), fact=declared.name)
        return unknown(Reason("no uncertainty stated", text, declared.name), **shared)
    around = declared.default_uncertainty
    size = f"{local_digits(f'{around:g}')} {shown_unit(declared.unit or '')}".rstrip()
    note = _("± {size} (95 %) is assumed: the plan states none").format(size=size)
    parts = {f"{place}": around} if around else {}
    return Measured(number, low=number - around, high=number + around, parts=parts, notes=(note,), **shared)


def number_in(value: Any, unit: str | None) -> float:
    """A stated number in the unit: a quantity's text is converted, a plain number (a count) is taken as it is."""
    if isinstance(value, int | float):
        return float(value)
    quantity = parse_quantity(str(value), unit or "")
    return convert(float(quantity.digits), quantity.unit, unit or quantity.unit)


def _number_at(origin: Origin, value: Any, unit: str | None) -> float:
    try:
        return number_in(value, unit)
    except QuantityError as error:
        raise InputError([origin.document.problem(origin.path, error.what, error.advice)]) from error


def _at(data: Any, path: Path) -> Any:
    found = data
    for step in path:
        found = found[step]
    return found
