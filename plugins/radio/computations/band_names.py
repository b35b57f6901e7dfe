"""The name of the band that a frequency lies in."""

from __future__ import annotations

from afield.plugins.radio.bands import band_of
from afield.plugins.radio.computations.checked import within

GREATEST_MHZ = 1e7


def band_of_frequency(frequency_mhz: float) -> str:
    """The amateur band that a frequency lies in, by its wavelength.

    Formula: table look-up, both edges belong to the band.
    Source: ADIF 3.1.6 (2025), III.B.4, Band enumeration.
    Valid: names a band only: the table is the widest of all regions and is no leave to transmit, for which the local
    rules and the licence are asked.

    Args:
        frequency_mhz: of the emission, above 0.

    Raises:
        ValueError: no number of megahertz, or one that lies in no band.

    """
    mhz = within(0, GREATEST_MHZ, frequency_mhz, "frequency", "MHz")
    band = band_of(mhz)
    if band is None:
        raise ValueError(f"{mhz:.10g} MHz lies in no amateur band of the table")
    return band
