"""What a solar panel gives under a clear sky, by pvlib (the extra `solar`); an upper bound of what it gives in truth.

Azimuths are counted from north through east: a panel in the northern half faces 180, in the southern half 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from afield.plugins.power.computations.amounts import not_negative, positive, within
from afield.plugins.power.computations.clear_sky import LINKE

if TYPE_CHECKING:
    from numpy.typing import NDArray

ALBEDO = 0.2
GAMMA_PER_K = -0.004
"""Change of a silicon panel's output with the temperature of its cells (common practice)."""
STEP_MIN = 5


class ClearDay(NamedTuple):
    """A day under a clear sky: on level ground, in the plane of the panel, from the panel, and after losses."""

    ghi_kwh_m2: float
    poa_kwh_m2: float
    dc_wh: float
    net_wh: float


def pv_dc_power(poa_w_m2: float, cell_c: float, pdc0_w: float, gamma_per_k: float = GAMMA_PER_K) -> float:
    """Power of a panel, in W.

    Formula: P0 x irradiance / 1000 (1 + gamma (cell - 25 °C)).
    Source: Dobos, PVWatts Version 5 Manual, NREL/TP-6A20-62641 (2014), by pvlib.
    Valid: a load that keeps the panel at its best voltage. A half-shaded panel gives far less than half.

    Args:
        poa_w_m2: irradiance in the plane of the panel.
        cell_c: temperature of the cells.
        pdc0_w: rated power.
        gamma_per_k: change with temperature, a share per kelvin.

    Raises:
        ValueError: an amount is negative or the temperature is out of range.

    """
    from pvlib import pvsystem

    irradiance = not_negative(poa_w_m2, "irradiance", "W/m2")
    cell = within(cell_c, -60, 120, "cell temperature", "°C")
    return float(pvsystem.pvwatts_dc(irradiance, cell, positive(pdc0_w, "rated power", "W"), _gamma(gamma_per_k)))


def pv_system_losses(
    soiling: float = 2, shading: float = 3, mismatch: float = 2, wiring: float = 2, availability: float = 3
) -> float:
    """What soiling, shading, mismatch, wiring and the like take together, in per cent.

    Formula: 100 (1 - product of (1 - loss)), with 0.5 % for connections, 1.5 % for ageing by light and 1 % for the
    nameplate besides.
    Source: Dobos, PVWatts Version 5 Manual, NREL/TP-6A20-62641 (2014), by pvlib.
    Valid: installed panels; one spread on the grass loses more to dirt and to its cable.

    Args:
        soiling: per cent lost to dirt.
        shading: per cent lost to shade.
        mismatch: per cent lost to cells that differ.
        wiring: per cent lost in the cables.
        availability: per cent of the time that the panel is off.

    Raises:
        ValueError: a loss is below 0 or above 100 %.

    """
    from pvlib import pvsystem

    stated = {
        "soiling": soiling, "shading": shading, "mismatch": mismatch, "wiring": wiring, "availability": availability
    }  # fmt: skip
    return float(pvsystem.pvwatts_losses(**{name: within(loss, 0, 100, name, "%") for name, loss in stated.items()}))


def pv_clear_day_energy(
    date: str,
    lat: float,
    lon: float,
    tilt_deg: float,
    azimuth_deg: float,
    pdc0_w: float,
    alt_m: float = 0.0,
    gamma_per_k: float = GAMMA_PER_K,
    air_c: float = 20.0,
    wind_m_s: float = 2.0,
) -> ClearDay:
    """Energy of a panel on a day (UTC) under a clear sky, in Wh, with the irradiation behind it.

    Formula: `clear_sky_output` every 5 minutes, summed; net of `pv_system_losses`.
    Source: as for `clear_sky_output`.
    Valid: no clouds all day: an upper bound. A cloudy day gives 30 to 60 % of it (common practice, no source).

    Args:
        date: day, 2026-06-21.
        lat: latitude in degrees.
        lon: longitude in degrees, east positive.
        tilt_deg: of the panel from level.
        azimuth_deg: bearing that it faces.
        pdc0_w: rated power.
        alt_m: height above sea level.
        gamma_per_k: change with temperature, a share per kelvin.
        air_c: air temperature.
        wind_m_s: wind speed.

    Raises:
        ValueError: an amount is out of range.

    """
    import numpy as np

    # The day of the place by the sun, so that one UTC day holds no more and no less than one daylight.
    start = np.datetime64(f"{date}T00:00") - np.timedelta64(round(lon * 4), "m")
    times = start + np.arange(0, 24 * 60, STEP_MIN).astype("timedelta64[m]")
    ghi, poa, dc_w = clear_sky_output(
        [str(time) for time in times], lat, lon, tilt_deg, azimuth_deg, pdc0_w, alt_m, gamma_per_k, air_c, wind_m_s
    )
    hours = STEP_MIN / 60
    sums = (float(series.sum()) * hours for series in (ghi / 1000, poa / 1000, dc_w))
    ghi_kwh, poa_kwh, dc_wh = sums
    return ClearDay(ghi_kwh, poa_kwh, dc_wh, dc_wh * (1 - pv_system_losses() / 100))


