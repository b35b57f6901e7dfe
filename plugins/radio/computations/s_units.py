"""Signal strengths in S-units."""

from __future__ import annotations

from math import sqrt
from typing import Literal, NamedTuple

from afield.plugins.radio.computations.checked import within

Band = Literal["HF", "VHF"]
"""Below 30 MHz, and above; the amendment of 1990 reaffirms the upper one from 144 MHz."""

S9_DBM = {"HF": -73.0, "VHF": -93.0}
DB_PER_S_UNIT = 6.0
INPUT_OHM = 50.0


class SignalLevel(NamedTuple):
    """Power available at a receiver's input, and the voltage across its 50 ohm."""

    dbm: float
    uv_50ohm: float


def s_unit_to_dbm(s: float, band: Band, over_s9_db: float = 0.0) -> SignalLevel:
    """The level that a signal report in S-units stands for.

    Formula: P = P9 - 6 (9 - S) + dB over S9, P9 = -73 dBm (HF) or -93 dBm (VHF); V = sqrt(50 P).
    Source: IARU Region 1, Technical Recommendation R.1 (1981, amended 1990); VHF Managers Handbook, section 8.6.1.
    Valid: S1 to S9 and decibels over S9; available power of a steady carrier. The voltage is the one across the input:
    the generator's electromotive force is twice that. Real meters are off by several units.

    Args:
        s: the S-unit, 1 to 9.
        band: `HF` below 30 MHz, `VHF` above; between 30 and 144 MHz only the text of 1981 speaks.
        over_s9_db: what is said after S9, such as 20; 0 to 100.

    Raises:
        ValueError: out of range, an unknown band, or decibels over S9 with another S-unit.

    """
    units, over = within(1, 9, s, "S-unit"), within(0, 100, over_s9_db, "over S9", "dB")
    if band not in S9_DBM:
        raise ValueError(f'band "{band}" is not known; HF is below 30 MHz, VHF above')
    if over and units != 9:
        raise ValueError(f"{over:g} dB over S9 cannot be said of S{units:g}; give s=9 with it")
    dbm = S9_DBM[band] - DB_PER_S_UNIT * (9 - units) + over
    return SignalLevel(dbm, 1e6 * sqrt(INPUT_OHM * 1e-3 * 10 ** (dbm / 10)))
