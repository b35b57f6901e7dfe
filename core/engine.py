"""The engine in four steps: the installed plugins, a trip, its verdicts, its report."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from afield.core.documents import InputError
from afield.core.host.loading import Host, PluginInfo, installed_host
from afield.core.host.registry import Registry, registry_of

if TYPE_CHECKING:
    from afield.core.comparing.declared import Declared
    from afield.core.host.hookspecs import Section
    from afield.core.packs.trip import Trip
    from afield.core.placing import Bounded, Sought
    from afield.core.report.build import Judgement


@dataclass
class Engine:
    """The loaded plugins and what they declare.

    Attributes:
        host: the plugins; all installed ones if left out.

    """

    host: Host = field(default_factory=installed_host)

    @cached_property
    def registry(self) -> Registry:
        """What the plugins declare, checked to fit together."""
        return registry_of(self.host)

    @cached_property
    def sections(self) -> list[Section]:
        """The plugins' sections of the briefing, those that are made only where they are asked for among them."""
        return [section for section, _ in self.sections_with_owners]

    @cached_property
    def sections_with_owners(self) -> list[tuple[Section, PluginInfo]]:
        """Each section with the plugin that brings it."""
        return [(section, owner) for owner, sections in self.host.results("afield_sections") for section in sections]

    def failures(self) -> list[str]:
        """Every hook that failed so far, in words."""
        return [failure.text for failure in self.host.failures]


class PluginTrouble(Exception):
    """A plan that cannot be read while a plugin fails: what it adds to the plan is missing, so no complaint is sure."""

    def __init__(self, failures: list[str], error: InputError) -> None:
        told = "\n".join(failures)
        advice = "Mend or uninstall the plugin first: what it adds to a plan is not known without it."
        super().__init__(f"{told}\n    = {advice}\n{error}")


def load(plan: Path, engine: Engine, variant: str | None = None) -> Trip:
    """The trip of a plan, or of one of its variants.

    Raises:
        InputError: anything that the plan or a pack says wrongly.
        PluginTrouble: the same while a plugin fails.

    """
    try:
        return _loaded(plan, engine, variant)
    except InputError as error:
        if engine.host.failures:
            raise PluginTrouble(engine.failures(), error) from error
        raise


def _loaded(plan: Path, engine: Engine, variant: str | None) -> Trip:
    from afield.core.packs.trip import load_trip
    from afield.core.packs.variants import overlaid

    trip = load_trip(plan, engine.registry, variant)
    return trip if variant is None else overlaid(trip, load_trip(plan, engine.registry))


def judge(trip: Trip, engine: Engine, now: date | None = None) -> Judgement:
    """Judge a trip by its packs: one verdict for every rule and subject."""
    from afield.core.packs.judging import Bench, verdicts_of_all
    from afield.core.report.build import Judgement

    days = {pack.id: trip.days_for(pack) for pack in trip.packs}
    bench = Bench(trip.world, trip.registry, trip.day, trip.confirmed, days)
    verdicts = verdicts_of_all(trip.packs, bench)
    waivers = trip.all_waivers()
    if not waivers:
        return Judgement(trip, verdicts, now, engine.failures())
    from afield.core.packs.waiving import waived

    marked, standings = waived(verdicts, waivers, trip.world, trip.day)
    return Judgement(trip, marked, now, engine.failures(), standings)


def report(
    judgement: Judgement,
    engine: Engine,
    briefing: bool = False,
    strict: bool = False,
    asked: Mapping[str, Mapping[str, str]] | None = None,
) -> dict[str, Any]:
    """The report of a judged trip.

    Args:
        judgement, engine: as above.
        briefing: with the data of the sections.
        strict: whether open required checklist items count in the exit status.
        asked: of the sections that are made only where they are asked for, those to make, by name with their settings.

    Raises:
        UsageError: the trip, or a setting, leaves nothing to be solved for a section that is asked for.

    """
    from afield.core.report.build import report_json
    from afield.core.report.solutions import solutions_json

    wanted = asked or {}
    sections = [each for each in engine.sections if each.solver is None or each.name in wanted] if briefing else []
    solutions = solutions_json(judgement.trip, engine, sections, wanted)
    whole = replace(judgement, crashes=list(dict.fromkeys([*judgement.crashes, *engine.failures()])))
    return report_json(whole, sections, strict, solutions)


def compare(
    plan: Path, engine: Engine, base: str | None = None, only: Sequence[str] = (), now: date | None = None
) -> dict[str, Any]:
    """The comparison of a plan with its variants, each judged whole.

    Args:
        plan, engine: as for `load`.
        base: the variant that all others are compared with; None for the plan itself.
        only: the variants to compare with it; all others, and the plan, if left out.
        now: as for `judge`.

    Raises:
        InputError, PluginTrouble: as `load`; also a plan without another variant to compare with.
        SetupError: plugins compare what cannot be compared.

    """
    from afield.core.comparing.build import comparison_json
    from afield.core.comparing.declared import declared_comparisons
    from afield.core.comparing.sides import Side, label_of, names_to_compare

    whole = load(plan, engine)
    declared = declared_comparisons(engine.host, engine.registry)
    names = names_to_compare(whole, base, only)
    trips = {name: whole if name is None else load(plan, engine, name) for name in names}
    sides = [Side(name, label_of(name), _with_facts(trip, declared, engine, now)) for name, trip in trips.items()]
    return comparison_json(sides, declared, engine.failures())


def _with_facts(trip: Trip, declared: Sequence[Declared], engine: Engine, now: date | None) -> dict[str, Any]:
    """The report of a trip, with the facts to compare in it even where no rule asks them."""
    judgement = judge(trip, engine, now)
    for entry in declared:
        if entry.comparison.fact in trip.registry.facts:
            trip.world.value("trip", entry.comparison.fact)
    return report(judgement, engine)


def altered(trip: Trip, patch: Mapping[str, Any]) -> Trip:
    """The trip with a merge patch (RFC 7396) laid over its plan, as a candidate to be judged.

    Readings of what it changes are dropped, as for a variant.

    Raises:
        InputError: the patch makes the plan wrong.

    """
    import json

    from afield.core.documents import merged, read_text
    from afield.core.packs.trip import trip_of
    from afield.core.packs.variants import overlaid

    written = read_text(json.dumps(patch), "the candidate")
    document = merged(trip.document, written)
    return overlaid(trip_of(document, trip.document.folder or Path(), trip.registry, trip.variant), trip)


def solve(trip: Trip, sought: Sought) -> list[Bounded]:
    """Where the required rules of the trip would pass, as regions of what is free; see `core.placing`."""
    from afield.core.placing import solved

    return solved(trip, sought)
