"""What every call must keep to: the same answer again, no clock, no network, its inputs left alone."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from hashlib import sha256
from typing import Any

from afield.core.engine import Engine
from afield.core.testing.findings import Finding
from afield.core.testing.material import Material
from afield.core.testing.observing import Call, Observation, observed

UNREACHED = "nothing calls it: give a case in a check file, or a plan that reaches it"
SEEDS = ("7", "8")
"""Hash seeds: one of them is another than this process has."""
AGAIN = "import sys; from afield.core.testing.calls import print_again; print_again(sys.argv[1])"


def of_calls(seen: Observation) -> Iterator[Finding]:
    """The checks that look at each call by itself."""
    yield from _each("same answer twice", seen, _second_answer)
    yield from _each("no clock", seen, lambda call: f"it reads the clock: {call.clock[0]}" if call.clock else None)
    yield from _each("no network", seen, lambda call: f"it {call.network[0]}" if call.network else None)
    yield from _each("inputs left alone", seen, _changed_input)


def _each(check: str, seen: Observation, fault: Callable[[Call], str | None]) -> Iterator[Finding]:
    for name, calls in seen.calls.items():
        faults = [found for call in calls if (found := fault(call))]
        if not calls:
            yield Finding(check, name, "not looked at", UNREACHED)
        elif faults:
            yield Finding(check, name, "failed", faults[0])
        else:
            yield Finding(check, name, "passed")


def _second_answer(call: Call) -> str | None:
    return None if call.again == call.told else f"first {short(call.told)}, then {short(call.again)}"


def _changed_input(call: Call) -> str | None:
    return f"it changes its input {call.changed[0]}" if call.changed else None


def of_hash_seed(plugin: str, material: Material, seen: Observation, installed: bool) -> Iterator[Finding]:
    """The same calls in another process, whose sets and texts hash differently."""
    check = "same answer with another hash seed"
    if not installed:
        yield Finding(check, plugin, "not looked at", "the plugin is in no installed distribution")
        return
    others = _in_another_process(plugin, material)
    if isinstance(others, str):
        yield Finding(check, plugin, "failed", f"the other process ended with: {others}")
        return
    for name, calls in seen.calls.items():
        yield _compared(check, name, calls, others.get(name, {}))


def _compared(check: str, name: str, calls: list[Call], others: Mapping[str, str]) -> Finding:
    # Which calls come first may differ; what the same question is answered may not.
    both = [(call.told, others[_key(call)]) for call in calls if _key(call) in others]
    differing = [(ours, theirs) for ours, theirs in both if ours != theirs]
    if not both:
        text = UNREACHED if not calls else "the other process asked it nothing that was asked here"
        return Finding(check, name, "not looked at", text)
    if differing:
        ours, theirs = differing[0]
        return Finding(check, name, "failed", f"here {short(ours)}, in the other process {short(theirs)}")
    return Finding(check, name, "passed")


def _key(call: Call) -> str:
    return sha256(call.asked.encode()).hexdigest()


def _in_another_process(plugin: str, material: Material) -> dict[str, dict[str, str]] | str:
    seed = next(seed for seed in SEEDS if seed != os.environ.get("PYTHONHASHSEED"))
    environment = {
        **os.environ,
        "PYTHONHASHSEED": seed,
        "PYTHONPATH": os.pathsep.join(path for path in sys.path if path),
    }
    asked = json.dumps({
        "plugin": plugin, "files": _texts(material.files), "plans": _texts(material.plans),
        "bindings": str(material.bindings.absolute()) if material.bindings else None,
    })  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", AGAIN, asked], capture_output=True, text=True, env=environment, check=False
    )
    if done.returncode:
        return (done.stderr.strip().splitlines() or [f"status {done.returncode}"])[-1]
    found: dict[str, dict[str, str]] = json.loads(done.stdout.splitlines()[-1])
    return found


def print_again(asked: str) -> None:
    """What the calls gave, as JSON; run in a process of its own."""
    from pathlib import Path

    wanted: Mapping[str, Any] = json.loads(asked)
    bindings = Path(wanted["bindings"]) if wanted["bindings"] else None
    material = Material(tuple(map(Path, wanted["files"])), bindings, tuple(map(Path, wanted["plans"])))
    seen = observed(wanted["plugin"], Engine(), material)
    print(json.dumps({name: {_key(call): call.told for call in calls} for name, calls in seen.calls.items()}))


def _texts(paths: Iterable[Any]) -> list[str]:
    return [str(path.absolute()) for path in paths]


def short(text: str) -> str:
    """The text, or its beginning."""
    return text if len(text) <= 120 else f"{text[:117]}..."
