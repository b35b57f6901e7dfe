"""A position as a plan writes it, made into latitude and longitude with the half unit of the digits written.

Forms: `{lat, lon}` in degrees, as numbers or text (degrees, minutes, seconds); `{utm}`, `{mgrs}`, `{locator}`;
`{file, point}`; or a bare text in one of the first four.
"""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from math import hypot
from typing import Any, Literal

from afield.core.api import WrittenFloat, _
from afield.plugins.geometry.position_form import (
    PositionError,
    PositionForm,
    coarse_words,
    length_text,
    metres_per_degree,
)
from afield.plugins.geometry.position_grids import from_mgrs, from_utm, looks_like_mgrs, looks_like_utm
from afield.plugins.geometry.readers.layer import Layer

__all__ = ["PositionError", "PositionForm", "read_position"]

ReadFile = Callable[[str, str | None], Layer]
Axis = Literal["lat", "lon"]

LAT_LON = r"([^,]+),([^,]+)|(.*[NS])\s*([^NSEW]+[EW])|([NS][^NSEW]+)([EW].+)"
KEYS = ("lat", "lon", "utm", "mgrs", "locator", "file")
FORMS = (
    'Write {lat: 39.90412, lon: -117.30288}, {utm: "11S 474110 4417159"}, {mgrs: "11SME7411017159"}, '
    '{locator: "DM19iv"} or {file: points.gpx, point: NAME}.'
)
NAMES: dict[Axis, str] = {"lat": "latitude", "lon": "longitude"}
SWAPPED = "Are latitude and longitude swapped?"
EXAMPLE: dict[Axis, str] = {
    "lat": 'Write degrees, for example 39.90412 or "39 54 14.8 N".',
    "lon": 'Write degrees, for example -117.30288 or "117 18 10.4 W".',
}


def half_unit_deg(written: int | float | str) -> float:
    """Half a unit of the last digit written, in degrees: of the degrees, minutes or seconds, whichever is last."""
    figures = re.findall(r"\d+\.?\d*", written if isinstance(written, str) else _figures(written))
    decimals = len(figures[-1].partition(".")[2])
    return float(Decimal("0.5").scaleb(-decimals)) / 60.0 ** (len(figures) - 1)


def _figures(number: int | float) -> str:
    """The number without an exponent, with its trailing noughts if it was written with them."""
    return format(Decimal(number.written if isinstance(number, WrittenFloat) else repr(number)), "f")


def angle_of(value: Any, axis: Axis) -> float:
    """The latitude or longitude in degrees, in range. Raises PositionError."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise PositionError(f"{NAMES[axis]} {value!r} is no angle", EXAMPLE[axis])
    if isinstance(value, int | float):
        return float(value)
    return angle_of_text(value, axis)


def angle_of_text(text: str, axis: Axis) -> float:
    """The latitude or longitude that the text states, in degrees. Raises PositionError."""
    from afield.plugins.geometry.computations.degrees import dms_parse

    other: Axis = "lon" if axis == "lat" else "lat"
    try:
        return dms_parse(text, axis)
    except ValueError as error:
        what = f"{NAMES[axis]}: {error}"
    try:
        dms_parse(text, other)
    except ValueError:
        raise PositionError(what, EXAMPLE[axis]) from None
    raise PositionError(what, SWAPPED)


def refuse_off_earth(lat_deg: float, lon_deg: float) -> None:
    """Raise PositionError for a latitude or longitude out of range, with a question where the two look swapped."""
    if not -90.0 <= lat_deg <= 90.0:
        advice = SWAPPED if 90.0 < abs(lat_deg) <= 180.0 and abs(lon_deg) <= 90.0 else EXAMPLE["lat"]
        raise PositionError(f"latitude {lat_deg:g} is outside -90 to 90", advice)
    if not -180.0 <= lon_deg <= 180.0:
        raise PositionError(f"longitude {lon_deg:g} is outside -180 to 180", EXAMPLE["lon"])


def coarse_note(east_m: float, north_m: float) -> list[str]:
    """The note on digits that leave more than COARSE_M open."""
    sizes = coarse_words(east_m, north_m)
    told = _("The digits of lat and lon leave {sizes} open; write more of them, last noughts too.")
    return [told.format(sizes=sizes)] if sizes else []


def from_lat_lon(at: Mapping[str, Any]) -> PositionForm:
    """The position of `lat` and `lon`. Raises PositionError."""
    for axis, other in (("lat", "lon"), ("lon", "lat")):
        if axis not in at:
            raise PositionError(f"{other} stands without {axis}", FORMS)
    lat, lon = angle_of(at["lat"], "lat"), angle_of(at["lon"], "lon")
    refuse_off_earth(lat, lon)
    scale = metres_per_degree(lat)
    east, north = half_unit_deg(at["lon"]) * scale[0], half_unit_deg(at["lat"]) * scale[1]
    return PositionForm(lat, lon, "lat/lon", (east, north), coarse_note(east, north))


def from_locator(text: str) -> PositionForm:
    """The centre of the locator's box, with half its sizes. Raises PositionError."""
    from afield.plugins.geometry.computations.locator import maidenhead_decode

    try:
        cell = maidenhead_decode(text)
    except ValueError as error:
        raise PositionError(str(error), 'A locator is written like "DM19iv", or with more pairs "DM19iv36".') from None
    half_height, half_width = cell.height_deg / 2, cell.width_deg / 2
    widest = max(0.0, abs(cell.centre_lat_deg) - half_height)  # a box is widest on its side towards the equator
    east, north = half_width * metres_per_degree(widest)[0], half_height * metres_per_degree(cell.centre_lat_deg)[1]
    return PositionForm(
        cell.centre_lat_deg, cell.centre_lon_deg, "locator", (east, north), [_box_note(text, east, north)]
    )


