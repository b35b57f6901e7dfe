"""Programs and claims as subjects, and what packs state of them: program facts and the entries of their references."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date

from afield.core.documents import InputError, Problem
from afield.core.facts.measured import Measured, Reason, unknown
from afield.core.facts.subjects import Origin, Subject
from afield.core.facts.world import Key
from afield.core.host.composition import Schema, references_schema
from afield.core.host.registry import Registry
from afield.core.host.stated import read_statement, stated_record
from afield.core.language import _
from afield.core.packs.lapses import lapse_of, versions_on
from afield.core.packs.model import DatedFact, Pack, Reference
from afield.core.packs.origins import limit_change_words
from afield.core.packs.selecting import days_of
from afield.core.quantities import convert
from afield.core.rules.complaint import meant
from afield.core.rules.limits import in_force

Records = dict[Key, Measured]


def complete_claims(stated: Iterable[Subject]) -> list[Subject]:
    """The plan's subjects, each claim, and what lies in it, put within its program."""
    found = list(stated)
    programs = {subject.key: subject.data["program"] for subject in found if subject.kind == "claim"}
    return [_within_program(subject, programs.get(subject.within("claim") or "")) for subject in found]


def _within_program(subject: Subject, program: str | None) -> Subject:
    if program is None:
        return subject
    return replace(subject, parents={**subject.parents, "program": f"program:{program}"}, program=program)


def program_subjects(root: Subject, claims: Iterable[Subject], packs: Iterable[Pack]) -> list[Subject]:
    """One subject a claimed program."""
    claimed = {subject.program for subject in claims if subject.program}
    return [
        Subject(f"program:{pack.id}", "program", pack.title, {"trip": root.key}, program=pack.id)
        for pack in packs
        if pack.id in claimed
    ]


def claim_records(subjects: Iterable[Subject], packs: Iterable[Pack], registry: Registry, day: date) -> Records:
    """What packs state: facts of their programs, and of the claims by the references' entries."""
    records: Records = {}
    by_id = {pack.id: pack for pack in packs}
    for subject in subjects:
        if subject.kind == "program" and subject.program:
            pack = by_id[subject.program]
            records |= dict(_program_records(subject, pack, registry, days_of(pack, day)))
        if subject.kind == "claim" and subject.program:
            pack = by_id[subject.program]
            records |= _reference_records(subject, pack, registry, days_of(pack, day))
    return records


def _program_records(
    program: Subject, pack: Pack, registry: Registry, days: Sequence[date]
) -> Iterator[tuple[Key, Measured]]:
    declared = {name: versions for name, versions in pack.facts.items() if name in registry.facts}
    for name, versions in declared.items():
        found = [_program_record(name, versions, program, pack, registry, day) for day in days]
        yield (program.key, name), _agreed(found, _changes_words(name, pack), program.key)


def _agreed(found: Sequence[Measured], text: str, subject: str) -> Measured:
    """The record that holds on every day that the outing may touch; where the days differ it cannot be told."""
    values = [(record.value, record.reason and record.reason.code) for record in found]
    if all(value == values[0] for value in values):
        return found[0]
    return unknown(Reason("versions disagree", text, "date", subject))


def _changes_words(name: str, pack: Pack) -> str:
    """Why what the pack says of a fact, or of a reference, cannot be told."""
    told = _("{name} of {pack} changes with the date, which is not certain")
    return told.format(name=name, pack=pack.id)


def _program_record(
    name: str, versions: tuple[DatedFact, ...], program: Subject, pack: Pack, registry: Registry, day: date
) -> Measured:
    version = in_force(versions, day)
    if version is None:
        text = _("{pack} has no {fact} in force on {day}").format(pack=pack.id, fact=name, day=day)
        return unknown(Reason("no value in force", text, name, program.key))
    writer = pack.fact_writer(name)
    origin = Origin(writer.documents["pack"], version.value_path, writer.folder, closed=True)
    if version.limit is None:
        return stated_record(registry.facts[name], version.value, origin)
    limit = in_force(pack.limits[version.limit].versions, day)
    if limit is None or limit.value is None:
        told = _("the limit {limit} of {pack} has no value in force on {day}")
        text = told.format(limit=version.limit, pack=pack.id, day=day)
        return unknown(Reason("no value in force", text, version.limit, program.key))
    unit = registry.facts[name].unit or limit.unit
    number = convert(float(limit.value), limit.unit, unit)
    # The fact stands in the pack that states it, its figure perhaps in one that extends that pack.
    whose = limit_change_words(version.limit, pack.limits[version.limit], pack.origins[version.limit], day)
    place = origin.place()
    return Measured(number, unit, number, number, method=whose, rank="stated", place=place, source=str(place))


def _reference_records(claim: Subject, pack: Pack, registry: Registry, days: Sequence[date]) -> Records:
    reference = claim.data["reference"]
    records: Records = {(claim.key, "claim.reference"): _text(reference, claim)}
    entries = [entry for entry in pack.references or () if entry.id == reference]
    if not entries:
        _refuse_unknown(claim, pack)
        return records
    versions = [version for version in versions_on(entries, days) if version is not None]
    if len(versions) == 1:
        # On days without one the claim lapses; that is for the judge to say, day by day.
        return records | _entry_records(versions[0], claim, pack, registry)
    reason = lapse_of(claim, pack, days[0]) if not versions else _changing(reference, pack)
    return records | {(claim.key, name): unknown(reason) for name in _listed_facts(registry) if reason}


def _changing(reference: str, pack: Pack) -> Reason:
    return Reason("versions disagree", _changes_words(reference, pack), "date", "trip")


def _entry_records(entry: Reference, claim: Subject, pack: Pack, registry: Registry) -> Records:
    writer = pack.references_writer()
    schema = _entry_schema(registry)
    origin = Origin(writer.documents["references"], entry.path, writer.folder, closed=True)
    return read_statement(origin, schema, claim, registry.facts).records


def _listed_facts(registry: Registry) -> list[str]:
    """The facts that an entry of a references file can state."""
    schema = _entry_schema(registry)
    return [inner["x-fact"] for inner in schema["properties"].values() if "x-fact" in inner]


def _entry_schema(registry: Registry) -> Schema:
    found: Schema = references_schema(registry.fragments, registry.incomplete)["properties"]["references"]["items"]
    return found


def _text(reference: str, claim: Subject) -> Measured:
    assert claim.origin is not None
    place = claim.origin.place("reference")
    return Measured(reference, rank="stated", place=place, source=str(place))


def _refuse_unknown(claim: Subject, pack: Pack) -> None:
    """A reference that the pack's list does not hold is a slip of the pen, unless the claim describes it itself."""
    described = set(claim.data) - {"program", "reference"}
    if pack.references is None or described or claim.origin is None:
        return
    known = sorted({entry.id for entry in pack.references})
    advice = meant(claim.data["reference"], known, f"references of {pack.id}")
    place = claim.origin.place("reference")
    what = f"{pack.id} has no reference {claim.data['reference']}"
    raise InputError([Problem(place, what, advice, claim.origin.document.line(place))])
