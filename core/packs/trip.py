"""Brings a plan and its packs together: subjects, what is stated of them, and the World that answers for them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from afield.core.documents import Document, InputError, Problem, check_schema, patched, read_document
from afield.core.facts.measured import Measured
from afield.core.facts.subjects import Origin, Subject
from afield.core.facts.world import Key, World
from afield.core.host.composition import plan_schema
from afield.core.host.registry import Registry
from afield.core.host.stated import read_statement
from afield.core.packs.asking import ask_elsewhere
from afield.core.packs.claims import claim_records, complete_claims, program_subjects
from afield.core.packs.confirmed import confirmed_rules
from afield.core.packs.derived import derived_subjects, failed_kinds
from afield.core.packs.handmade import measured_records
from afield.core.packs.model import Pack
from afield.core.packs.selecting import days_of
from afield.core.packs.selection import packs_of_plan
from afield.core.packs.utc_days import known_utc_days
from afield.core.rules.complaint import meant

if TYPE_CHECKING:
    from afield.core.packs.waivers import Waiver

Given = dict[Key, list[Measured]]


@dataclass
class Trip:
    """A plan ready to be judged.

    Attributes:
        document: the plan (of a variant: the patched plan).
        day: local date of arrival.
        packs: program packs in the order of the claims, then trip packs as listed.
        subjects: key -> subject, the trip first.
        world: the values of their facts.
        confirmed: keys of the checklist rules that the plan confirms.
        variant: name of the variant, None for the plan itself.
        variants: names of the plan's variants.
        waivers: the plan's own.

    """

    document: Document
    day: date
    packs: list[Pack]
    subjects: dict[str, Subject]
    world: World
    registry: Registry
    confirmed: set[str] = field(default_factory=set)
    variant: str | None = None
    variants: tuple[str, ...] = ()
    waivers: tuple[Waiver, ...] = ()

    def all_waivers(self) -> list[Waiver]:
        """The plan's waivers, then those of its packs."""
        return [*self.waivers, *(waiver for pack in self.packs for waiver in pack.waivers)]

    def days_for(self, pack: Pack) -> list[date]:
        """The days under whose rules the pack judges it."""
        return days_of(pack, self.day, known_utc_days(pack, self.world, self.day))


def load_trip(path: Path, registry: Registry, variant: str | None = None) -> Trip:
    """Read and check a plan with the packs that it calls for.

    Raises:
        InputError: anything that the plan or a pack says wrongly; every problem found is listed.

    """
    document = read_document(path, path.name)
    return trip_of(_of_variant(document, variant), path.parent, registry, variant)


def _of_variant(document: Document, variant: str | None) -> Document:
    if variant is None:
        return document
    written = document.data.get("variants")
    names = list(written) if isinstance(written, dict) else []
    if variant not in names:
        advice = meant(variant, names, "variants in the plan")
        raise InputError([document.problem(("variants",), f"there is no variant {variant}", advice)])
    return patched(document, ("variants", variant))


def trip_of(document: Document, folder: Path, registry: Registry, variant: str | None = None) -> Trip:
    """The trip that a plan's document describes."""
    schema = plan_schema(registry.fragments, registry.incomplete)
    _raise_if_any(check_schema(document, schema, {}))
    if variant is None:
        variants = document.data.get("variants", {})
        _raise_if_any([problem for name in variants for problem in _wrong(document, name, schema)])
    packs = packs_of_plan(document, folder, registry)
    _refuse_nothing_to_judge(document, packs)
    if ask_elsewhere(packs):
        from afield.core.packs.together import refuse_unjudgeable

        refuse_unjudgeable(packs, registry)
    day = date.fromisoformat(document.data["date"])
    root = Subject("trip", "trip", document.data["trip"], data=document.data, origin=Origin(document, (), folder))
    statement = read_statement(Origin(document, (), folder), schema, root, registry.facts)
    subjects = _with_programs(root, statement.subjects, packs)
    given: Given = {key: [record] for key, record in statement.records.items()}
    _add(given, claim_records(subjects.values(), packs, registry, day))
    subjects |= derived_subjects(registry, document, subjects)
    _add(given, measured_records(document, subjects, registry))
    failed = failed_kinds(registry)
    world = World(registry.facts, registry.kinds, subjects, given, owners=registry.owner_names(), failed_kinds=failed)
    confirmed = confirmed_rules(document, packs)
    variants = tuple(document.data.get("variants", {}))
    waivers = _waivers(document, packs, subjects, registry)
    return Trip(document, day, packs, subjects, world, registry, confirmed, variant, variants, waivers)


def _waivers(
    document: Document, packs: list[Pack], subjects: Mapping[str, Subject], registry: Registry
) -> tuple[Waiver, ...]:
    if not document.data.get("waivers"):
        return ()
    from afield.core.packs.waiver_reading import plan_waivers

    return plan_waivers(document, packs, subjects, registry.kinds)


def _wrong(document: Document, variant: str, schema: Mapping[str, Any]) -> list[Problem]:
    """What a variant would make wrong in the plan: said at once, not on the evening when it is needed."""
    own = document.data["variants"][variant]
    if isinstance(own, dict) and "variants" in own:
        what, advice = "a variant has no variants of its own", "Write each variant under the plan's own `variants:`."
        return [document.problem(("variants", variant, "variants"), what, advice, at_key=True)]
    return check_schema(patched(document, ("variants", variant)), schema, {})


def _refuse_nothing_to_judge(document: Document, packs: list[Pack]) -> None:
    """A plan that calls for no pack would be green without anything having been looked at."""
    if not packs:
        advice = "Claim a reference under `claims:`, or name a pack that judges the trip under `packs:`."
        raise InputError([document.problem(("trip",), "the plan claims nothing and names no packs", advice)])


def _with_programs(root: Subject, stated: Iterable[Subject], packs: Iterable[Pack]) -> dict[str, Subject]:
    claims = complete_claims(stated)
    programs = program_subjects(root, claims, packs)
    return {subject.key: subject for subject in [root, *programs, *claims]}


def _add(given: Given, records: Mapping[Key, Measured]) -> None:
    for key, record in records.items():
        given.setdefault(key, []).append(record)


def _raise_if_any(problems: list[Problem]) -> None:
    if problems:
        raise InputError(problems)
