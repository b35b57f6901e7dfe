"""The conformance kit: everything that a plugin promises, tried on one plugin by its name."""

from __future__ import annotations

from collections.abc import Sequence

from afield.core.engine import Engine
from afield.core.host.computations import computations
from afield.core.testing.calls import of_calls, of_hash_seed
from afield.core.testing.declarations import of_check_values, of_plans, of_units
from afield.core.testing.documentation import of_documentation
from afield.core.testing.findings import ABOUT_CALLS, Finding, counted, told
from afield.core.testing.inverses import of_inverses
from afield.core.testing.material import Material, declared_in, registration_module, shipped_material
from afield.core.testing.numbers import of_direction, of_not_finite, of_validity
from afield.core.testing.observing import addresses_of, observed
from afield.core.testing.registering import of_registration


def conformance(plugin: str, engine: Engine | None = None, material: Material | None = None) -> list[Finding]:
    """Every finding on a plugin.

    Args:
        plugin: its name, as in its entry point.
        engine: holds it; all installed plugins if left out.
        material: what it is tried with; what came with it, in the folder `checks` beside its registration module, if
            left out.

    Raises:
        LookupError: no plugin has that name.

    """
    engine = engine or Engine()
    if plugin not in engine.host.plugins:
        raise LookupError(f"no plugin is called {plugin}")
    given = shipped_material(plugin) if material is None else material
    module = registration_module(plugin)
    functions = {name: computations(engine.host)[name] for name in addresses_of(plugin, engine)}
    seen, declared = observed(plugin, engine, given), declared_in(given.files)
    return [
        *of_registration(plugin, module.__name__ if module else None),
        *of_documentation(plugin, engine, functions),
        *of_check_values(functions, seen, declared, given.files),
        *of_plans(plugin, engine, seen),
        *of_calls(seen),
        *of_hash_seed(plugin, given, seen, installed=module is not None),
        *of_not_finite(functions, seen),
        *of_validity(functions, seen, declared),
        *of_direction(functions, declared),
        *of_units(plugin, engine),
        *of_inverses(plugin, engine, given),
    ]


def nothing_ran(findings: Sequence[Finding]) -> bool:
    """Whether nothing that the plugin computes was called: what passes then says little of it."""
    return not any(finding.outcome != "not looked at" for finding in findings if finding.check in ABOUT_CALLS)


def failed(findings: Sequence[Finding]) -> list[str]:
    """What failed, in words; for a test that asserts that it is nothing."""
    lines = [f"{one.check}: {one.of}: {one.text}" for one in findings if one.outcome == "failed"]
    return [*lines, "nothing of the plugin was called"] if nothing_ran(findings) else lines


__all__ = ["Finding", "Material", "conformance", "counted", "failed", "nothing_ran", "told"]
