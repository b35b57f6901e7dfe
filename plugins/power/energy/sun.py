"""What solar panels give a battery over the outing: as stated, or a share of a clear sky by pvlib (extra `solar`)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from importlib.util import find_spec
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from afield.core.api import CannotTell, Piece, _, amount_in, frozen, marked, slug
from afield.plugins.power.battery.cells import least_charge_temperature
from afield.plugins.power.stated import Figure, Thing, number

if TYPE_CHECKING:
    from numpy.typing import NDArray

SUN = marked("sun")
STATED_NOTE = marked("A stated harvest is taken as good to ± 30 % (95 %; common practice, no source).")
CLEAR_NOTE = marked(
    "The clouds are not known: 50 % ± 50 % of a clear sky's harvest is taken (common practice, no source)."
)
STATED, CLEAR = Figure(1.0, 0.3, SUN, (STATED_NOTE,)), Figure(0.5, 0.5, SUN, (CLEAR_NOTE,))
"""Their notes are said where a harvest is made of them."""
NO_SUN = Figure(0.0, 0.0, SUN)
NO_ZONE = marked("the sun's height needs the time zone of the place: state it, or the harvest of the panel")
NO_LIBRARY = marked("the library for the sun is not installed: install afield[solar], or state the harvest")
NEITHER = marked("neither the rated power nor the harvest of {name} is stated")
NO_PLACE = marked("the sun's height needs lat and lon in degrees, or a locator")
TILTED = marked(
    "{name}, tilted {tilt}° towards {facing}°: clear sky by pvlib at sea level (Ineichen, Linke turbidity 3), PVWatts "
    "losses of 14 %, no shade."
)
LEVEL = marked(
    "{name}, lying level: clear sky by pvlib at sea level (Ineichen, Linke turbidity 3), PVWatts losses of 14 %, no "
    "shade."
)
TOO_COLD = marked("No harvest is counted: {name} is not charged below {least} °C ({source}).")
DEGREES = r"[+-]?\d+(\.\d+)?"


@frozen
class Place:
    """What the sun's height needs: where the station is as the plan writes it, date, arrival, air, and zone (IANA)."""

    at: Piece | None
    date: str
    arrive: str
    air_c: float | None = None
    zone: str | None = None


@frozen
class Harvest:
    """Power in each step before the clouds, the share of it that is counted, and what the reader must know."""

    watts: NDArray[Any]
    share: Figure
    notes: tuple[str, ...] = ()


def harvest_for(store: Thing, panels: Sequence[Thing], steps: int, place: Place) -> Harvest:
    """What the panels that charge a battery give it.

    Raises:
        CannotTell: a panel's harvest is not stated and cannot be computed.

    """
    import numpy as np

    nothing = np.zeros(steps)
    if not panels:
        return Harvest(nothing, NO_SUN)
    refused = _too_cold(store, place.air_c)
    if refused:
        return Harvest(nothing, NO_SUN, (refused,))
    found = [_of_panel(panel, steps, place) for panel in panels]
    # Clouds come over all panels at once: the widest share stands for all.
    share = max((one.share for one in found), key=lambda figure: figure.around)
    watts = sum((one.watts * (one.share.value / share.value) for one in found), nothing)
    notes = tuple(note for one in found for note in (*one.notes, *map(_, one.share.notes)))
    return Harvest(watts, share, tuple(dict.fromkeys(notes)))


def panels_of(store: Thing, stores: Sequence[Thing], things: Mapping[str, Thing]) -> list[Thing]:
    """The panels that charge a battery: those that name it, and those that name none if it is the only one."""
    panels = [thing for thing in things.values() if "solar" in thing.data]
    alone = [one.key for one in stores] == [store.key]
    return [
        panel for panel in panels if slug(panel.part("solar").get("charges", store.name if alone else "")) == store.key
    ]


def share_of_sun(panel: Thing) -> Figure:
    """The share of the panel's harvest that is counted: all of a stated one, a part of a clear sky's."""
    return STATED if "harvest" in panel.part("solar") else CLEAR


