"""Positions written on the UTM grid and in its military form, MGRS."""

import re
from math import hypot

from afield.core.api import _
from afield.plugins.geometry.position_form import PositionError, PositionForm, length_text

BANDS = "CDEFGHJKLMNPQRSTUVWX"
HEMISPHERES = {"north": "N", "south": "S"}
EDGE_DEG = 0.01  # a band letter read off a map sheet may be the neighbour's this close to the edge
UTM = re.compile(
    r"\s*(?P<zone>\d{1,2})\s*(?P<letters>[A-Za-z]+)\s+(?P<easting>\d+(\.\d+)?)\s*(m?E|m)?[\s,]\s*"
    r"(?P<northing>\d+(\.\d+)?)\s*(m?N|m)?\s*",
    re.IGNORECASE,
)
MGRS = re.compile(r"\s*\d{1,2}\s*[A-Z]\s*[A-Z]{2}[\d\s]*", re.IGNORECASE)
HOW_UTM = (
    'Write zone and band letter, easting and northing in metres: "11S 474110 4417159", or "11 north 474110 4417159".'
)
HOW_MGRS = 'Write zone and band, square, and as many digits for the easting as for the northing: "11SME7411017159".'


def looks_like_utm(text: str) -> bool:
    """Whether the text has the parts of a UTM position."""
    return UTM.fullmatch(text) is not None


def looks_like_mgrs(text: str) -> bool:
    """Whether the text has the parts of an MGRS position."""
    return MGRS.fullmatch(text) is not None


def band_edges(band: str) -> tuple[int, int]:
    """The southern and northern latitude of the band, degrees; bands are 8 degrees high, X 12."""
    south = -80 + 8 * BANDS.index(band)
    return (south, 84 if band == "X" else south + 8)


def latitude_text(lat_deg: int) -> str:
    """The latitude with its hemisphere: "32 N", "8 S"."""
    return f"{abs(lat_deg)} {'S' if lat_deg < 0 else 'N'}" if lat_deg else "0"


def band_text(band: str) -> str:
    """The band as words: "band S (32 N to 40 N)"."""
    south, north = band_edges(band)
    return f"band {band} ({latitude_text(south)} to {latitude_text(north)})"


def _band_said(band: str) -> str:
    """The same in the language spoken; what `band_text` gives is for messages about the plan's text."""
    south, north = map(latitude_text, band_edges(band))
    return _("band {band} ({south} to {north})").format(band=band, south=south, north=north)


def hemisphere_of(letters: str) -> str:
    """N or S: of "north" and "south", or of a band letter (S is the band 32 to 40 N). Raises PositionError."""
    if letters.lower() in HEMISPHERES:
        return HEMISPHERES[letters.lower()]
    if len(letters) == 1 and letters.upper() in BANDS:
        return "N" if letters.upper() >= "N" else "S"
    raise PositionError(f'"{letters}" is neither a band letter (C to X without I and O), nor north or south', HOW_UTM)


def refuse_outside_band(found: re.Match[str], lat_deg: float) -> None:
    """Raise PositionError where the position does not lie in the band that its letter names (N may also mean north)."""
    band = found["letters"].upper()
    if band == "N" or band not in BANDS:
        return
    south, north = band_edges(band)
    if south - EDGE_DEG <= lat_deg <= north + EDGE_DEG:
        return
    south_meant = f'If S was meant for south, write "{found["zone"]} south {found["easting"]} {found["northing"]}". '
    advice = f"{south_meant if band == 'S' else ''}A band letter names 8 degrees of latitude; check it on the map."
    raise PositionError(f"northing {found['northing']} does not lie in {band_text(band)}", advice)


def letter_notes(found: re.Match[str], lat_deg: float) -> list[str]:
    """How a letter that has two meanings was read."""
    zone, letter = found["zone"], found["letters"].upper()
    if letter == "S":
        told = _('Zone "{zone}S" is read as {band}, as in MGRS; for the south write "{zone} south".')
        return [told.format(zone=zone, band=_band_said("S"))]
    if letter == "N" and lat_deg > band_edges("N")[1]:
        told = _('Zone "{zone}N" is read as north: the position is not in {band}.')
        return [told.format(zone=zone, band=_band_said("N"))]
    return []


def zone_notes(zone: int, lat_deg: float, lon_deg: float) -> list[str]:
    """The note on a position outside the zone that it is written in. Raises PositionError nearer to a pole than UTM."""
    from afield.plugins.geometry.computations.utm import utm_zone

    try:
        own = utm_zone(lat_deg, lon_deg)
    except ValueError as error:
        raise PositionError(str(error), HOW_UTM) from None
    told = _("The position is written in UTM zone {zone}, but lies in zone {own}.")
    return [] if own == zone else [told.format(zone=zone, own=own)]


def half_unit_m(digits: str) -> float:
    """Half a unit of the last digit written: 0.5 for whole metres, 0.05 with one decimal."""
    return float(0.5 * 10.0 ** -len(digits.partition(".")[2]))


def from_utm(text: str) -> PositionForm:
    """The position of "11S 474110 4417159" or "56 south 334000 6250000". Raises PositionError."""
    from afield.plugins.geometry.computations.utm import utm_to_geographic

    found = UTM.fullmatch(text)
    if found is None:
        raise PositionError(f'"{text}" is no UTM position', HOW_UTM)
    zone, easting, northing = int(found["zone"]), float(found["easting"]), float(found["northing"])
    try:
        lat, lon = utm_to_geographic(zone, hemisphere_of(found["letters"]), easting, northing)
    except ValueError as error:
        raise PositionError(str(error), HOW_UTM) from None
    refuse_outside_band(found, lat)
    notes = [*letter_notes(found, lat), *zone_notes(zone, lat, lon)]
    return PositionForm(lat, lon, "utm", (half_unit_m(found["easting"]), half_unit_m(found["northing"])), notes)


def from_mgrs(text: str) -> PositionForm:
    """The centre of the MGRS square, with half its side. Raises PositionError."""
    from afield.plugins.geometry.computations.military_grid import mgrs_to_geographic_centre

    try:
        square = mgrs_to_geographic_centre(text)
    except ValueError as error:
        raise PositionError(str(error), HOW_MGRS) from None
    half = square.precision_m / 2
    sentence = _(
        'MGRS "{text}" is a square of {side}: its centre is taken, and the position may be up to {distance} from it.'
    )
    note = sentence.format(text=text.strip(), side=length_text(2 * half), distance=length_text(hypot(half, half)))
    return PositionForm(square.lat_deg, square.lon_deg, "mgrs", (half, half), [note])
