"""The comparison as JSON, made from the reports of all sides and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from afield.core.comparing.changes import changes_json, standing_json
from afield.core.comparing.declared import Declared, OwnWords
from afield.core.comparing.rows import rows_json
from afield.core.comparing.sides import Side
from afield.core.language import _, marked
from afield.core.report.statuses import EXIT_CRASH, EXIT_OK

Json = dict[str, Any]
SCHEMA = "urn:afield:schema:comparison:1"
TO_REPORT = marked("report it to the plugin's maker")


def comparison_json(sides: Sequence[Side], comparisons: Iterable[Declared], failures: Iterable[str]) -> Json:
    """The whole comparison.

    Args:
        sides: the base first, each judged whole.
        comparisons: what plugins compare, in order.
        failures: every hook that failed, in words.

    """
    base, *others = sides
    own, failed = OwnWords(), list(failures)
    rows, silent = rows_json(sides, comparisons, own)
    warnings = _warnings(sides, [*failed, *own.failures])
    crashed = bool(own.failures or failed) or any(side.report["exit_status"] == EXIT_CRASH for side in sides)
    return {
        "schema": SCHEMA,
        "run": {name: base.report["run"][name] for name in ("engine", "now", "plan", "plugins")},
        "sides": [_side_json(side, side is base) for side in sides],
        "rows": rows,
        "silent": silent,
        "changes": [changes_json(base, other) for other in others],
        "warnings": warnings,
        "exit_status": EXIT_CRASH if crashed else EXIT_OK,
    }


def _side_json(side: Side, is_base: bool) -> Json:
    packs = side.report["run"]["packs"]
    return {
        "name": side.name,
        "label": side.label,
        "is_base": is_base,
        "trip": side.report["trip"],
        "packs": [{name: pack[name] for name in ("id", "version", "sha256")} for pack in packs],
        "standing": standing_json(side),
    }


def _warnings(sides: Sequence[Side], failures: Iterable[str]) -> list[Json]:
    """Each warning once, with the sides that it is given for; that a plugin failed concerns all of them."""
    every = [side.label for side in sides]
    found: dict[tuple[str | None, str], Json] = {}
    for failure in failures:
        found[None, failure] = {"sides": every, "place": None, "what": failure, "do": _(TO_REPORT)}
    for side in sides:
        for warning in side.report["warnings"]:
            entry = found.setdefault((warning["place"], warning["what"]), {"sides": [], **warning})
            if side.label not in entry["sides"]:
                entry["sides"] = [*entry["sides"], side.label]
    return list(found.values())
