"""How far a signal stands above what its mode needs."""

from __future__ import annotations

from math import log10

from afield.plugins.ionosphere.computations.checked import within
from afield.plugins.ionosphere.computations.noise import external_noise_figure

OTHER_LOSS_DB = 9.14
GROUND_DB = 2.0
ROOM_TEMPERATURE_DB = 204.0
"""One over k T0 in decibels: a watt over the noise of 1 Hz at 288 K."""

NEEDED_DBHZ = {"CW": 27.0, "SSB": 40.0, "digital": 14.0}
"""Mode -> signal over noise density that a patient operator, or a weak-signal program, needs.

Common practice, no source: 0 dB in 500 Hz, 6 dB in 2.5 kHz, -20 dB in 2.5 kHz.
"""


def signal_margin(
    frequency_mhz: float,
    way_km: float,
    hops: int,
    absorption_db: float,
    power_w: float,
    mode: str,
    noise: str,
    gains_db: float,
) -> float:
    """Median signal over noise above what the mode needs, in dB.

    Formula: 10 log P + G - (32.45 + 20 log f + 20 log way + absorption + 2 (hops - 1) + 9.14) - Fa + 204 - needed.
    Source: ITU-R P.533-14, sections 5.2.2 and 5.3 (9.14 dB for what is not otherwise included: the ITU-R reference
    software); noise `external_noise_figure`; what a mode needs: common practice, no source.
    Valid: below the maximum usable frequency; noise of people and of the sky, not of lightning.

    Args:
        frequency_mhz: 1.6 to 30.
        way_km: way of the ray, all hops together.
        hops: their number.
        absorption_db: that of all hops together.
        power_w: to the antenna, 0.01 to 3,000.
        mode: `CW`, `SSB` or `digital`.
        noise: a category of `external_noise_figure`.
        gains_db: both antennas' gains together, -60 to 60.

    Raises:
        ValueError: a figure out of range, an unknown mode or category.

    """
    if mode not in NEEDED_DBHZ:
        raise ValueError(f'mode "{mode}" is not known; known are {", ".join(NEEDED_DBHZ)}')
    frequency = within(1.6, 30, frequency_mhz, "frequency", "MHz")
    spread = 32.45 + 20 * log10(frequency) + 20 * log10(within(100, 20_000, way_km, "way", "km"))
    ground = GROUND_DB * (within(1, 100, hops, "hops") - 1)
    loss = spread + within(0, 1e4, absorption_db, "absorption", "dB") + ground + OTHER_LOSS_DB
    sent = 10 * log10(within(0.01, 3000, power_w, "power", "W")) + within(-60, 60, gains_db, "gains", "dB")
    return sent - loss - external_noise_figure(noise, frequency) + ROOM_TEMPERATURE_DB - NEEDED_DBHZ[mode]
