"""Builds the report of a judged trip; the same inputs give the same bytes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any

from afield.core.facts.measured import Measured
from afield.core.facts.subjects import Subject
from afield.core.facts.time_limit import limited
from afield.core.host.hookspecs import Section
from afield.core.language import _, marked
from afield.core.packs.trip import Trip
from afield.core.packs.verdicts import NOT_APPLICABLE, Verdict
from afield.core.report.overrides import overrides_json
from afield.core.report.records import fact_records
from afield.core.report.rule_records import rule_json
from afield.core.report.run_record import run_json
from afield.core.report.solved import found_by_name
from afield.core.report.sources import sources_used, stale_warnings
from afield.core.report.summary import claims_json, exit_status, summary_json, together_json
from afield.core.report.values import json_value
from afield.core.report.verdict_records import verdict_json
from afield.core.report.waivers import waiver_warnings, waivers_json

if TYPE_CHECKING:
    from afield.core.packs.waiving import Standing

Json = dict[str, Any]
SCHEMA = "urn:afield:schema:report:1"


@dataclass
class Judgement:
    """A trip with its verdicts.

    Attributes:
        now: the day by which it is said that a source was checked too long ago; the trip's date if not given.
        crashes: every hook that failed, in words; what failed at finding a fact, the trip's World knows.
        waivers: how each waiver stands.

    """

    trip: Trip
    verdicts: list[Verdict]
    now: date | None = None
    crashes: list[str] = field(default_factory=list)
    waivers: Sequence[Standing] = ()


def report_json(
    judgement: Judgement, sections: Iterable[Section] = (), strict: bool = False, solutions: Sequence[Json] = ()
) -> Json:
    """The whole report.

    Args:
        judgement: what was judged.
        sections: sections of a briefing; their facts are asked and their data is made. None for a plain check.
        strict: whether open required checklist items count in the exit status.
        solutions: what was solved for sections that are asked for.

    """
    trip = judgement.trip
    facts = dict(trip.registry.facts)
    verdicts = [verdict_json(verdict, facts) for verdict in judgement.verdicts]
    wanted = list(sections)
    _ask(trip, wanted)
    records = fact_records(trip.world)
    claims = claims_json(trip.subjects, verdicts, _titles(trip))
    made, failures = section_data(wanted, records, found_by_name(solutions))
    failures += [crash for solved in solutions for crash in solved["crashes"]]
    crashes = list(dict.fromkeys([*judgement.crashes, *(crash.text for crash in trip.world.crashes), *failures]))
    return {
        "schema": SCHEMA,
        "run": run_json(trip, judgement.now),
        "trip": {"title": trip.document.data["trip"], "date": trip.day.isoformat()},
        "subjects": [subject_json(subject, trip) for subject in trip.subjects.values()],
        "facts": records,
        "rules": [rule_json(rule, pack) for pack in trip.packs for rule in pack.rules],
        "verdicts": verdicts,
        "claims": claims,
        "together": together_json(claims),
        "summary": summary_json(verdicts, {key: subject.label for key, subject in trip.subjects.items()}),
        "warnings": [*warnings_json(judgement, crashes), *unjudged_warnings(claims)],
        "assumptions": assumptions_json(judgement.verdicts, records),
        "sources": sources_used(judgement.verdicts),
        "overrides": overrides_json(trip.packs, trip.day),
        "waivers": waivers_json(judgement.waivers),
        "solutions": list(solutions),
        "sections": made,
        "exit_status": exit_status(verdicts, bool(crashes), strict, claims),
    }


def _ask(trip: Trip, sections: Sequence[Section]) -> None:
    """Ask every fact that a section wants of every subject that it can be asked of."""
    for name in dict.fromkeys(name for section in sections for name in section.wants):
        declared = trip.registry.facts.get(name)
        for subject in list(trip.subjects.values()):
            if declared is not None and subject.kind == declared.kind:
                trip.world.value(subject.key, name)


def section_data(
    sections: Sequence[Section], records: Sequence[Json], solved: Mapping[str, Json] | None = None
) -> tuple[list[Json], list[str]]:
    """Each section's data, made from the records, and from what was solved for it, alone.

    A section that fails is named and left out; one with a solver that found no answer is left out.
    """
    by_fact: dict[str, dict[str, Json]] = {}
    for record in records:
        by_fact.setdefault(record["fact"], {})[record["subject"]] = record
    made, failures = [], []
    found = solved or {}
    possible = [section for section in sections if section.solver is None or section.name in found]
    for section in sorted(possible, key=lambda section: (section.order, section.name)):
        given = {name: by_fact.get(name, {}) for name in section.wants}
        given |= {} if section.solver is None else {"solution": found[section.name]}
        try:
            data = limited(section.data, given)
            _refuse_other_shape(section, data)
        except Exception as error:
            told = _("the section {section} failed: {error}")
            failures.append(told.format(section=section.name, error=f"{type(error).__name__}: {error}"))
            continue
        if data is not None:
            made.append({"name": section.name, "title": _(section.title), "data": data})
    return made, failures


def _refuse_other_shape(section: Section, data: Any) -> None:
    """A section's data that its own schema does not allow is the plugin's fault."""
    if data is None:
        return
    from jsonschema import Draft202012Validator

    for error in Draft202012Validator(dict(section.schema)).iter_errors(json_value(data)):
        raise ValueError(f"its data does not fit its schema at {error.json_path}: {error.message}")


def subject_json(subject: Subject, trip: Trip) -> Json:
    """One subject."""
    pack = next((pack for pack in trip.packs if pack.id == subject.program), None)
    days = trip.days_for(pack) if pack else [trip.day]
    return {
        "key": subject.key,
        "kind": subject.kind,
        "label": subject.label,
        "title": _titles(trip).get(subject.key),
        "parents": dict(subject.parents),
        "dates": [day.isoformat() for day in sorted(days)],
        "place": str(subject.origin.place()) if subject.origin else None,
    }


def _titles(trip: Trip) -> Mapping[str, str | None]:
    given = trip.world.given
    return {key: _first_value(records) for (key, name), records in given.items() if name == "reference.title"}


def _first_value(records: Iterable[Measured]) -> str | None:
    return next((str(record.value) for record in records if record.known), None)


def unjudged_warnings(claims: Iterable[Json]) -> list[Json]:
    """A warning for every claim that no required rule judges."""
    return [
        {
            "place": None,
            "what": _("no required rule judges the claim {claim}").format(claim=claim["label"]),
            "do": _("check the kind of the reference, and ask the program's rules about such places"),
        }
        for claim in claims
        if claim["outcome"] == "not applicable"
    ]


NOT_INSTALLED = marked("the pack {pack} needs the plugin {plugin}, which is not installed")
DROPPED = marked("the {rank} {fact} of {subject} is not used: the variant changes what it rests on")


def warnings_json(judgement: Judgement, crashes: Iterable[str]) -> list[Json]:
    """Everything that the reader must be warned of."""
    trip = judgement.trip
    found = [{"place": None, "what": crash, "do": _("report it to the plugin's maker")} for crash in crashes]
    found += stale_warnings(trip.packs, judgement.now or trip.day)
    found += waiver_warnings(judgement.waivers)
    found += [
        {
            "place": str(dropped.record.place),
            "what": _(DROPPED).format(rank=_(dropped.record.rank), fact=dropped.fact, subject=dropped.subject),
            "do": _("measure it again for the variant"),
        }
        for dropped in trip.world.dropped
    ]
    found += [
        {"place": pack.shown,
         "what": _(NOT_INSTALLED).format(pack=pack.id, plugin=name),
         "do": _("install it; rules that need it cannot be told")}
        for pack in trip.packs for name in pack.absent if name not in trip.registry.host.plugins
    ]  # fmt: skip
    return found


def assumptions_json(verdicts: Iterable[Verdict], records: Iterable[Json]) -> list[Json]:
    """What the rules that were judged take for granted, and the notes of the facts, each once."""
    found: dict[str, Json] = {}
    for verdict in verdicts:
        if verdict.outcome == NOT_APPLICABLE:
            continue
        for text in verdict.rule.assumes:
            _add(found, text, "rules", verdict.rule.key)
    for record in records:
        for text in record["notes"]:
            _add(found, text, "facts", f"{record['fact']} of {record['subject']}")
    return list(found.values())


def _add(found: dict[str, Json], text: str, field: str, name: str) -> None:
    entry = found.setdefault(text, {"text": text, "rules": [], "facts": []})
    if name not in entry[field]:
        entry[field].append(name)
