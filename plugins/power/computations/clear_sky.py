"""Irradiance under a clear sky, by pvlib (the extra `solar`)."""

from __future__ import annotations

from typing import NamedTuple

from afield.plugins.power.computations.amounts import positive, within

LINKE = 3.0
"""Linke turbidity of clean air over land; 2 is very clear, 5 hazy (common practice)."""


class ClearSky(NamedTuple):
    """Irradiance of a clear sky: on level ground, from the sun's disc, and from the rest of the sky."""

    ghi_w_m2: float
    dni_w_m2: float
    dhi_w_m2: float


def clear_sky_ineichen(
    apparent_zenith_deg: float, airmass_absolute: float = 1.0, linke_turbidity: float = LINKE
) -> ClearSky:
    """Irradiance under a clear sky at sea level, in W/m2.

    Formula: Ineichen and Perez with the Linke turbidity at air mass 2.
    Source: Ineichen and Perez (2002), by pvlib.
    Valid: no clouds; smoke and dust need a higher turbidity.

    Args:
        apparent_zenith_deg: distance of the sun from the zenith.
        airmass_absolute: air mass on the way.
        linke_turbidity: 2 very clear, 3 usual, 5 hazy.

    Raises:
        ValueError: an amount is out of range.

    """
    import numpy as np
    from pvlib import clearsky

    zenith = within(apparent_zenith_deg, 0, 180, "zenith distance", "deg")
    air = positive(airmass_absolute, "air mass", ""), within(linke_turbidity, 1, 10, "Linke turbidity", "")
    with np.errstate(divide="ignore", invalid="ignore"):  # with the sun down
        found = clearsky.ineichen(zenith, *air)
    return ClearSky(*(float(found[name]) for name in ("ghi", "dni", "dhi")))


def clear_sky_haurwitz(apparent_zenith_deg: float) -> float:
    """Irradiance on level ground under a clear sky, in W/m2, from the height of the sun alone.

    Formula: 1098 cos(z) exp(-0.059 / cos(z)).
    Source: Haurwitz (1945), by pvlib.
    Valid: no clouds; 0 with the sun down.

    Args:
        apparent_zenith_deg: distance of the sun from the zenith.

    Raises:
        ValueError: it is out of range.

    """
    import pandas as pd
    from pvlib import clearsky

    zenith = within(apparent_zenith_deg, 0, 180, "zenith distance", "deg")
    return float(clearsky.haurwitz(pd.Series([zenith]))["ghi"].iloc[0])
