"""What the plugin registers, and that each computation says what it must."""

from __future__ import annotations

import importlib
import inspect
from collections.abc import Callable
from typing import Any

import pytest

from afield.plugins.power.plugin import afield_computations

ADDRESSES = afield_computations()


def loaded(address: str) -> Callable[..., Any]:
    module, _, name = address.partition(":")
    found: Callable[..., Any] = getattr(importlib.import_module(module), name)
    return found


def test_no_computation_is_registered_twice() -> None:
    assert len({address.partition(":")[2] for address in ADDRESSES}) == len(ADDRESSES)
    assert len(ADDRESSES) >= 34


@pytest.mark.parametrize("address", ADDRESSES)
def test_each_computation_states_formula_source_validity_and_errors(address: str) -> None:
    text = inspect.getdoc(loaded(address)) or ""
    assert [word for word in ("Formula: ", "Source: ", "Valid: ", "Args:", "Raises:") if word not in text] == []


@pytest.mark.parametrize("address", ADDRESSES)
def test_each_parameter_is_described(address: str) -> None:
    found = loaded(address)
    text = inspect.getdoc(found) or ""
    assert [name for name in inspect.signature(found).parameters if f"    {name}: " not in text] == []


def test_nothing_reads_the_charge_of_a_battery_from_its_voltage() -> None:
    voltages = {"nominal_v", "voltage_v", "source_v", "system_v", "drop_v", "max_v", "sink_wants_v", "sink_min_v"}
    functions = [loaded(address) for address in ADDRESSES]
    taken = {name for one in functions for name in inspect.signature(one).parameters if name.endswith("_v")}
    assert taken == voltages
    assert not [address for address in ADDRESSES if "charge" in address and "lfp_charge_limit" not in address]
