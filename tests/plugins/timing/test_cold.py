"""A check whose rules ask no time computes none, and imports none of its libraries."""

from __future__ import annotations

import json
import subprocess
import sys

from .conftest import Outing

PROBE = """
import json, sys
from pathlib import Path
from afield.core.engine import Engine, judge, load, report
engine = Engine()
made = report(judge(load(Path(sys.argv[1]), engine), engine), engine)
print(json.dumps([made["exit_status"], sorted(sys.modules)]))
"""
LIBRARIES = {"timezonefinder", "ephem", "tzdata", "h3", "cffi", "flatbuffers"}


def imported(plan: str) -> set[str]:
    done = subprocess.run([sys.executable, "-c", PROBE, plan], capture_output=True, text=True, check=True)
    status, modules = json.loads(done.stdout)
    assert status == 0
    return set(modules)


def test_nothing_of_time_is_imported_for_rules_that_ask_none(outing_of: Outing) -> None:
    plan = outing_of.plan("desert", "2026-06-27", 'arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15"')
    found = imported(str(plan))
    assert "afield.plugins.timing.plugin" in found
    assert not {name for name in found if name.split(".")[0] in LIBRARIES}
    assert not {name for name in found if name.startswith("afield.plugins.timing.computations")}


def test_the_probe_sees_what_a_rule_on_time_imports(outing_of: Outing) -> None:
    outing_of.rules(
        "  - id: light\n    title: Light\n    why: Knots.\n    severity: required\n    for_each: trip\n"
        "    require: {fact: schedule.set_up_in_light, is: true}"
    )
    plan = outing_of.plan("desert", "2026-06-27", 'arrive: "14:45", leave: "21:15", set_up: 30 min')
    assert {"timezonefinder", "ephem", "tzdata"} <= imported(str(plan))
