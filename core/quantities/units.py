"""The units that people write, with exact relations where the units are exactly related.

Sources: BIPM, The International System of Units, 9th edition, 2019, table 8 (min, h, d, deg) and section 2.3.1 (degree
Celsius); the international yard and pound agreement of 1959 (yd = 0.9144 m, lb = 0.45359237 kg); the international
nautical mile of 1929 (1852 m). A unit outside this table is looked up in pint.
"""

from __future__ import annotations

from difflib import get_close_matches
from fractions import Fraction
from math import pi

from afield.core.frozen import frozen

DIMENSIONS: dict[str, str] = {
    "length": "m",
    "angle": "deg",
    "duration": "min",
    "voltage": "V",
    "current": "A",
    "charge": "Ah",
    "power": "W",
    "energy": "Wh",
    "mass": "kg",
    "frequency": "MHz",
    "temperature": "degC",
    "speed": "m/s",
    "ratio": "%",
    "level": "dB",
    "money": "",
    "resistance": "ohm",
    "area": "mm2",
    "count": "",
}
"""Name of a dimension -> its reference unit; "" for those that are written without one."""


@frozen
class Unit:
    """A unit: a value in it times `scale` plus `offset` is the value in the dimension's reference unit."""

    symbol: str
    dimension: str
    scale: Fraction
    offset: Fraction = Fraction(0)


def _units(dimension: str, *rows: tuple[str, str | Fraction, str]) -> dict[str, Unit]:
    """Every spelling of a dimension's units; a row is (symbol, scale, other spellings)."""
    units: dict[str, Unit] = {}
    for symbol, scale, others in rows:
        unit = Unit(symbol, dimension, Fraction(scale))
        units |= dict.fromkeys((symbol, *others.split()), unit)
    return units


UNITS: dict[str, Unit] = {
    **_units(
        "length",
        ("m", "1", "metre metres meter meters"),
        ("km", "1000", "kilometre kilometres kilometer kilometers"),
        ("cm", "0.01", "centimetre centimetres centimeter centimeters"),
        ("mm", "0.001", "millimetre millimetres millimeter millimeters"),
        ("ft", "0.3048", "foot feet"),
        ("in", "0.0254", "inch inches"),
        ("yd", "0.9144", "yard yards"),
        ("mi", "1609.344", "mile miles"),
        ("nmi", "1852", ""),
        ("fathom", "1.8288", "fathoms"),
    ),
    **_units(
        "angle",
        ("deg", "1", "° degree degrees"),
        ("rad", Fraction(180 / pi), "radian radians"),
        ("arcmin", Fraction(1, 60), "arcminute arcminutes"),
        ("arcsec", Fraction(1, 3600), "arcsecond arcseconds"),
    ),
    **_units(
        "duration",
        ("min", "1", "minute minutes mins"),
        ("s", Fraction(1, 60), "sec second seconds"),
        ("h", "60", "hr hrs hour hours"),
        ("d", "1440", "day days"),
        ("ms", Fraction(1, 60_000), ""),
    ),
    **_units("voltage", ("V", "1", "volt volts"), ("mV", "0.001", ""), ("kV", "1000", ""), ("µV", "1e-6", "μV uV")),
    **_units("current", ("A", "1", "amp amps ampere amperes"), ("mA", "0.001", ""), ("µA", "1e-6", "μA uA")),
    **_units("charge", ("Ah", "1", "A·h A*h"), ("mAh", "0.001", ""), ("C", Fraction(1, 3600), "coulomb coulombs")),
    **_units("power", ("W", "1", "watt watts"), ("mW", "0.001", ""), ("kW", "1000", "")),
    **_units(
        "energy",
        ("Wh", "1", "W·h W*h"),
        ("mWh", "0.001", ""),
        ("kWh", "1000", ""),
        ("J", Fraction(1, 3600), "joule joules"),
        ("kJ", Fraction(1000, 3600), ""),
    ),
    **_units(
        "mass",
        ("kg", "1", "kilogram kilograms"),
        ("g", "0.001", "gram grams"),
        ("lb", "0.45359237", "lbs pound pounds"),
        ("oz", Fraction("0.45359237") / 16, "ounce ounces"),
    ),
    **_units("frequency", ("MHz", "1", ""), ("kHz", "0.001", ""), ("Hz", "1e-6", "hertz"), ("GHz", "1000", "")),
    **_units(
        "speed",
        ("m/s", "1", ""),
        ("km/h", Fraction(1000, 3600), "kph"),
        ("mph", "0.44704", "mi/h"),
        ("kn", Fraction(1852, 3600), "kt knot knots"),
        ("ft/s", "0.3048", ""),
    ),
    **_units("ratio", ("%", "1", "percent"), ("ppm", "1e-4", "")),
    **_units("level", ("dB", "1", "decibel decibels")),
    **_units(
        "resistance",
        ("ohm", "1", "Ω Ω ohms"),
        ("kohm", "1000", "kΩ kΩ"),
        ("Mohm", "1000000", "MΩ MΩ"),
        ("mohm", "0.001", "mΩ mΩ"),
    ),
    **_units("area", ("mm2", "1", "mm² mm^2"), ("cm2", "100", "cm² cm^2"), ("m2", "1000000", "m² m^2")),
    "degC": (_CELSIUS := Unit("degC", "temperature", Fraction(1))),
    "°C": _CELSIUS,
    "degF": (_FAHRENHEIT := Unit("degF", "temperature", Fraction(5, 9), Fraction(-160, 9))),
    "°F": _FAHRENHEIT,
    "K": Unit("K", "temperature", Fraction(1), Fraction("-273.15")),
}
"""Every accepted spelling -> its unit; case matters (mW and MW, s and S differ)."""

COUNT = Unit("", "count", Fraction(1))
"""The unit of a plain number."""

_SHOWN = {
    "degC": "°C",
    "degF": "°F",
    "ohm": "Ω",
    "kohm": "kΩ",
    "Mohm": "MΩ",
    "mohm": "mΩ",
    "mm2": "mm²",
    "cm2": "cm²",
    "m2": "m²",
}


def shown_unit(symbol: str) -> str:
    """The unit as it is shown on screen (`degC` -> `°C`)."""
    return _SHOWN.get(symbol, symbol)


def symbols_of(dimension: str) -> list[str]:
    """The symbols that a value of the dimension may be written in, the reference unit first."""
    return list(dict.fromkeys(unit.symbol for unit in UNITS.values() if unit.dimension == dimension))


def phrase_of(dimension: str) -> str:
    """The dimension with its article: "a length", "an angle"."""
    if dimension == "money":
        return "an amount of money"
    return f"{'an' if dimension[0] in 'aeiou' else 'a'} {dimension}"


def nearest_unit(word: str, dimension: str) -> str | None:
    """The spelling that the writer may have meant, of the dimension that is due if possible."""
    due = [spelling for spelling, unit in UNITS.items() if unit.dimension == dimension]
    for spellings in (due, list(UNITS)):
        same_letters = [spelling for spelling in spellings if spelling.lower() == word.lower()]
        close = same_letters or get_close_matches(word, spellings, n=1, cutoff=0.7)
        if close:
            return close[0]
    return None
