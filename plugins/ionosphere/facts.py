"""Facts of the ionosphere over the station while the outing lasts."""

from __future__ import annotations

from typing import Any, Protocol

from afield.core.api import CannotTell, Estimate, Fact, _, fact, marked
from afield.plugins.ionosphere.wording import plain

FAR_YEAR = marked(
    "year {year} is outside {first} to {last}; plan another date, or leave f107 and sunspot_number out of conditions: "
    "the briefing then has no band outlook"
)
FAR_NORTH = marked("lat {lat} deg is beyond {most}, where the maps say little; look at an ionosonde near there")
NO_LIBRARY = marked("PyIRI, which knows the ionosphere, is not installed")
INSTALL = "install afield[ionosphere]"


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
        return Estimate(conditions_f107, method=_("as stated"))
    if conditions_sunspot_number is None:
        text = _("neither the solar flux nor a sunspot number is stated")
        raise CannotTell(text, "conditions.f107", "not stated")
    from afield.plugins.ionosphere.computations.solar_index import f107_from_sunspot

    method = _("from the sunspot number, as IRI has it")
    return Estimate(f107_from_sunspot(conditions_sunspot_number), method=method)


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
    from afield.plugins.ionosphere.computations.iri import NotInstalled, model_words
    from afield.plugins.ionosphere.sending import Sending
    from afield.plugins.ionosphere.window import hours_of, outlook_of

    hours = hours_of(schedule_instants)
    _refuse_far_years(hours[0].year, hours[-1].year)
    sending = Sending(schedule_instants["slots"], schedule_mode, schedule_power)
    place = station_position.lat_deg, station_position.lon_deg
    _refuse_far_north(station_position.lat_deg)
    try:
        found = outlook_of(schedule_instants, place, conditions_solar_flux, sending.of_hours(hours))
    except NotInstalled as error:
        raise CannotTell(_(NO_LIBRARY), INSTALL, "plugin absent") from error
    except ValueError as error:
        raise CannotTell(str(error), None, "outside validity") from error
    method = _("ITU-R P.533 with {model}").format(model=model_words(found["model"]))
    return Estimate(found, method=method, notes=tuple(sending.notes))


def _refuse_far_years(*years: int) -> None:
    """The models hold for some decades; what else may be done is said."""
    from afield.plugins.ionosphere.computations.iri import FIRST_YEAR, LAST_YEAR

    far = next((year for year in years if not FIRST_YEAR <= year <= LAST_YEAR), None)
    if far is not None:
        text = _(FAR_YEAR).format(year=far, first=FIRST_YEAR, last=LAST_YEAR)
        raise CannotTell(text, None, "outside validity")


def _refuse_far_north(lat_deg: float) -> None:
    from afield.plugins.ionosphere.computations.iri import GREATEST_LATITUDE

    if abs(lat_deg) > GREATEST_LATITUDE:
        text = _(FAR_NORTH).format(lat=plain(lat_deg), most=plain(GREATEST_LATITUDE))
        raise CannotTell(text, None, "outside validity")


FACTS: list[Fact] = [conditions_solar_flux, bands_outlook]
