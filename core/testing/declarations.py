"""What a plugin's facts and check values come to: records on a plan, right cases, units there and back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from afield.core.engine import Engine
from afield.core.facts.declarations import Fact
from afield.core.quantities import QuantityError, convert, dimension_of, parse_quantity, symbols_of, to_12_digits
from afield.core.report.values import fact_value
from afield.core.testing.findings import Finding
from afield.core.testing.material import Declared
from afield.core.testing.observing import Observation, facts_of

FIGURES = (0.0, 1.0, -40.0, 123456.789)


def of_check_values(
    names: Iterable[str], seen: Observation, declared: Declared, files: Sequence[Path]
) -> Iterator[Finding]:
    """Each computation has a right check value, or a stated reason for having none."""
    check = "check values"
    for name in names:
        cases = [case for case in seen.cases if case.computation == name]
        wrong = [case for case in cases if case.status != "right"]
        if wrong:
            yield Finding(check, name, "failed", f"{wrong[0].id}: {wrong[0].status}: {wrong[0].details}")
        elif cases:
            both = name in declared.without
            text = "it has check values: take its reason for having none away" if both else f"{len(cases)} right"
            yield Finding(check, name, "failed" if both else "passed", text)
        elif name in declared.without:
            yield Finding(check, name, "passed", f"none: {declared.without[name]}")
        elif not files:
            yield Finding(check, name, "not looked at", "no check file is there")
        else:
            advice = "give it a case with a source, or say under `without:` why it has none"
            yield Finding(check, name, "failed", f"it has no check value: {advice}")
    for name in sorted(seen.unknown):
        yield Finding(check, name, "not looked at", "cases name it, and no plugin computes it")
    yield from _astray(check, set(names), declared)
    # A file that cannot be read tries nothing; that is a fault, and no gap.
    yield from (Finding(check, file, "failed", f"it cannot be read: {why}") for file, why in seen.unread.items())


def _astray(check: str, names: set[str], declared: Declared) -> Iterator[Finding]:
    """What is declared of no computation of the plugin: a slip of the pen would otherwise go unseen."""
    entries: list[tuple[str, Mapping[str, Any], tuple[str, ...]]]
    entries = [("outside", one, ("computation", "inputs")) for one in declared.outside]
    entries += [("monotonic", one, ("computation", "input", "from", "to", "goes")) for one in declared.monotonic]
    entries += [("without", {"computation": name}, ("computation",)) for name in declared.without]
    for block, entry, needed in entries:
        lacking = [key for key in needed if key not in entry]
        if lacking:
            yield Finding(check, block, "failed", f"an entry has no `{lacking[0]}`: {dict(entry)}")
        elif entry["computation"] not in names:
            yield Finding(check, block, "failed", f"it names {entry['computation']}, no computation of the plugin")


def of_plans(plugin: str, engine: Engine, seen: Observation) -> Iterator[Finding]:
    """Each fact with a function has a value on a plan."""
    check = "facts of a plan"
    for crash in dict.fromkeys(seen.crashes):
        yield Finding(check, plugin, "failed", crash)
    for fact in facts_of(plugin, engine):
        if fact.function is not None:
            yield _on_plans(check, fact, seen)


def _on_plans(check: str, fact: Fact, seen: Observation) -> Finding:
    records = seen.records.get(fact.name, [])
    known = [record for record in records if record.known]
    if any(fact_value(record.value, fact) is None for record in known):
        return Finding(check, fact.name, "failed", "no report can show its value: declare `encode`")
    if known:
        return Finding(check, fact.name, "passed", f"{len(known)} of {len(records)} known")
    reasons = [record.reason.text for record in records if record.reason is not None]
    text = reasons[0] if reasons else f"no plan was read that has a subject of the kind {fact.kind}"
    return Finding(check, fact.name, "not looked at", text)


def of_units(plugin: str, engine: Engine) -> Iterator[Finding]:
    """Each number of a fact comes back from every unit that a person may write it in, and from its own text."""
    for fact in facts_of(plugin, engine):
        if fact.type == "number" and fact.unit:
            faults = list(_lost(fact.unit))
            yield Finding("units there and back", fact.name, "failed" if faults else "passed", "; ".join(faults))


def _lost(unit: str) -> Iterator[str]:
    for symbol in symbols_of(dimension_of(unit)) or [unit]:
        for figure in FIGURES:
            try:
                back = convert(convert(figure, unit, symbol), symbol, unit)
                read = parse_quantity(f"{figure:g} {unit}", unit)
                again = convert(float(read.digits), read.unit, unit)
            except QuantityError as error:
                yield f"{figure:g} {unit}: {error.what}"
                return
            if to_12_digits(back) != to_12_digits(figure) and abs(back - figure) > 1e-9 * max(abs(figure), 1.0):
                yield f"{figure:g} {unit} comes back from {symbol} as {back:g}"
            if abs(again - float(f"{figure:g}")) > 1e-12 * max(abs(again), 1.0):
                yield f"{figure:g} {unit} is read as {again:g}"
