"""Resistance of copper conductors by table and by formula, and what temperature does to it.

Three temperature coefficients are in print for the same copper, each for its own reference: 0.00393 per kelvin from
20 °C, 0.00323 from 75 °C, and 0.004 as IEC 60228 rounds it. Each function here keeps to its own.
"""

from __future__ import annotations

from typing import Literal

from afield.plugins.power.computations.amounts import positive, within
from afield.plugins.power.computations.wire_sizes import checked_gauge, gauge_name

Copper = Literal["uncoated copper", "coated copper"]
"""Bare copper, or copper with a coat of tin as in marine wire."""

COLDEST_C, HOTTEST_C = -50.0, 150.0
"""Where a straight line is taken for copper's resistance."""

RHO_20_OHM_MM2_PER_KM = 17.241
"""Resistivity at 20 °C of copper of 100 % IACS."""

ALPHA_20_PER_K = 0.00393
ALPHA_75_PER_K = 0.00323

NEC_TABLE_8 = {
    18: (7.77, 7.95, 8.08, 8.45),
    16: (4.89, 4.99, 5.08, 5.29),
    14: (3.07, 3.14, 3.19, 3.26),
    12: (1.93, 1.98, 2.01, 2.05),
    10: (1.21, 1.24, 1.26, 1.29),
    8: (0.764, 0.778, 0.786, 0.809),
    6: (None, 0.491, None, 0.510),
    4: (None, 0.308, None, 0.321),
    3: (None, 0.245, None, 0.254),
    2: (None, 0.194, None, 0.201),
    1: (None, 0.154, None, 0.160),
    0: (None, 0.122, None, 0.127),
    -1: (None, 0.0967, None, 0.101),
    -2: (None, 0.0766, None, 0.0797),
    -3: (None, 0.0608, None, 0.0626),
}
"""Gauge -> ohm per 1,000 ft at 75 °C: uncoated solid and stranded, coated solid and stranded."""

IEC_CLASS_5 = {
    0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30, 10.0: 1.91, 16.0: 1.21, 25.0: 0.780,
    35.0: 0.554, 50.0: 0.386, 70.0: 0.272, 95.0: 0.206,
}  # fmt: skip
"""Nominal area in mm2 -> greatest resistance at 20 °C in ohm per km."""


def nec_table8_dc_resistance(
    awg: int, temperature_c: float = 75.0, material: Copper = "uncoated copper", stranded: bool = True
) -> float:
    """Direct-current resistance of one copper conductor, in ohm per 1,000 ft.

    Formula: the table's figure at 75 °C, and `resistance_temperature_correction` for another temperature.
    Source: NFPA 70 (NEC), chapter 9, table 8 (read in public copies). Some copies print the column of solid wire as
    stranded, 2.5 % low.
    Valid: 18 to 4/0 AWG without 5 and 7; solid up to 8 AWG. -50 to 150 °C.

    Args:
        awg: gauge; 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0.
        temperature_c: temperature of the copper.
        material: uncoated copper or coated copper.
        stranded: False for solid wire.

    Raises:
        ValueError: the table has no such conductor, or the temperature is out of range.

    """
    if material not in ("uncoated copper", "coated copper"):
        raise ValueError(f'material "{material}" is not known; known are uncoated copper and coated copper')
    figures = NEC_TABLE_8.get(checked_gauge(awg), (None,) * 4)
    found = figures[2 * (material == "coated copper") + bool(stranded)]
    if found is None:
        raise ValueError(f"NEC table 8 has no {'stranded' if stranded else 'solid'} conductor of {gauge_name(awg)}")
    return resistance_temperature_correction(found, temperature_c)


