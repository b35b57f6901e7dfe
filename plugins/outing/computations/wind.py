"""Pressure of the wind."""

from __future__ import annotations

from afield.plugins.outing.computations.checked import within

PSF_PER_MPH_SQUARED = 0.00256
PA_PER_M_S_SQUARED = 0.613


def wind_velocity_pressure(
    v_mph: float, kz: float = 1.0, kzt: float = 1.0, kd: float = 1.0, importance: float = 1.0
) -> float:
    """Velocity pressure of the wind with a standard's factors, in pounds-force per square foot.

    Formula: 0.00256 Kz Kzt Kd V^2 I.
    Source: ASCE 7-05, section 6.5.10, equation 6-15.
    Valid: the basic wind speed OF THAT EDITION, a service-level gust of 3 s. From 7-10 on the maps give ultimate
    speeds, about 1.26 times as high and with the importance in them: put in here they overstate the pressure 1.6 times.
    To 300 mph; Kz 0.5 to 2, Kzt 1 to 3, Kd 0.85 to 1, I 0.77 to 1.15.

    Args:
        v_mph: basic wind speed.
        kz: exposure at the height; 1 leaves it out, as with the others.
        kzt: hills and escarpments.
        kd: directionality.
        importance: importance factor.

    Raises:
        ValueError: a figure out of range.

    """
    speed = within(0, 300, v_mph, "wind speed", "mph")
    terrain = within(0.5, 2, kz, "Kz") * within(1, 3, kzt, "Kzt")
    others = within(0.85, 1, kd, "Kd") * within(0.77, 1.15, importance, "importance")
    return PSF_PER_MPH_SQUARED * terrain * others * speed**2


def wind_pressure_simple(v_m_s: float) -> float:
    """Velocity pressure of the wind at a speed, without any factor, in pascal.

    Formula: q = 0.613 V^2, half the density of air at sea level and 15 degrees Celsius times the speed squared.
    Source: ASCE 7-05, section 6.5.10, equation 6-15 in SI units.
    Valid: 0 to 135 m/s; the speed where the surface stands, in the gust that is meant.

    Args:
        v_m_s: wind speed.

    Raises:
        ValueError: a speed out of range.

    """
    return PA_PER_M_S_SQUARED * within(0, 135, v_m_s, "wind speed", "m/s") ** 2
