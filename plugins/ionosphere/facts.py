"""Facts of the ionosphere over the station while the outing lasts."""

from __future__ import annotations

from typing import Any, Protocol

from afield.core.api import CannotTell, Estimate, Fact, fact

MODES = {"CW": "CW", "SSB": "SSB", "USB": "SSB", "LSB": "SSB", "FT8": "digital", "FT4": "digital", "JS8": "digital"}
"""Mode as plans write it -> mode whose needs are known."""
ASSUMED_MODE, HARDEST_MODE = "CW", "SSB"
ASSUMED_W = 10.0


class HasPosition(Protocol):
    """What is asked of the fact `station.position`: degrees (WGS 84)."""

    @property
    def lat_deg(self) -> float:
        """North positive."""

    @property
    def lon_deg(self) -> float:
        """East positive."""


@fact(
    "conditions.solar_flux", kind="trip", type="number", unit="", title="solar radio flux at 10.7 cm", exact=True,
    optional=["conditions_f107", "conditions_sunspot_number"], settle="conditions.f107",
)  # fmt: skip
def conditions_solar_flux(conditions_f107: float | None, conditions_sunspot_number: float | None) -> Estimate:
    """The stated flux, in solar flux units, or that which goes with the stated sunspot number."""
    if conditions_f107 is not None:
        return Estimate(conditions_f107, method="as stated")
    if conditions_sunspot_number is None:
        raise CannotTell("neither the solar flux nor a sunspot number is stated", "conditions.f107", "not stated")
    from afield.plugins.ionosphere.computations.solar_index import f107_from_sunspot

    return Estimate(f107_from_sunspot(conditions_sunspot_number), method="from the sunspot number, as IRI has it")


@fact(
    "bands.outlook", kind="trip", type="opaque", title="band outlook", owns_uncertainty=True,
    optional=["schedule_mode", "schedule_power"],
)  # fmt: skip
def bands_outlook(
    station_position: HasPosition,
    schedule_instants: dict[str, Any],
    conditions_solar_flux: float,
    schedule_mode: str | None,
    schedule_power: float | None,
) -> Estimate:
    """Which bands are open, marginal or closed on paths of some lengths, hour by hour while the outing lasts."""
    from afield.plugins.ionosphere.computations.iri import NotInstalled
    from afield.plugins.ionosphere.window import outlook_of

    mode, power_w, notes = _sent(schedule_instants, schedule_mode, schedule_power)
    place = station_position.lat_deg, station_position.lon_deg
    try:
        found = outlook_of(schedule_instants, place, conditions_solar_flux, mode, power_w)
    except NotInstalled as error:
        text = "PyIRI, which knows the ionosphere, is not installed"
        raise CannotTell(text, "install afield[ionosphere]", "plugin absent") from error
    except ValueError as error:
        raise CannotTell(str(error), None, "outside validity") from error
    return Estimate(found, method=f"ITU-R P.533 with {found['model']}", notes=tuple(notes))


def _sent(schedule_instants: dict[str, Any], mode: str | None, power_w: float | None) -> tuple[str, float, list[str]]:
    """Mode and power of the schedule, else of its first slot, else assumed, with what is assumed."""
    stated = mode or _first(schedule_instants, "mode")
    power = power_w or _first(schedule_instants, "power_w")
    notes = [] if power else [f"The power is not stated: {ASSUMED_W:g} W is taken."]
    if stated is None:
        notes.append(f"The mode is not stated: {ASSUMED_MODE} is taken.")
    elif str(stated).upper() not in MODES:
        notes.append(f"What {stated} needs is not known: {HARDEST_MODE}, which needs most, is taken.")
    known = MODES.get(str(stated).upper(), HARDEST_MODE) if stated else ASSUMED_MODE
    return known, float(power or ASSUMED_W), notes


def _first(schedule_instants: dict[str, Any], key: str) -> Any:
    return next((slot[key] for slot in schedule_instants["slots"] if slot[key]), None)


FACTS: list[Fact] = [conditions_solar_flux, bands_outlook]
