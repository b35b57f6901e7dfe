"""Runs every benchmark and prints its figures beside their budgets; it judges nothing.

Run: python tests/bench/run.py
"""

from __future__ import annotations

import tempfile
from importlib.resources import as_file, files
from pathlib import Path

import cold
import energy
import kit
import near
import placement
import terrain
import verdicts


def print_cold(title: str, arguments: list[str], budget: float, scratch: Path) -> None:
    """Prints what a command costs in a cold process."""
    cost = cold.cold(arguments, scratch)
    print(
        f"{title:<32}{cost.ratio:5.2f} x importing its libraries alone (budget {budget:.1f} x): "
        f"{1000 * cost.command:.0f} ms and {1000 * cost.libraries:.0f} ms of processor time",
        flush=True,
    )


def main() -> None:
    """Prints all figures."""
    demo = files("afield.programs").joinpath("demo", "trip.yaml")
    with as_file(demo) as plan, tempfile.TemporaryDirectory() as folder:
        scratch = Path(folder)
        brief = ["brief", str(plan), "-o", str(scratch / "briefing"), "--force"]
        print_cold("afield check, cold", ["check", str(plan)], 1.5, scratch)
        print_cold("afield brief, cold", brief, 2.5, scratch)
    print()
    verdicts.main()
    print()
    energy.main()
    print()
    kit.main()
    print()
    near.main()
    print()
    placement.main()
    print()
    terrain.main()


if __name__ == "__main__":
    main()
