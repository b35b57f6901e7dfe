"""What of the station's power is compared between variants."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import Comparison


def which_battery(record: Mapping[str, Any]) -> str:
    """The figure, and below it the battery that decides."""
    return f"{record['printed']}\n{record['detail']['battery']}"


COMPARISONS = [
    Comparison("energy.trip_used", "Energy used", 300),
    Comparison("energy.least_reserve", "Least charge left until leaving", 310, words=which_battery),
    Comparison("energy.first_end", "Battery ends, after arrival", 320, words=which_battery),
    Comparison("energy.trip_longest_on_air", "Longest time on the air", 330, words=which_battery),
    Comparison("power.radio_voltage", "Voltage at the radio where the battery ends", 350),
    Comparison("power.computer_gain", "Power left for the computer's battery", 360),
]
