"""What plugins solve for the sections of a briefing that are made only where they are asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib import import_module
from typing import Any

from afield.core.documents import InputError
from afield.core.documents.writing import UsageError
from afield.core.facts.time_limit import not_leaving
from afield.core.host.hookspecs import Section, Solution, Solver
from afield.core.host.loading import PluginInfo
from afield.core.packs.trip import Trip
from afield.core.report.values import json_value

Json = dict[str, Any]
Settings = Mapping[str, str]


def solutions_json(trip: Trip, engine: Any, sections: Sequence[Section], asked: Mapping[str, Settings]) -> list[Json]:
    """One entry for each section that is asked for, in the sections' order; one without an answer says what failed.

    Args:
        trip, engine: what the solvers are given.
        sections: those of the briefing.
        asked: section name -> its settings.

    Raises:
        UsageError, InputError: the trip, or a setting, leaves nothing to be solved.
        ValueError: a name that no section with a solver has.

    """
    solving = [(section, section.solver) for section in sections if section.solver is not None]
    unknown = set(asked) - {section.name for section, _ in solving}
    if unknown:
        raise ValueError(f"no section of the briefing that can be asked for is called {', '.join(sorted(unknown))}")
    owners = {section.name: owner for section, owner in engine.sections_with_owners} if solving else {}
    order = sorted(solving, key=lambda pair: (pair[0].order, pair[0].name))
    return [_entry(section.name, owners, solver, trip, engine, asked[section.name]) for section, solver in order]


def _entry(
    name: str, owners: Mapping[str, PluginInfo], solver: Solver, trip: Trip, engine: Any, settings: Settings
) -> Json:
    owner = owners[name]
    solved, failure = _solved(solver, trip, engine, settings)
    failures = [f"{owner} failed at solving {name}: {failure}"] if failure else []
    return {
        "name": name,
        "plugin": {"name": owner.name, "distribution": owner.distribution, "version": owner.version},
        "command": solver.command,
        "settings": dict(settings),
        "found": solved.found if solved else None,
        "crashes": [*failures, *(f"while {name} was solved: {crash}" for crash in (solved.crashes if solved else ()))],
    }


def _solved(solver: Solver, trip: Trip, engine: Any, settings: Settings) -> tuple[Solution | None, str | None]:
    """The answer, as JSON by its schema, or else what failed."""
    try:
        solved: Solution = not_leaving(_function(solver.function), trip, engine, settings)
        found = json_value(solved.found)
        _refuse_other_shape(solver, found)
        return Solution(found, list(solved.crashes)), None
    except (UsageError, InputError):
        raise  # what the user asked cannot be had: that is no failure of the plugin
    except Exception as error:
        return None, f"{type(error).__name__}: {error}"


def _function(address: str) -> Any:
    module, _, name = address.partition(":")
    return getattr(import_module(module), name)


def _refuse_other_shape(solver: Solver, found: Any) -> None:
    from jsonschema import Draft202012Validator

    for error in Draft202012Validator(dict(solver.schema)).iter_errors(found):
        raise ValueError(f"its answer does not fit its schema at {error.json_path}: {error.message}")
