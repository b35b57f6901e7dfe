"""Power as ratios in decibels, and the powers that transmitters and antennas are rated by."""

from __future__ import annotations

from collections.abc import Sequence
from math import expm1, fsum, log, log10

from afield.plugins.radio.computations.checked import at_least, finite, positive, within

DIPOLE_DBI = 2.15
"""Gain of a half-wave dipole over an isotropic antenna, as it is rounded in regulation."""

DIPOLE_FACTOR = 1.64
"""The same as a factor of power, as it is rounded there; 2.15 dB is a factor of 1.6406."""

GREATEST_DB = 200.0
"""Gains and losses beyond this belong to no station; they are slips of the pen."""


def power_ratio_db(p1_w: float, p2_w: float) -> float:
    """The change from one power to another, in decibels; negative for a loss.

    Formula: 10 log10(P2 / P1).
    Source: IEC 60027-3:2002, logarithmic quantities, power-like.
    Valid: powers above 0.

    Args:
        p1_w: the power before.
        p2_w: the power after.

    Raises:
        ValueError: a power that is zero, negative or not finite.

    """
    before, after = positive(p1_w, "first power", "W"), positive(p2_w, "second power", "W")
    return 10 * (log10(after) - log10(before))


def percent_lost(loss_db: float) -> float:
    """The share of a power that a loss takes, in percent.

    Formula: 100 (1 - 10^(-L / 10)).
    Source: IEC 60027-3:2002, logarithmic quantities, power-like.
    Valid: a loss of 0 dB or more.

    Args:
        loss_db: the loss, as a positive figure.

    Raises:
        ValueError: negative, which would be a gain, or not finite.

    """
    return -100 * expm1(-at_least(0, loss_db, "loss", "dB") * log(10) / 10)


def pep_from_vpp(peak_to_peak_v: float, load_ohm: float = 50.0) -> float:
    """Peak envelope power from the peak-to-peak voltage across a load, in watt.

    Formula: (Vpp / 2)^2 / (2 R) = Vpp^2 / (8 R).
    Source: ITU Radio Regulations, edition of 2020, No. 1.157: power averaged over one radio-frequency cycle at the
    crest of the envelope; here of a sine.
    Valid: a resistive load, voltage read at the crest of the modulation.

    Args:
        peak_to_peak_v: from the lowest to the highest instant of the cycle.
        load_ohm: resistance that the voltage is across.

    Raises:
        ValueError: a figure that is zero, negative or not finite.

    """
    voltage, load = positive(peak_to_peak_v, "voltage", "V"), positive(load_ohm, "load", "ohm")
    return voltage * voltage / (8 * load)


def erp(tpo_w: float, gain_dbd: float, losses_db: float | Sequence[float] = ()) -> float:
    """Effective radiated power in the direction of the gain, in watt.

    Formula: P 10^((G - sum of losses) / 10).
    Source: ITU Radio Regulations, edition of 2020, No. 1.162: relative to a half-wave dipole.
    Valid: gain over a dipole (dBd). One over an isotropic antenna (dBi) goes through `dbi_to_dbd` first.

    Args:
        tpo_w: the transmitter's output.
        gain_dbd: the antenna's gain over a half-wave dipole, -200 to 200.
        losses_db: of line, tuner and filters, one or several, each as a positive figure of 0 to 200.

    Raises:
        ValueError: a power that is not positive, or a figure in decibels out of range.

    """
    gain = within(-GREATEST_DB, GREATEST_DB, gain_dbd, "gain", "dBd")
    each = losses_db if isinstance(losses_db, Sequence) else [losses_db]
    losses = fsum(within(0, GREATEST_DB, loss, "loss", "dB") for loss in each)
    return positive(tpo_w, "transmitter output", "W") * _factor(gain - losses)


def dbi_to_dbd(gain_dbi: float) -> float:
    """Gain over a half-wave dipole, from gain over an isotropic antenna.

    Formula: G - 2.15.
    Source: ITU Radio Regulations, edition of 2020, No. 1.160 (the kinds of gain); a dipole has 2.15 dBi.
    Valid: a dipole in free space; over ground a real one gains several decibels more in some directions.

    Args:
        gain_dbi: over an isotropic antenna.

    Raises:
        ValueError: not finite.

    """
    return finite(gain_dbi, "gain", "dBi") - DIPOLE_DBI


def erp_to_eirp(erp_w: float) -> float:
    """Equivalent isotropically radiated power from effective radiated power, in watt.

    Formula: 1.64 ERP.
    Source: ITU Radio Regulations, edition of 2020, Nos. 1.161 and 1.162; 47 CFR 97.313(i) gives 9.15 W ERP for 15 W.
    Valid: a power of 0 or more.

    Args:
        erp_w: relative to a half-wave dipole.

    Raises:
        ValueError: negative or not finite.

    """
    return DIPOLE_FACTOR * at_least(0, erp_w, "ERP", "W")


def _factor(level_db: float) -> float:
    # Many losses of 200 dB leave nothing, not an error.
    return float(10.0 ** (level_db / 10))