def resistance_temperature_correction(r75_ohm_per_kft: float, temperature_c: float) -> float:
    """Resistance at another temperature of copper whose resistance at 75 °C is known, in ohm per 1,000 ft.

    Formula: R2 = R1 (1 + 0.00323 (T2 - 75)).
    Source: NFPA 70 (NEC), chapter 9, table 8, note 2 (read in a public copy).
    Valid: copper, -50 to 150 °C; the reference is 75 °C, and 0.00393 belongs to 20 °C.

    Args:
        r75_ohm_per_kft: resistance at 75 °C.
        temperature_c: temperature of the copper.

    Raises:
        ValueError: the resistance is not above 0, or the temperature is out of range.

    """
    resistance = positive(r75_ohm_per_kft, "resistance", "ohm per 1,000 ft")
    return resistance * (1 + ALPHA_75_PER_K * (_temperature(temperature_c) - 75))


def iec60228_class5_resistance(area_mm2: float, temperature_c: float = 20.0) -> float:
    """Greatest resistance of a flexible conductor of plain copper, in ohm per km.

    Formula: the table's figure at 20 °C over `iec60228_kt`.
    Source: IEC 60228:2004, table 3 (class 5), plain annealed copper (read in public copies that agree).
    Valid: the nominal areas of 0.5 to 95 mm2; 5 to 100 °C. A maximum, 8 to 16 % above resistivity over area.

    Args:
        area_mm2: nominal area.
        temperature_c: temperature of the copper.

    Raises:
        ValueError: there is no such nominal area, or the temperature is out of range.

    """
    if area_mm2 not in IEC_CLASS_5:
        known = ", ".join(f"{area:g}" for area in IEC_CLASS_5)
        raise ValueError(f"area {area_mm2:g} mm2 is no nominal area of class 5; known are {known}")
    return IEC_CLASS_5[area_mm2] / iec60228_kt(temperature_c)


def iec60228_kt(temperature_c: float) -> float:
    """The factor that brings a resistance measured at a temperature to 20 °C.

    Formula: k = 250 / (230 + t), a coefficient of 0.004 per kelvin; R20 = R(t) k.
    Source: IEC 60228:2004, annex on temperature correction (read in a public copy).
    Valid: 5 to 100 °C, as tabled; copper.

    Args:
        temperature_c: temperature of the copper.

    Raises:
        ValueError: the temperature is out of range.

    """
    return 250 / (230 + within(temperature_c, 5, 100, "temperature", "°C"))


def copper_temperature_factor(
    temperature_c: float, reference_c: float = 20.0, alpha20_per_k: float = ALPHA_20_PER_K
) -> float:
    """Resistance of copper at a temperature over that at a reference temperature.

    Formula: (1 + alpha (t - 20)) / (1 + alpha (reference - 20)), alpha being that for 20 °C.
    Source: NBS Handbook 100, Copper Wire Tables (1966): 0.00393 per kelvin at 100 % IACS.
    Valid: -50 to 150 °C; coefficients of 0.0035 to 0.0045. A coefficient for another reference is refused.

    Args:
        temperature_c: temperature of the copper.
        reference_c: temperature for which the resistance is known.
        alpha20_per_k: temperature coefficient for a reference of 20 °C.

    Raises:
        ValueError: a temperature or the coefficient is out of range.

    """
    alpha = within(alpha20_per_k, 0.0035, 0.0045, "coefficient for 20 °C", "per K")
    return (1 + alpha * (_temperature(temperature_c) - 20)) / (1 + alpha * (_temperature(reference_c) - 20))


def copper_resistance(area_mm2: float, temperature_c: float = 20.0) -> float:
    """Resistance of solid copper of an area, in ohm per km.

    Formula: 17.241 / area, times `copper_temperature_factor`.
    Source: the International Annealed Copper Standard, IEC 60028 (1925): 17.241 ohm mm2 per km at 20 °C.
    Valid: -50 to 150 °C; solid copper of 100 % IACS. Stranding adds 2 to 8 %.

    Args:
        area_mm2: area of the copper.
        temperature_c: its temperature.

    Raises:
        ValueError: the area is not above 0, or the temperature is out of range.

    """
    return RHO_20_OHM_MM2_PER_KM / positive(area_mm2, "area", "mm2") * copper_temperature_factor(temperature_c)


def _temperature(temperature_c: float) -> float:
    return within(temperature_c, COLDEST_C, HOTTEST_C, "temperature", "°C")
