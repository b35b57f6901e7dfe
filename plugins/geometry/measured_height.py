"""Makes the plan's `station.height` into a height with its uncertainty: by receiver, altimeter or map."""

from __future__ import annotations

from afield.core.api import CannotTell, Estimate, Piece, _, marked
from afield.plugins.geometry.computations.altimeter import altimeter_error
from afield.plugins.geometry.station_facts import metres
from afield.plugins.geometry.terrain.stating import vertical_95_m

SEA_LEVEL = marked("The height is taken as above mean sea level; heights above the ellipsoid differ by up to 100 m.")
WEATHER = marked("Weather moves an altimeter by 8 to 10 m for each hPa: set it at a known height within the hour.")
METHODS = {
    "satellite receiver": marked("measured by satellite receiver"),
    "altimeter": marked("measured by altimeter"),
    "map": marked("measured by map"),
}
"""By what, as the plan says it -> the method."""


def height_of(reading: Piece) -> Estimate:
    """Height above mean sea level, metres.

    Raises:
        InputError: a level that is not known, or a pressure error of what has no barometer.
        CannotTell: nothing says how good it is.

    """
    value, by = metres(reading.data["value"]), str(reading.data["by"])
    parts: dict[str, float] = {}
    notes = [_(SEA_LEVEL)] if by == "satellite receiver" else []
    if "accuracy" in reading.data:
        parts["station.height/reading"], more = vertical_95_m(reading, "accuracy", "level")
        notes += more
    if by == "altimeter":
        parts |= _pressure_part(reading, value)
        notes.append(_(WEATHER))
    elif "pressure_error" in reading.data:
        what = f"a height by {by} has no pressure error"
        raise reading.problem(what, "Write `accuracy:` in its place.", "pressure_error")
    if not parts:
        settle = "station.height.pressure_error" if by == "altimeter" else "station.height.accuracy"
        raise CannotTell(_("how good the measured height is, is not stated"), settle, "no uncertainty stated", "trip")
    return Estimate(value, parts=parts, method=_(METHODS[by]), notes=tuple(notes))


def _pressure_part(reading: Piece, height_m: float) -> dict[str, float]:
    if "pressure_error" not in reading.data:
        return {}
    change = float(str(reading.data["pressure_error"]).removesuffix("hPa"))
    return {"station.height/air pressure": altimeter_error(change, height_m)}
