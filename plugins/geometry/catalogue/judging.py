"""What is found near a position, judged by a plan's station and the packs of the references' programs."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from afield.core.api import Engine, InputError, Problem, altered, judge, load, named_as_given, report
from afield.plugins.geometry.catalogue.asked import Asked
from afield.plugins.geometry.catalogue.findings import findings
from afield.plugins.geometry.position_form import PositionForm
from afield.plugins.geometry.positions import KEYS
from afield.plugins.geometry.station_facts import Position

Claim = Mapping[str, Any]


def judged(
    connection: sqlite3.Connection, catalogue: tuple[Path, str], plan: Path, asked: Asked | None, within_m: float
) -> dict[str, Any]:
    """The findings, and what the rules say of each reference whose program has a pack.

    Args:
        connection, catalogue: the open catalogue; its path and how messages call it.
        plan: its station, with all that it states of its parts, is set up at the position.
        asked: the position; None for the plan's own.
        within_m: how far to look.

    Raises:
        InputError: the plan cannot be read, or does not say where the station is.

    """
    engine = Engine()
    with named_as_given(plan):
        trip = load(plan, engine)
        trip = trip if asked is None else altered(trip, {"station": {"at": _patch(asked)}})
        asked = _asked_of(trip, plan, asked)
        found = findings(connection, catalogue[1], asked, within_m, _reach_m(trip))
    claims = [_claim(each, catalogue[0]) for each in found["references"] if each["program"]]
    fitting, refused = _judgeable(trip, claims)
    found["trip"] = {"file": str(plan), "not_judged": refused, **_verdicts(trip, engine, fitting)}
    return found


def _patch(asked: Asked) -> dict[str, Any]:
    """The plan's position replaced; its accuracy is kept unless another is stated."""
    blank: dict[str, Any] = dict.fromkeys((*KEYS, "point", "layer"))
    stated = {"file": str(Path(asked.at["file"]).absolute())} if "file" in asked.at else {}
    accuracy = {} if asked.accuracy_m is None else {"accuracy": f"{asked.accuracy_m:g} m", "level": f"{asked.level} %"}
    return {**blank, **asked.at, **stated, **accuracy}


def _asked_of(trip: Any, plan: Path, asked: Asked | None) -> Asked:
    """The position of the plan, with its accuracy; what was asked where the plan cannot tell."""
    record = trip.world.value("trip", "station.position")
    if record.value is None and asked is not None:
        return asked
    if record.value is None:
        place = replace(trip.document.place(()), file=str(plan))
        advice = "Mend that, or name the position on the command line."
        raise InputError([Problem(place, f"the station's position cannot be told: {record.reason.text}", advice)])
    found: Position = record.value
    form = PositionForm(found.lat_deg, found.lon_deg, found.form, found.bound_m, list(found.notes))
    return Asked(asked.at if asked else {}, form, found.accuracy_m, None if found.level is None else int(found.level))


def _reach_m(trip: Any) -> float | None:
    """How far the plan's station reaches; None where its parts are not stated."""
    record = trip.world.value("trip", "station.footprint")
    return max((outline.part.shape.reach_m() for outline in record.value or ()), default=None)


def _claim(reference: Mapping[str, Any], catalogue: Path) -> Claim:
    geometry = {"file": str(catalogue.absolute()), "name": reference["name"], "layer": reference["program"]}
    return {
        "program": reference["program"],
        "reference": reference["name"],
        "geometry": {"kind": reference["kind"], **geometry},
    }


def _judgeable(trip: Any, claims: Sequence[Claim]) -> tuple[list[Claim], list[dict[str, str]]]:
    """The claims that the plan can hold, and the others with what is in the way."""
    fitting, refused = [], []
    for claim in claims:
        try:
            altered(trip, {"claims": [claim]})
            fitting.append(claim)
        except InputError as error:
            label = f"{claim['program']} / {claim['reference']}"
            refused.append({"label": label, "why": error.problems[0].what})
    return fitting, refused


def _verdicts(trip: Any, engine: Engine, claims: Sequence[Claim]) -> dict[str, Any]:
    if not claims:
        return {"claims": [], "together": None}
    made = report(judge(altered(trip, {"claims": list(claims)}), engine), engine)
    keys = ("label", "outcome", "words", "worst_margin", "because")
    return {
        "claims": [{key: each[key] for key in keys} for each in made["claims"]],
        "together": made["together"]["words"],
    }
