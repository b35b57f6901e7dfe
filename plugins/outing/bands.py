"""The amateur bands by their wavelengths, as plans name them."""

from __future__ import annotations

BANDS = (
    "2190m", "630m", "560m", "160m", "80m", "60m", "40m", "30m", "20m", "17m", "15m", "12m", "10m", "8m", "6m", "5m",
    "4m", "2m", "1.25m", "70cm", "33cm", "23cm", "13cm", "9cm", "6cm", "3cm", "1.25cm", "6mm", "4mm", "2.5mm", "2mm",
    "1mm", "submm",
)  # fmt: skip
"""Source: ADIF 3.1.6, III.B.4, Band enumeration."""
