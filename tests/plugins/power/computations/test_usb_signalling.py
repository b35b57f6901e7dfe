from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.usb_signalling import (
    legacy_high_voltage_usb,
    usb_5v_mode_power,
    usb_fixed_pdo_encode,
)


@given(st.integers(min_value=60, max_value=960), st.integers(min_value=0, max_value=500), st.integers(0, 1023))
def test_the_fields_of_a_data_object_come_back(voltage_50mv: int, current_10ma: int, flags: int) -> None:
    word = int(usb_fixed_pdo_encode(voltage_50mv / 20, current_10ma / 100, flags << 20), 16)
    assert (word >> 30, word >> 20 & 1023, word >> 10 & 1023, word & 1023) == (0, flags, voltage_50mv, current_10ma)


@pytest.mark.parametrize(
    ("mode", "watts"),
    [
        ("USB 2.0", 2.5),
        ("USB 3.2", 4.5),
        ("USB BC 1.2", 7.5),
        ("USB Type-C 1.5 A", 7.5),
        ("USB Type-C 3 A", 15),
    ],
)
def test_ports_without_power_delivery_where_3_a_are_15_w(mode: Any, watts: float) -> None:
    assert usb_5v_mode_power(mode) == watts


def test_both_voltages_of_the_older_chargers_come_to_18_w() -> None:
    assert legacy_high_voltage_usb(9, 2) == legacy_high_voltage_usb(12, 1.5) == 18


@pytest.mark.parametrize(
    ("computation", "arguments", "message"),
    [
        (usb_fixed_pdo_encode, (2, 3), "2 V is outside 3 to 48 V"),
        (usb_fixed_pdo_encode, (9, 5.5), "5.5 A is outside 0 to 5 A"),
        (usb_fixed_pdo_encode, (9.02, 3), "9.02 V is no multiple of 0.05 V"),
        (usb_fixed_pdo_encode, (9, 2.225), "2.225 A is no multiple of 0.01 A"),
        (usb_fixed_pdo_encode, (9, 3, 1 << 30), "flags 0x40000000 reach beyond bits 29 to 20"),
        (usb_fixed_pdo_encode, (9, 3, 1 << 19), "flags 0x80000 reach beyond bits 29 to 20"),
        (
            usb_5v_mode_power,
            ("USB 1.1",),
            'mode "USB 1.1" is not known; known are USB 2.0, USB 3.2, USB BC 1.2, USB Type-C 1.5 A, USB Type-C 3 A',
        ),
        (legacy_high_voltage_usb, (15, 1), "15 V is no voltage of such chargers; they have 9 and 12 V"),
        (legacy_high_voltage_usb, (12, 2), "2 A is above the 1.5 A of 12 V"),
        (legacy_high_voltage_usb, (9, 0), "current 0 A must be a finite number above 0"),
    ],
)
def test_what_does_not_exist_is_refused(computation: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computation(*arguments)
    assert str(refused.value) == message
