"""The whole way from a transmitter to its antenna: lost in lines, by standing waves, in a tuner, by mismatch."""

from __future__ import annotations

from typing import NamedTuple

from afield.plugins.radio.computations.checked import at_least
from afield.plugins.radio.computations.lines import input_swr_of_lossy_line, line_total_loss
from afield.plugins.radio.computations.mismatch import swr_quantities


class PathLoss(NamedTuple):
    """What is lost between a transmitter's rated output and the antenna, in parts, and the SWR that it works into."""

    total_db: float
    matched_db: float
    standing_wave_db: float
    tuner_db: float
    mismatch_db: float
    swr_at_source: float


def feed_path_loss(
    beyond_db: float, swr_at_antenna: float, before_db: float = 0.0, tuner_db: float | None = None
) -> PathLoss:
    """Loss from a transmitter's forward power to the antenna, with or without a tuner on the way.

    Formula: beyond the tuner the loss under the standing wave, `line_total_loss`; before it the matched loss; no
    mismatch loss, as the tuner turns back what is reflected. Without a tuner the standing wave goes through to the
    transmitter, whose forward power is taken as held: mismatch loss -10 log10(1 - |G|^2) with |G| at the transmitter.
    Source: Pozar, Microwave Engineering, 4th edition (2012), sections 2.3 and 2.7.
    Valid: as `line_total_loss`; pieces in a row that each fit the line add up, whatever their order. A tuner that tunes
    to 1 : 1. A transmitter that reduces its power at a high SWR gives less than this.

    Args:
        beyond_db: matched loss of all that lies between the tuner and the antenna; without a tuner, of all.
        swr_at_antenna: at the antenna's feed point.
        before_db: matched loss of all that lies between the transmitter and the tuner.
        tuner_db: what the tuner itself loses; left out, there is none.

    Raises:
        ValueError: a negative loss, or an SWR below 1 or infinite.

    """
    before = at_least(0, before_db, "loss before the tuner", "dB")
    beyond = at_least(0, beyond_db, "loss beyond the tuner", "dB")
    if tuner_db is not None:
        wave = line_total_loss(beyond, swr_at_antenna).extra_db
        tuner = at_least(0, tuner_db, "loss of the tuner", "dB")
        return PathLoss(before + beyond + wave + tuner, before + beyond, wave, tuner, 0.0, 1.0)
    whole = before + beyond
    wave = line_total_loss(whole, swr_at_antenna).extra_db
    swr = input_swr_of_lossy_line(whole, swr_at_antenna)
    mismatch = swr_quantities(swr).mismatch_loss_db
    return PathLoss(whole + wave + mismatch, whole, wave, 0.0, mismatch, swr)
