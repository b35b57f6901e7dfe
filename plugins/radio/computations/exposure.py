"""Average power: how much of its peak a mode gives, and how much of the time it is on the air."""

from __future__ import annotations

from afield.plugins.radio.computations.checked import at_least, positive, within

DUTY = {
    "conversational SSB, no speech processing": 0.2,
    "conversational SSB, heavy speech processing": 0.5,
    "conversational CW": 0.4,
    "voice FM": 1.0,
    "FSK": 1.0,
    "AFSK": 1.0,
    "carrier": 1.0,
}
"""Mode -> average over peak envelope power while transmitting."""


def mode_duty_factor(mode: str) -> float:
    """Average over peak envelope power while a mode is transmitted.

    Formula: a table.
    Source: FCC OET Bulletin 65, Supplement B, edition 97-01, Table 2; other copies print 0.4 for processed SSB.
    Valid: the modes of the table. A digital mode that it does not name is 1 while keyed.

    Args:
        mode: as the table names it, such as `conversational CW`.

    Raises:
        ValueError: a mode that the table does not name.

    """
    if mode not in DUTY:
        raise ValueError(f'mode "{mode}" is not known; known are {"; ".join(DUTY)}')
    return DUTY[mode]


def time_averaged_power(pep_w: float, duty_factor: float, on_seconds: float, window_seconds: float) -> float:
    """Power averaged over a window of time, in watt.

    Formula: PEP times duty factor times time on the air in the window over the window.
    Source: FCC OET Bulletin 65, Supplement B, edition 97-01, section 2.
    Valid: a duty factor of 0 to 1, and no more time on the air than the window has.

    Args:
        pep_w: peak envelope power.
        duty_factor: average over peak while transmitting.
        on_seconds: time on the air within the window.
        window_seconds: the averaging time.

    Raises:
        ValueError: a figure out of range.

    """
    window = positive(window_seconds, "window", "s")
    on = within(0, window, on_seconds, "time on the air", "s")
    return at_least(0, pep_w, "PEP", "W") * within(0, 1, duty_factor, "duty factor") * on / window
