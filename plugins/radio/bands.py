"""The amateur bands by their wavelengths, with the frequencies that they lie between."""

from __future__ import annotations

BANDS: dict[str, tuple[float, float]] = {
    "2190m": (0.1357, 0.1378), "630m": (0.472, 0.479), "560m": (0.501, 0.504), "160m": (1.8, 2.0), "80m": (3.5, 4.0),
    "60m": (5.06, 5.45), "40m": (7.0, 7.3), "30m": (10.1, 10.15), "20m": (14.0, 14.35), "17m": (18.068, 18.168),
    "15m": (21.0, 21.45), "12m": (24.89, 24.99), "10m": (28.0, 29.7), "8m": (40.0, 45.0), "6m": (50.0, 54.0),
    "5m": (54.000001, 69.9), "4m": (70.0, 71.0), "2m": (144.0, 148.0), "1.25m": (222.0, 225.0), "70cm": (420.0, 450.0),
    "33cm": (902.0, 928.0), "23cm": (1240.0, 1300.0), "13cm": (2300.0, 2450.0), "9cm": (3300.0, 3500.0),
    "6cm": (5650.0, 5925.0), "3cm": (10000.0, 10500.0), "1.25cm": (24000.0, 24250.0), "6mm": (47000.0, 47200.0),
    "4mm": (75500.0, 81000.0), "2.5mm": (119980.0, 123000.0), "2mm": (134000.0, 149000.0), "1mm": (241000.0, 250000.0),
    "submm": (300000.0, 7500000.0),
}  # fmt: skip
"""Band -> lower and upper edge in MHz. Source: ADIF 3.1.6, III.B.4, Band enumeration: the widest of all regions, so
that it names a band; what may be used of it, a country's rules say."""

SHARED: dict[str, tuple[float, float]] = {
    "160m": (1.81, 1.85), "80m": (3.5, 3.8), "60m": (5.3515, 5.3665), "40m": (7.0, 7.2), "30m": (10.1, 10.15),
    "20m": (14.0, 14.35), "17m": (18.068, 18.168), "15m": (21.0, 21.45), "12m": (24.89, 24.99), "10m": (28.0, 29.7),
    "6m": (50.0, 52.0),
}  # fmt: skip
"""Band -> lower and upper edge in MHz of the part that Regions 1, 2 and 3 share. Source: ITU Radio Regulations (2024),
article 5; 60 m by the conference of 2015. What may be used of it, a country's rules say."""


def shared_part(band: str) -> tuple[float, float]:
    """The part of a band that all regions share; the whole band where the table does not have it."""
    return SHARED.get(band, BANDS[band])


def band_of(frequency_mhz: float) -> str | None:
    """The band that a frequency lies in, its edges included; None for one that lies in none."""
    return next((name for name, (low, high) in BANDS.items() if low <= frequency_mhz <= high), None)
