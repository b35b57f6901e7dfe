"""What registering a plugin imports: every command pays for it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator

from afield.core.testing.findings import Finding

CHECK = "registration"
REGISTERING = """
import sys
from importlib import import_module
import afield.core.api, afield.core.engine, pluggy
before = set(sys.modules)
module = import_module(sys.argv[1])
for hook in ("afield_kinds", "afield_fragments", "afield_facts", "afield_computations", "afield_comparisons"):
    list((getattr(module, hook, None) or list)() or ())
own = sys.argv[1].split(".")[0]
tops = {name.split(".")[0] for name in set(sys.modules) - before}
print(*sorted(top for top in tops - {own, "afield"} if top not in sys.stdlib_module_names))
"""
"""Imports the plugin and calls the hooks that every command calls; prints what else that has imported."""


def of_registration(plugin: str, module: str | None) -> Iterator[Finding]:
    """Whether registering the plugin imports a third-party package.

    Args:
        plugin: its name.
        module: its registration module; None where no installed distribution brings it.

    """
    if module is None:
        yield Finding(CHECK, plugin, "not looked at", "the plugin is in no installed distribution")
        return
    command = [sys.executable, "-c", REGISTERING, module]
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=_environment())
    if done.returncode:
        last = (done.stderr.strip().splitlines() or ["no word"])[-1]
        yield Finding(CHECK, plugin, "failed", f"registering it raises {last}")
    elif done.stdout.strip():
        names = ", ".join(done.stdout.split())
        yield Finding(
            CHECK, plugin, "failed", f"registering it imports {names}: import it in the function that uses it"
        )
    else:
        yield Finding(CHECK, plugin, "passed")


def _environment() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