def clear_sky_output(
    utc: Sequence[str],
    lat: float,
    lon: float,
    tilt_deg: float,
    azimuth_deg: float,
    pdc0_w: float,
    alt_m: float = 0.0,
    gamma_per_k: float = GAMMA_PER_K,
    air_c: float = 20.0,
    wind_m_s: float = 2.0,
) -> tuple[NDArray[Any], NDArray[Any], NDArray[Any]]:
    """Irradiance on level ground and in the plane of a panel in W/m2, and its power in W, at each time.

    Formula: solar position, Ineichen's clear sky with a Linke turbidity of 3, an even sky, an albedo of 0.2, Faiman's
    cell temperature, PVWatts' power.
    Source: pvlib; NREL/TP-560-34302 (2008); Ineichen and Perez (2002); Faiman (2008); NREL/TP-6A20-62641 (2014).
    Valid: no clouds, no shade: an upper bound. The earth's distance from the sun (3 % more in January, less in July)
    is left out.

    Args:
        utc: times as text.
        lat: latitude in degrees.
        lon: longitude in degrees, east positive.
        tilt_deg: of the panel from level.
        azimuth_deg: bearing that it faces.
        pdc0_w: rated power.
        alt_m: height above sea level.
        gamma_per_k: change with temperature, a share per kelvin.
        air_c: air temperature.
        wind_m_s: wind speed.

    Raises:
        ValueError: an amount is out of range.

    """
    import pandas as pd
    from pvlib import location, pvsystem, temperature

    rated, gamma = positive(pdc0_w, "rated power", "W"), _gamma(gamma_per_k)
    tilt, azimuth = within(tilt_deg, 0, 180, "tilt", "deg"), within(azimuth_deg, -360, 360, "azimuth", "deg")
    air, wind = within(air_c, -90, 60, "air temperature", "°C"), within(wind_m_s, 0, 100, "wind", "m/s")
    within(alt_m, -500, 9000, "altitude", "m")
    where = within(lat, -90, 90, "latitude", "deg"), within(lon, -180, 180, "longitude", "deg")
    times, place = pd.DatetimeIndex(list(utc), tz="UTC"), location.Location(*where, "UTC", alt_m)
    ghi, poa = _irradiance(place, times, tilt, azimuth)
    dc_w = pvsystem.pvwatts_dc(poa, temperature.faiman(poa, air, wind), rated, gamma)
    return ghi.to_numpy(), poa.to_numpy(), dc_w.to_numpy()


def _irradiance(place: Any, times: Any, tilt_deg: float, azimuth_deg: float) -> tuple[Any, Any]:
    """On level ground and in the plane of a panel, as series by time; nothing while the sun is down."""
    from pvlib import clearsky, irradiance

    sun = place.get_solarposition(times)
    mass = place.get_airmass(times, solar_position=sun)["airmass_absolute"]
    sky = clearsky.ineichen(sun["apparent_zenith"], mass, LINKE, place.altitude).fillna(0.0)
    poa = irradiance.get_total_irradiance(
        tilt_deg, azimuth_deg, sun["apparent_zenith"], sun["azimuth"], sky["dni"], sky["ghi"], sky["dhi"],
        albedo=ALBEDO, model="isotropic",
    )["poa_global"].fillna(0.0)  # fmt: skip
    return sky["ghi"], poa


def _gamma(gamma_per_k: float) -> float:
    # Panels on sale lie between -0.005 and 0.
    return within(gamma_per_k, -0.02, 0.02, "change with temperature", "per K")
