"""How a USB source states what it gives: the data object of Power Delivery, and the older ways at 5, 9 and 12 V."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from afield.plugins.power.computations.amounts import positive

Mode = Literal["USB 2.0", "USB 3.2", "USB BC 1.2", "USB Type-C 1.5 A", "USB Type-C 3 A"]

MODE_CURRENTS_A = {"USB 2.0": 0.5, "USB 3.2": 0.9, "USB BC 1.2": 1.5, "USB Type-C 1.5 A": 1.5, "USB Type-C 3 A": 3.0}
"""Mode at 5 V without Power Delivery -> its greatest current."""

LEGACY_CURRENTS_A = {9.0: 2.0, 12.0: 1.5}
"""Voltage of a USB-A charger that raises it by signals on the data lines -> its greatest current."""

FLAG_BITS = 0x3FF00000
"""Bits 29 to 20; 31 and 30 are 0 in a fixed supply."""


def usb_fixed_pdo_encode(voltage_v: float, current_a: float, flags: int = 0) -> str:
    """The word in which a Power Delivery source states a fixed supply, in hexadecimal.

    Formula: voltage / 50 mV in bits 19 to 10, current / 10 mA in bits 9 to 0.
    Source: USB Power Delivery Specification, Rev. 3.1 (IEC 62680-1-2), fixed supply PDO of a source (bit fields read in
    public headers).
    Valid: 3 to 48 V in steps of 50 mV, up to 5 A in steps of 10 mA.

    Args:
        voltage_v: voltage.
        current_a: greatest current.
        flags: the word's bits 29 to 20, in their places.

    Raises:
        ValueError: an amount is out of range or between two steps, or a flag is in another field.

    """
    if flags & ~FLAG_BITS:
        raise ValueError(f"flags 0x{flags:X} reach beyond bits 29 to 20")
    volts = _steps(voltage_v, 3, 48, "0.05", "V")
    return f"0x{flags | volts << 10 | _steps(current_a, 0, 5, '0.01', 'A'):08X}"


def usb_5v_mode_power(mode: Mode) -> float:
    """The most power that a USB port gives at 5 V without Power Delivery, in watts.

    Formula: 5 V x 0.5 A for USB 2.0, 0.9 A for USB 3.2, 1.5 A for BC 1.2, 1.5 or 3 A as a USB-C port signals.
    Source: USB 2.0, USB 3.2, Battery Charging 1.2 and USB Type-C specifications (IEC 62680), read in a maker's table,
    which prints 7.5 W for 3 A where 15 W is right.
    Valid: one lane of USB 3.2.

    Args:
        mode: USB 2.0, USB 3.2, USB BC 1.2, USB Type-C 1.5 A or USB Type-C 3 A.

    Raises:
        ValueError: the mode is not known.

    """
    if mode not in MODE_CURRENTS_A:
        raise ValueError(f'mode "{mode}" is not known; known are {", ".join(MODE_CURRENTS_A)}')
    return 5 * MODE_CURRENTS_A[mode]


def legacy_high_voltage_usb(voltage_v: float, current_a: float) -> float:
    """Power of a USB-A charger that raises its voltage by signals on the data lines, in watts.

    Formula: voltage x current.
    Source: common practice, no standard: 9 V up to 2 A, 12 V up to 1.5 A.
    Valid: these two voltages. It is not Power Delivery: a device that knows only that gets 5 V from it.

    Args:
        voltage_v: 9 or 12 V.
        current_a: current.

    Raises:
        ValueError: such chargers have no such voltage or less current.

    """
    if voltage_v not in LEGACY_CURRENTS_A:
        raise ValueError(f"{voltage_v:g} V is no voltage of such chargers; they have 9 and 12 V")
    if positive(current_a, "current", "A") > LEGACY_CURRENTS_A[voltage_v]:
        raise ValueError(f"{current_a:g} A is above the {LEGACY_CURRENTS_A[voltage_v]:g} A of {voltage_v:g} V")
    return voltage_v * current_a


def _steps(amount: float, least: float, most: float, step: str, unit: str) -> int:
    if not least <= amount <= most:
        raise ValueError(f"{amount:g} {unit} is outside {least:g} to {most:g} {unit}")
    steps = Decimal(repr(float(amount))) / Decimal(step)
    if steps != int(steps):
        raise ValueError(f"{amount:g} {unit} is no multiple of {step} {unit}")
    return int(steps)
