"""Standing waves: what a mismatch reflects, and what a quarter wave of line makes of it."""

from __future__ import annotations

from math import inf, log10, sqrt
from typing import NamedTuple

from afield.plugins.radio.computations.checked import at_least, positive, standing_wave_ratio


class Mismatch(NamedTuple):
    """What a standing wave ratio comes to.

    Gamma is the magnitude of the voltage reflection coefficient. Of a perfect match the return loss is infinite, of
    total reflection the mismatch loss.
    """

    gamma: float
    return_loss_db: float
    mismatch_loss_db: float
    reflected_percent: float


class LinePowers(NamedTuple):
    """What a directional wattmeter shows."""

    forward_w: float
    reflected_w: float


def swr_quantities(swr: float) -> Mismatch:
    """Reflection coefficient, return loss, mismatch loss and reflected power of a standing wave ratio.

    Formula: |G| = (s - 1) / (s + 1); return loss -20 log10 |G|; mismatch loss -10 log10(1 - |G|^2); reflected |G|^2.
    Source: Pozar, Microwave Engineering, 4th edition (2012), section 2.3, the terminated lossless line.
    Valid: 1 and above; infinity is an open or a short circuit. Mismatch loss is what a source without a tuner fails to
    deliver, not a loss in the system: behind a tuner only the line's own loss counts, see `line_total_loss`.

    Args:
        swr: the standing wave ratio, where the figures are wanted.

    Raises:
        ValueError: below 1.

    """
    ratio = standing_wave_ratio(swr, or_infinite=True)
    gamma = reflection(ratio)
    return Mismatch(gamma, 2 * _loss_db(gamma), _loss_db(1 - gamma * gamma), 100 * gamma * gamma)


def swr_from_powers(forward_w: float, reflected_w: float) -> float:
    """The standing wave ratio that a directional wattmeter's two readings come to.

    Formula: |G|^2 = Pr / Pf; s = (1 + |G|) / (1 - |G|).
    Source: Pozar, Microwave Engineering, 4th edition (2012), section 2.3, the terminated lossless line.
    Valid: both read at one place, reflected below forward. At the radio, the line's loss hides part of the reflection.

    Args:
        forward_w: forward power.
        reflected_w: reflected power.

    Raises:
        ValueError: forward power not positive, reflected negative or not below forward.

    """
    forward = positive(forward_w, "forward power", "W")
    reflected = at_least(0, reflected_w, "reflected power", "W")
    if reflected >= forward:
        raise ValueError(f"reflected power {reflected:.12g} W is not below the forward {forward:.12g} W")
    return ratio_of(sqrt(reflected / forward))


def forward_power_for_delivered(swr: float, delivered_w: float) -> LinePowers:
    """Forward and reflected power where a given net power goes on towards the load.

    Formula: Pf = P / (1 - |G|^2) = P (s + 1)^2 / (4 s); Pr = Pf - P = P (s - 1)^2 / (4 s).
    Source: Pozar, Microwave Engineering, 4th edition (2012), section 2.3, the terminated lossless line.
    Valid: SWR of 1 and above, but not infinite; one place on the line.

    Args:
        swr: the standing wave ratio there.
        delivered_w: forward less reflected power.

    Raises:
        ValueError: SWR below 1 or infinite, or a power that is not positive.

    """
    ratio, delivered = standing_wave_ratio(swr), positive(delivered_w, "delivered power", "W")
    reflected = delivered * reflected_over_net(ratio)
    return LinePowers(delivered + reflected, reflected)


def quarter_wave_transformer(z_load_ohm: float, z_line_ohm: float) -> float:
    """Characteristic impedance of a quarter wave of line that matches a load to another line, in ohm.

    Formula: sqrt(Zload Zline).
    Source: Pozar, Microwave Engineering, 4th edition (2012), section 2.5.
    Valid: resistances; a section of an electrical quarter wave, so for one frequency and its odd multiples.

    Args:
        z_load_ohm: resistance of the load.
        z_line_ohm: characteristic impedance of the line to be matched.

    Raises:
        ValueError: a resistance that is zero, negative or not finite.

    """
    return sqrt(positive(z_load_ohm, "load", "ohm")) * sqrt(positive(z_line_ohm, "line", "ohm"))


def reflection(swr: float) -> float:
    """Magnitude of the reflection coefficient of a standing wave ratio, 1 for an infinite one."""
    return 1.0 if swr == inf else (swr - 1) / (swr + 1)


def ratio_of(gamma: float) -> float:
    """Standing wave ratio of the magnitude of a reflection coefficient, infinite for 1."""
    return inf if gamma == 1 else (1 + gamma) / (1 - gamma)


def reflected_over_net(swr: float) -> float:
    """Reflected over net power, |G|^2 / (1 - |G|^2) = (s - 1)^2 / (4 s), without the loss of figures at high ratios."""
    return (swr - 1) / 4 * ((swr - 1) / swr)


def _loss_db(share: float) -> float:
    # 0.0 is added so that a share of 1 gives 0, not -0.
    return inf if share <= 0 else -10 * log10(share) + 0.0
