"""The amateur bands by their wavelengths, with the frequencies that they lie between."""

from __future__ import annotations

BANDS: dict[str, tuple[float, float]] = {
    "2190m": (0.1357, 0.1378), "630m": (0.472, 0.479), "160m": (1.8, 2.0), "80m": (3.5, 4.0), "60m": (5.06, 5.45),
    "40m": (7.0, 7.3), "30m": (10.1, 10.15), "20m": (14.0, 14.35), "17m": (18.068, 18.168), "15m": (21.0, 21.45),
    "12m": (24.89, 24.99), "10m": (28.0, 29.7), "6m": (50.0, 54.0), "4m": (70.0, 71.0), "2m": (144.0, 148.0),
    "1.25m": (222.0, 225.0), "70cm": (420.0, 450.0), "33cm": (902.0, 928.0), "23cm": (1240.0, 1300.0),
    "13cm": (2300.0, 2450.0),
}  # fmt: skip
"""Band -> lower and upper edge in MHz. Source: ADIF 3.1.4, III.B.4, Band enumeration: the widest of all regions, so
that it names a band; what may be used of it, a country's rules say."""


def band_name(written: str) -> str:
    """The band as the table has it: "20 M" is "20m"."""
    return "".join(written.split()).lower()


def band_of(frequency_mhz: float) -> str | None:
    """The band that a frequency lies in; None for one that lies in none."""
    return next((name for name, (low, high) in BANDS.items() if low <= frequency_mhz <= high), None)
