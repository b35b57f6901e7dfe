"""Registering the plugins imports nothing heavy: only what is used is paid for."""

from __future__ import annotations

import subprocess
import sys

HEAVY = {
    "jinja2", "jsonschema", "mgrs", "networkx", "numpy", "pint", "pygeomag", "pyogrio", "pyproj", "rich", "ruamel",
    "shapely", "typer",
}  # fmt: skip

LOADED = """
import sys
from afield.core.host.hookspecs import Hooks
from afield.core.host.loading import installed_host
host = installed_host()
hooks = [name for name in vars(Hooks) if name.startswith("afield_") and name != "afield_subjects"]
found = {hook: len(list(host.results(hook))) for hook in hooks}
assert not host.failures, host.failures
assert found["afield_facts"] >= 2, found
print(*sorted({name.split(".")[0] for name in sys.modules}))
"""
"""Loads every plugin, calls every hook that needs no plan, and prints which packages that has imported."""


def test_the_hooks_that_register_import_nothing_heavy() -> None:
    done = subprocess.run([sys.executable, "-c", LOADED], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert "afield" in done.stdout.split()
    assert not HEAVY & set(done.stdout.split())


def test_every_heavy_library_is_one_that_is_installed() -> None:
    check = f"import importlib.util as u; print([n for n in {sorted(HEAVY)} if u.find_spec(n) is None])"
    done = subprocess.run([sys.executable, "-c", check], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