def _box_note(text: str, east_m: float, north_m: float) -> str:
    sentence = _(
        'Locator "{text}" is a box of {width} by {height} (east by north): its centre is taken, and the position may '
        "be up to {distance} from it."
    )
    width, height, distance = (length_text(each) for each in (2 * east_m, 2 * north_m, hypot(east_m, north_m)))
    return sentence.format(text=text, width=width, height=height, distance=distance)


def from_file(at: Mapping[str, Any], read_file: ReadFile) -> PositionForm:
    """The named point of a file. Raises PositionError, and GeoFileError as the reader does."""
    from afield.plugins.geometry.readers.choosing import choose_feature

    name, layer = at.get("point"), at.get("layer")
    found = choose_feature(read_file(str(at["file"]), layer), None if name is None else str(name), None, None, "point")
    points = [point for feature in found for point in feature.points]
    if len(set(points)) > 1:
        what = f'{at["file"]}: there are {len(points)} points of the name "{name or found[0].name}"'
        raise PositionError(what, "Give the point that is meant a name of its own.")
    lat, lon = points[0]
    east, north = metres_per_degree(lat)
    return PositionForm(lat, lon, "file", (_half_unit_in_file(lon) * east, _half_unit_in_file(lat) * north))


def _half_unit_in_file(degrees: float) -> float:
    """Half a unit of the last digit where the reader knows the text; 0 where not, as binary digits state nothing."""
    return half_unit_deg(degrees) if isinstance(degrees, WrittenFloat) else 0.0


def from_text(text: str) -> Mapping[str, Any]:
    """The form that a bare text is in: a locator, MGRS, UTM, or latitude and longitude. Raises PositionError."""
    if re.fullmatch(r"[A-Ra-r]{2}(\d\d([A-Xa-x]{2}(\d\d([A-Xa-x]{2})?)?)?)?", text.strip()):
        return {"locator": text.strip()}
    if looks_like_utm(text):
        return {"utm": text}
    if looks_like_mgrs(text):
        return {"mgrs": text}
    found = re.fullmatch(LAT_LON, text.strip(), re.IGNORECASE)
    if not found:
        raise PositionError(f'"{text}" is no position', FORMS)
    lat, lon = (half.strip() for half in found.groups() if half is not None)
    return {"lat": lat, "lon": lon}


def form_of(at: Mapping[str, Any]) -> str:
    """Which of the forms the mapping is in. Raises PositionError where it is none, or several."""
    stated = [key for key in KEYS if key in at]
    forms = list(dict.fromkeys("lat/lon" if key in ("lat", "lon") else key for key in stated))
    if not forms:
        raise PositionError("this states no position", FORMS)
    if len(forms) > 1:
        raise PositionError(f"the position is stated twice: as {' and as '.join(forms)}", "Keep one of them.")
    return forms[0]


def read_position(at: Mapping[str, Any] | str, read_file: ReadFile) -> PositionForm:
    """The position that the plan's `at` states; keys of no form (accuracy, level) are left to others.

    `read_file(file, layer)` reads a file that the plan names, kept inside the plan's folder, as `read_layer` does.
    Raises PositionError, and GeoFileError where a file or the point in it cannot be read.
    """
    stated = from_text(at) if isinstance(at, str) else at
    form = form_of(stated)
    if form == "lat/lon":
        return from_lat_lon(stated)
    if form == "file":
        return from_file(stated, read_file)
    text = stated[form]
    if not isinstance(text, str):
        raise PositionError(f"{form} {text!r} is not text", "Write it as text, in quotes.")
    readers: dict[str, Callable[[str], PositionForm]] = {"utm": from_utm, "mgrs": from_mgrs, "locator": from_locator}
    return readers[form](text)
