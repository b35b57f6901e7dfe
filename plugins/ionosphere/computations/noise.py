"""Noise that an antenna picks up from outside."""

from __future__ import annotations

from math import log10

from afield.plugins.ionosphere.computations.checked import within

CATEGORIES = {
    "business": (76.8, 27.7),
    "residential": (72.5, 27.7),
    "rural": (67.2, 27.7),
    "quiet rural": (53.6, 28.6),
    "galactic": (52.0, 23.0),
}
"""Category -> c and d of ITU-R P.372."""


def external_noise_figure(category: str, frequency_mhz: float) -> float:
    """Median noise figure of what a short vertical antenna picks up, in dB above kT0B.

    Formula: Fam = c - d log10 f.
    Source: ITU-R P.372-16, section 5, table 1 (man-made), and section 6.1 (galactic).
    Valid: 0.3 to 250 MHz, quiet rural to 30 MHz. Galactic noise reaches the ground only above foF2. Lightning noise,
    which rules the lowest bands on summer nights, is not in it.

    Args:
        category: `business`, `residential`, `rural`, `quiet rural` or `galactic`.
        frequency_mhz: the frequency.

    Raises:
        ValueError: another category, or a frequency out of range.

    """
    if category not in CATEGORIES:
        raise ValueError(f'category "{category}" is not known; known are {", ".join(CATEGORIES)}')
    frequency = within(0.3, 30 if category == "quiet rural" else 250, frequency_mhz, "frequency", "MHz")
    c, d = CATEGORIES[category]
    return c - d * log10(frequency)
