"""What cold with wind, and heat with moist air, feel like."""

from __future__ import annotations

from math import sqrt

from afield.plugins.outing.computations.checked import within

CHART_END_F = 137.0
"""Greatest cell of the heat index chart."""


def wind_chill_f(t_f: float, v_mph: float) -> float:
    """Wind chill temperature, in degrees Fahrenheit.

    Formula: 35.74 + 0.6215 T - 35.75 V^0.16 + 0.4275 T V^0.16.
    Source: US National Weather Service, wind chill chart and formula of 1 November 2001.
    Valid: air of -50 to 50 F and wind of 3 to 110 mph, measured at 33 ft; a face, no sun. The chart ends at -45 F and
    60 mph.

    Args:
        t_f: air temperature.
        v_mph: wind speed.

    Raises:
        ValueError: a figure out of range.

    """
    temperature = within(-50, 50, t_f, "air temperature", "F")
    wind: float = within(3, 110, v_mph, "wind speed", "mph") ** 0.16
    return 35.74 + 0.6215 * temperature - 35.75 * wind + 0.4275 * temperature * wind


def heat_index_f(t_f: float, rh_percent: float) -> float:
    """Heat index, in degrees Fahrenheit.

    Formula: S = (T + 61 + 1.2 (T - 68) + 0.094 RH) / 2; from 80 F on a polynomial of second degree in T and in RH, less
    (13 - RH) / 4 sqrt((17 - |T - 95|) / 17) below 13 % from 80 to 112 F, plus (RH - 85) / 10 (87 - T) / 5 above 85 %
    from 80 to 87 F.
    Source: US National Weather Service, Southern Region Technical Attachment SR 90-23 (1990), with the adjustments of
    the Weather Prediction Center's page on the heat index equation.
    Valid: air of 50 to 120 F in the shade, light wind, and a result of no more than the 137 F that the chart ends at.
    Full sun adds up to 15 F.

    Args:
        t_f: air temperature.
        rh_percent: relative humidity, 0 to 100.

    Raises:
        ValueError: a figure out of range, or heat and moisture beyond the chart.

    """
    temperature = within(50, 120, t_f, "air temperature", "F")
    humidity = within(0, 100, rh_percent, "relative humidity", "%")
    # The outer half is the average with the air temperature that the page speaks of.
    simple = 0.5 * (temperature + 61 + 1.2 * (temperature - 68) + 0.094 * humidity)
    if simple < 80:
        return simple
    index = _regression(temperature, humidity) + _adjustment(temperature, humidity)
    if index >= CHART_END_F + 0.5:
        beyond = f"{temperature:.12g} F with {humidity:.12g} % has a heat index beyond {CHART_END_F:g} F"
        raise ValueError(f"{beyond}, where its chart ends")
    return index


def _regression(t: float, rh: float) -> float:
    constant = -42.379 + 2.04901523 * t - 6.83783e-3 * t**2
    linear = 10.14333127 - 0.22475541 * t + 1.22874e-3 * t**2
    square = -5.481717e-2 + 8.5282e-4 * t - 1.99e-6 * t**2
    return constant + linear * rh + square * rh**2


def _adjustment(t: float, rh: float) -> float:
    if rh < 13 and 80 <= t <= 112:
        return -(13 - rh) / 4 * sqrt((17 - abs(t - 95)) / 17)
    if rh > 85 and 80 <= t <= 87:
        return (rh - 85) / 10 * (87 - t) / 5
    return 0.0
