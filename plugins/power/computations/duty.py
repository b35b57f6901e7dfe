"""How much of the time a station transmits, and what current that takes, by mode."""

from __future__ import annotations

from typing import NamedTuple

from afield.core.api import _, did_you_mean, marked, quoted_list
from afield.plugins.power.computations.amounts import not_negative, within

SUPPLEMENT_B = marked("FCC OET Bulletin 65, Supplement B (97-01), table 2")
COMMON = marked("common practice, no source")


class Mode(NamedTuple):
    """What a mode asks of the transmitter.

    Attributes:
        name: as printed.
        duty: average power while transmitting, as a share of peak envelope power.
        duty_around: 95 %, from one operator and way of working to another.
        speech: whether the power varies between nothing and its peak, so that the current's mean depends on its law.
        share: of the time on the air spent transmitting, where the plan does not say.
        share_around: 95 %, of that.
        source: of the duty; the shares have none.

    """

    name: str
    duty: float
    duty_around: float
    speech: bool
    share: float
    share_around: float
    source: str = SUPPLEMENT_B


# The table has 20 % for speech without processing and 50 % for heavily processed speech; nobody says which is used.
SSB = Mode(marked("SSB"), 0.35, 0.15, True, 0.3, 0.15)
CW = Mode(marked("CW"), 0.4, 0.05, False, 0.35, 0.15)
FM = Mode(marked("FM"), 1.0, 0.0, False, 0.2, 0.15)
TYPED = Mode(marked("data"), 1.0, 0.0, False, 0.35, 0.2)
SEQUENCED = Mode(marked("data in fixed turns"), 1.0, 0.0, False, 0.4, 0.1)

UNKNOWN = Mode(marked("a mode that is not known"), 0.6, 0.4, True, 0.3, 0.3, COMMON)

MODES: dict[str, Mode] = {
    **dict.fromkeys(("SSB", "USB", "LSB", "PHONE", "VOICE"), SSB),
    **dict.fromkeys(("CW", "MORSE"), CW),
    **dict.fromkeys(("FM", "NFM"), FM),
    **dict.fromkeys(("DATA", "DIGITAL", "RTTY", "PSK", "PSK31", "MFSK", "OLIVIA", "PACKET", "SSTV"), TYPED),
    **dict.fromkeys(("FT8", "FT4", "JT65", "JT9", "WSPR", "JS8"), SEQUENCED),
}
"""Mode as a plan writes it, in capitals -> what it asks of the transmitter."""


def mode_of(written: str) -> Mode:
    """What a mode asks of the transmitter, as a plan writes it, whatever its capitals.

    Raises:
        ValueError: the mode is not known; with what is near.

    """
    key = written.strip().upper()
    if key in MODES:
        return MODES[key]
    near = did_you_mean(key, MODES)
    # Said as the reason for which a balance cannot be told.
    meant = _('mode "{mode}" is not known; did you mean "{near}"? known are {known}')
    what = meant if near else _('mode "{mode}" is not known; known are {known}')
    raise ValueError(what.format(mode=written, near=near, known=quoted_list(MODES)))


def transmit_current(
    receive_a: float, low_w: float, low_a: float, high_w: float, high_a: float, power_w: float, exponent: float
) -> float:
    """Current at an output between two at which it is stated, in amperes.

    Formula: I = I1 + (I2 - I1) (P^a - P1^a) / (P2^a - P1^a), at least the receiving current.
    Source: the current of an amplifier of class B grows as the root of its output (a = 0.5), that of one with a supply
    that follows, or of class A/B with much standing current, up to straight (a = 1); common practice, no source.
    Valid: outputs between the two; a from 0.5 to 1. The lower may be 0 W with the current in transmit without output.

    Args:
        receive_a: current while receiving.
        low_w: lower output.
        low_a: current there.
        high_w: higher output.
        high_a: current there.
        power_w: output.
        exponent: a.

    Raises:
        ValueError: an amount is negative or out of range.

    """
    power = within(power_w, low_w, high_w, "output", "W")
    law = within(exponent, 0.5, 1, "exponent", "")
    receive, low, high = (not_negative(value, "current", "A") for value in (receive_a, low_a, high_a))
    if high_w == low_w:
        return max(receive, high)
    along: float = (power**law - low_w**law) / (high_w**law - low_w**law)
    return max(receive, low + (high - low) * along)


def average_transmit_current(standing_a: float, full_a: float, duty: float, exponent: float) -> float:
    """Mean current while transmitting, in amperes.

    Formula: I0 + (I1 - I0) d^a.
    Source: with a = 1 the current follows the power (mean power d of the peak), with a = 0.5 its root: the mean root
    of a power that varies is at most the root of its mean (Jensen's inequality), so that d^0.5 is an upper bound.
    Valid: a from 0.5 to 1; for keyed and constant modes a = 1 is exact.

    Args:
        standing_a: current in transmit without output; the receiving current stands for it.
        full_a: current at full output.
        duty: mean power as a share of the peak, 0 to 1.
        exponent: a.

    Raises:
        ValueError: an amount is negative or out of range.

    """
    at_peak: float = within(duty, 0, 1, "duty", "") ** within(exponent, 0.5, 1, "exponent", "")
    standing, full = not_negative(standing_a, "current", "A"), not_negative(full_a, "current", "A")
    return standing + (full - standing) * at_peak
