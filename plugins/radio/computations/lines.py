"""Feed lines: what they lose, and how they hide the antenna's standing wave."""

from __future__ import annotations

from math import expm1, inf, log, log1p, sqrt
from typing import NamedTuple

from afield.plugins.radio.computations.checked import at_least, positive, standing_wave_ratio, within
from afield.plugins.radio.computations.mismatch import ratio_of, reflected_over_net, reflection

NEPER_DB = 10 / log(10)
"""Decibels of a power ratio of e."""

HUNDRED_FEET_M = 30.48
SPREAD = 0.25
"""Within this share of ours lie all figures that were found published for these types, 14 to 150 MHz."""

PUBLISHED = {"RG-58": ((30.0, 2.47), (150.0, 5.63)), "RG-213": ((30.0, 1.08), (150.0, 2.53))}
"""Cable -> frequency in MHz and matched loss in dB per 100 ft, twice."""


class LineLoss(NamedTuple):
    """What a line loses under a standing wave, how much of it is due to the wave, and what is left for the load."""

    total_db: float
    extra_db: float
    power_to_load_w: float


class CoaxLoss(NamedTuple):
    """Matched loss of a cable, the range of published figures around it, and where it is from."""

    loss_db: float
    low_db: float
    high_db: float
    source: str


def line_total_loss(matched_loss_db: float, swr_at_load: float, power_in_w: float = 1.0) -> LineLoss:
    """Loss of a line whose load is not matched to it.

    Formula: 10 log10[(a^2 - |G|^2) / (a (1 - |G|^2))], a = 10^(ML / 10), |G| at the load; evaluated as
    ML + 10 log10[1 + (1 - a^-2) (s - 1)^2 / (4 s)].
    Source: Pozar, Microwave Engineering, 4th edition (2012), section 2.7, the terminated lossy line.
    Valid: SWR AT THE LOAD, not the one read at the radio. A long line, or one whose characteristic impedance is real:
    a line of less than a quarter wave may lose less than when matched, which this form never gives. With a tuner at
    the radio this loss is all; mismatch loss is not added.

    Args:
        matched_loss_db: loss of the same line into its own impedance.
        swr_at_load: standing wave ratio at the load.
        power_in_w: power that goes into the line: forward less reflected.

    Raises:
        ValueError: a negative loss, an SWR below 1 or infinite, or a power that is not positive.

    """
    matched = at_least(0, matched_loss_db, "matched loss", "dB")
    wave = reflected_over_net(standing_wave_ratio(swr_at_load))
    extra = NEPER_DB * log1p(-expm1(-2 * matched / NEPER_DB) * wave)
    total = matched + extra
    return LineLoss(total, extra, positive(power_in_w, "power", "W") * 10 ** (-total / 10))


def input_swr_of_lossy_line(matched_loss_db: float, swr_at_load: float = inf) -> float:
    """The standing wave ratio that is read at the radio's end of a line.

    Formula: |G| at the input = |G| at the load times 10^(-ML / 10).
    Source: Pozar, Microwave Engineering, 4th edition (2012), section 2.7, the terminated lossy line.
    Valid: as `line_total_loss`. It is never above the load's: loss flatters, and 3 dB of line with no antenna reads 3.

    Args:
        matched_loss_db: loss of the same line into its own impedance.
        swr_at_load: standing wave ratio at the load; infinity, for an open or a short circuit, if not said.

    Raises:
        ValueError: a negative loss or an SWR below 1.

    """
    matched = at_least(0, matched_loss_db, "matched loss", "dB")
    ratio = standing_wave_ratio(swr_at_load, or_infinite=True)
    return min(ratio, ratio_of(reflection(ratio) * 10 ** (-matched / 10)))


def coax_matched_loss(cable: str, frequency_mhz: float, length_m: float) -> CoaxLoss:
    """Loss of a coaxial cable into its own impedance, with the range of published figures.

    Formula: length (k1 sqrt f + k2 f), conductor and dielectric, through the two published points.
    Source: table of matched loss per 100 ft at 30 and 150 MHz, as a cable maker computes it: RG-58 2.47 and 5.63 dB,
    RG-213 1.08 and 2.53 dB.
    Valid: 1.8 to 150 MHz, a cable in good order. Published figures of one type differ by 10 to 40 %, hence the range of
    25 % either way; the data sheet of the cable at hand is better.

    Args:
        cable: `RG-58` or `RG-213`.
        frequency_mhz: frequency.
        length_m: length.

    Raises:
        ValueError: an unknown cable, a frequency out of range, or a negative length.

    """
    if cable not in PUBLISHED:
        raise ValueError(f'cable "{cable}" is not known; known are {", ".join(PUBLISHED)}')
    frequency = within(1.8, 150, frequency_mhz, "frequency", "MHz")
    loss = at_least(0, length_m, "length", "m") / HUNDRED_FEET_M * _per_hundred_feet(cable, frequency)
    source = f"{cable}: published dB per 100 ft at 30 and 150 MHz; other tables differ by up to {SPREAD:.0%}"
    return CoaxLoss(loss, (1 - SPREAD) * loss, (1 + SPREAD) * loss, source)


def _per_hundred_feet(cable: str, frequency_mhz: float) -> float:
    (f1, loss1), (f2, loss2) = PUBLISHED[cable]
    # loss / sqrt f is a straight line over sqrt f.
    start, slope = loss1 / sqrt(f1), (loss2 / sqrt(f2) - loss1 / sqrt(f1)) / (sqrt(f2) - sqrt(f1))
    root = sqrt(frequency_mhz)
    return root * (start + slope * (root - sqrt(f1)))