def _too_cold(store: Thing, air_c: float | None) -> str | None:
    try:
        least, source = least_charge_temperature(store)
    except CannotTell as never:
        return _("No harvest is counted: {why}.").format(why=never)
    if air_c is None or air_c >= least:
        return None
    return _(TOO_COLD).format(name=store.name, least=number(least), source=_(source))


def _of_panel(panel: Thing, steps: int, place: Place) -> Harvest:
    import numpy as np

    stated = panel.part("solar")
    if "harvest" in stated:
        watts = amount_in(stated["harvest"], "W")
        note = _("{name} gives {watts} W on average, as stated.").format(name=panel.name, watts=number(watts))
        return Harvest(np.full(steps, watts), STATED, (note,))
    if "rated" not in stated:
        raise _settled(panel, _(NEITHER).format(name=panel.name))
    return _clear_sky(panel, steps, place)


def _settled(panel: Thing, why: str) -> CannotTell:
    return CannotTell(why, panel.settle("solar.harvest"), "missing input", f"item:{panel.key}")


def _clear_sky(panel: Thing, steps: int, place: Place) -> Harvest:
    if find_spec("pvlib") is None:
        raise _settled(panel, _(NO_LIBRARY))
    if not place.arrive.endswith("Z") and place.zone is None:
        raise CannotTell(_(NO_ZONE), "schedule.zone", "missing input", "trip")
    lat, lon = _coordinates(panel, place.at)
    stated = panel.part("solar")
    tilt = amount_in(stated["tilt"], "deg") if "tilt" in stated else 0.0
    facing = amount_in(stated["facing"], "deg") if "facing" in stated else (180.0 if lat >= 0 else 0.0)
    watts = _watts(amount_in(stated["rated"], "W"), (lat, lon), (tilt, facing % 360), _times(place, steps), place.air_c)
    note = _(TILTED if tilt else LEVEL).format(name=panel.name, tilt=number(tilt), facing=number(facing))
    return Harvest(watts, CLEAR, (note,))


def _watts(
    rated_w: float, where: tuple[float, float], lying: tuple[float, float], times: Sequence[str], air_c: float | None
) -> NDArray[Any]:
    from afield.plugins.power.computations.solar import clear_sky_output, pv_system_losses

    air = 20.0 if air_c is None else air_c
    _, _, power = clear_sky_output(times, *where, *lying, rated_w, air_c=air)
    return power * (1 - pv_system_losses() / 100)


def _times(place: Place, steps: int) -> list[str]:
    """The instant of each step in UTC, as text."""
    start = datetime.fromisoformat(f"{place.date}T{place.arrive.removesuffix('Z')}")
    if not place.arrive.endswith("Z") and place.zone is not None:
        start = start.replace(tzinfo=_zone(place.zone)).astimezone(UTC).replace(tzinfo=None)
    # Local date with a UTC time of day: a day more or less moves the sun's height by less than half a degree.
    return [(start + timedelta(minutes=step)).isoformat() for step in range(steps)]


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError) as error:
        why = _("{name} is no known time zone").format(name=name)
        raise CannotTell(why, "schedule.zone", "outside validity", "trip") from error


def _coordinates(panel: Thing, at: Piece | None) -> tuple[float, float]:
    """Latitude and longitude as written in degrees, or of the middle of a locator's square."""
    if at is None:
        raise CannotTell(_("the position of the station is not stated"), "station.at", "not stated", "trip")
    data = at.data if isinstance(at.data, Mapping) else {"locator": at.data}
    try:
        if "lat" in data:
            return float(data["lat"]), float(data["lon"])
        return _of_locator(str(data["locator"]).strip().upper())
    except (KeyError, ValueError, IndexError) as error:
        raise _settled(panel, _(NO_PLACE)) from error


def _of_locator(locator: str) -> tuple[float, float]:
    lon = 20 * (ord(locator[0]) - 65) + 2 * int(locator[2]) + 1 - 180
    lat = 10 * (ord(locator[1]) - 65) + int(locator[3]) + 0.5 - 90
    return float(lat), float(lon)
