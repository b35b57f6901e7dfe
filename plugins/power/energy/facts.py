"""Facts of the energy: what each battery gives over the outing, what is left, and how long it would last."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, Subject, _, fact, marked
from afield.plugins.power.stated import COMMON, Undecided, decided

Ways = Sequence[Mapping[str, Any]]
Balances = Mapping[str, Mapping[str, Any]]

MINUTE = marked("steps of one minute")
FEEDS_NOTHING = marked("{name} feeds nothing, or holds no energy")
ENDLESS = marked(
    "Within the uncertainty of the sun it may not end at all; the upper end of its interval is the tenth day."
)


@fact(
    "energy.feeds", kind="item", type="bool", title="whether it is a battery or supply that feeds something",
    exact=True, detail={"items": "what it feeds"},
)  # fmt: skip
def energy_feeds(kit_ways: Ways, kit_things: Mapping[str, Any], kit_undecided: Undecided, subject: Subject) -> Estimate:
    """Whether it holds energy and a way of direct current, USB or mains leads from it to another item."""
    from afield.plugins.power.energy.feeds import FLOWS, fed_by, is_store, stores_that_feed
    from afield.plugins.power.stated import things_of

    things = things_of(kit_things)
    if not is_store(things[_key(subject)]):
        return Estimate(False, detail={"items": ""}, method=_("it holds no energy"))
    store = next((one for one in stores_that_feed(things, kit_ways) if one.key == _key(subject)), None)
    fed = fed_by(store, things, kit_ways) if store else ()
    for role in FLOWS:
        decided(bool(fed), kit_undecided, subject, role, "from")
    return Estimate(bool(fed), detail={"items": ", ".join(each.thing.name for one in fed for each in one.all())})


@fact(
    "energy.figures", kind="item", type="opaque", title="figures of the item for the energy", owns_uncertainty=True,
    optional=["conditions_temperature"], encode=lambda figures: figures,
)  # fmt: skip
def energy_figures(subject: Subject, conditions_temperature: float | None) -> Estimate:
    """What it draws, loses or holds as far as it is stated, and the origin of the error of each figure."""
    from afield.plugins.power.energy.origins import figures_of, stated_of
    from afield.plugins.power.stated import thing_of

    thing = thing_of(subject)
    figures = figures_of(thing, conditions_temperature)
    around = {origin: figure.around for origin, figure in figures.items() if figure.around}
    return Estimate({"stated": stated_of(thing, conditions_temperature), "figures": around}, parts=around)


@fact(
    "energy.way_of_working", kind="trip", type="opaque", title="mode and share of transmitting in each slot",
    owns_uncertainty=True, encode=lambda slots: slots,
)  # fmt: skip
def energy_way_of_working(schedule_timeline: Mapping[str, Any]) -> Estimate:
    """As planned, else by mode; its two errors are counted in their own 95 % half-widths."""
    from afield.plugins.power.energy.loads import DUTY, SHARE
    from afield.plugins.power.energy.origins import ways_of_working

    return Estimate(ways_of_working(schedule_timeline), parts={SHARE: 1.0, DUTY: 1.0})


@fact(
    "energy.current_law", kind="trip", type="opaque", title="how the current in transmit follows the output",
    owns_uncertainty=True, encode=lambda law: law,
)  # fmt: skip
def energy_current_law() -> Estimate:
    """The exponent of the current over the output, from its root to straight (common practice, no source)."""
    from afield.plugins.power.energy.loads import LAW, LAW_FIGURE

    value = {"exponent": LAW_FIGURE.value, "around": LAW_FIGURE.around}
    return Estimate(value, parts={LAW: LAW_FIGURE.around}, method=_(COMMON))


@fact(
    "energy.balances", kind="trip", type="opaque", title="energy of the batteries", owns_uncertainty=True,
    optional=["conditions_temperature", "station_at", "schedule_zone"], each={"figures": ("item", "energy.figures")},
    encode=lambda balances: {key: balance["battery"] for key, balance in balances.items()},
)  # fmt: skip
def energy_balances(
    kit_ways: Ways, kit_things: Mapping[str, Any], schedule_timeline: Mapping[str, Any], trip_date: str,
    energy_way_of_working: Sequence[Any], energy_current_law: Mapping[str, float],
    figures: list[tuple[Subject, Mapping[str, Any]]], conditions_temperature: float | None, station_at: Piece | None,
    schedule_zone: str | None, kit_undecided: Undecided,
) -> Estimate:  # fmt: skip
    """The balance of each battery that feeds something, or why there is none.

    Raises:
        CannotTell: it is not decided what some item is fed by: a balance without it would be too good.

    """
    from afield.plugins.power.energy.balances import balances_of
    from afield.plugins.power.energy.feeds import refuse_undecided
    from afield.plugins.power.energy.origins import parts_of
    from afield.plugins.power.energy.sun import Place

    refuse_undecided(kit_undecided)
    arrive = schedule_timeline["clock"]["arrive"]
    place = Place(station_at, trip_date, arrive, conditions_temperature, schedule_zone)
    found = balances_of(kit_ways, kit_things, schedule_timeline, place)
    # The origins come in with what was asked for above; here they are passed on to what follows.
    return Estimate(found, parts=parts_of(figures, energy_current_law), method=_(MINUTE))


@fact(
    "energy.balance", kind="item", type="opaque", title="energy of the battery", owns_uncertainty=True,
    encode=lambda balance: balance,
)  # fmt: skip
def energy_balance(energy_balances: Balances, subject: Subject) -> Estimate:
    """Its usable charge over time with the band of its uncertainty, and what follows."""
    found = _balance(energy_balances, subject)
    return Estimate(found, method=_(MINUTE), notes=tuple(found["notes"]))


def _key(subject: Subject) -> str:
    return subject.key.partition(":")[2]


def _balance(balances: Balances, subject: Subject) -> Mapping[str, Any]:
    key = _key(subject)
    if key not in balances:
        raise CannotTell(_(FEEDS_NOTHING).format(name=subject.label))
    refuse_silent(balances[key])
    return balances[key]


def refuse_silent(balance: Mapping[str, Any]) -> None:
    """Raise the reason for which a battery has no balance, if it has none."""
    if "cannot" in balance:
        why = balance["cannot"]
        raise CannotTell(why["text"], why["settle"], why["code"], why["subject"])


def estimate(balance: Mapping[str, Any], name: str, detail: Mapping[str, Any]) -> Estimate:
    """One of a balance's answers; raises CannotTell where there is none."""
    answer = balance["answers"][name]
    if "why" in answer:
        raise CannotTell(answer["why"], code="outside validity")
    # What is taken for granted is the same for all answers of a battery: it is said once, beside what is judged.
    notes = (*(balance["notes"] if name == "reserve" else ()), *([_(ENDLESS)] if answer["high"] else ()))
    parts, high = dict(answer["parts"]), answer["high"]
    return Estimate(answer["value"], high=high, parts=parts, detail=detail, method=_(MINUTE), notes=notes)


def _of_battery(name: str, answer: str, unit: str, title: str, doc: str, **declared: Any) -> Fact:
    def found(energy_balances: Balances, subject: Subject) -> Estimate:
        balance = _balance(energy_balances, subject)
        items = ", ".join(load["name"] for load in balance["feeds"])
        left = f"{balance['left_now']:.0f} %"
        return estimate(balance, answer, {"items": items, "at_leaving": left})

    found.__doc__ = doc
    detail = {"items": "what it feeds", "at_leaving": "usable charge left at leaving"}
    declare = fact(name, kind="item", unit=unit, title=title, owns_uncertainty=True, detail=detail, **declared)
    return declare(found)


BATTERY_FACTS = [
    _of_battery(
        "energy.used", "used", "Wh", "energy that it gives until leaving", "What its loads take, losses included.",
        least=0.0,
    ),
    _of_battery(
        "energy.reserve", "reserve", "%", "least usable charge left until leaving",
        "Of the usable charge when full; at leaving, unless it was less before.", below_zero=marked("lacking"),
    ),
    _of_battery(
        "energy.lasts", "lasts", "h", "hours after arrival until its usable charge ends",
        "If that is after the time on the air, the mean load on the air goes on until then.", least=0.0,
    ),
    _of_battery(
        "energy.least_capacity", "least_capacity", "Ah", "capacity of the same chemistry that would just last",
        "With nothing left at the least.", least=0.0,
    ),
    _of_battery(
        "energy.longest_on_air", "longest_on_air", "h", "longest time on the air from it",
        "As planned, and after that with the mean load on the air, until its usable charge ends.", least=0.0,
    ),
]  # fmt: skip


FACTS: list[Fact] = [
    energy_feeds, energy_figures, energy_way_of_working, energy_current_law, energy_balances, energy_balance,
    *BATTERY_FACTS,
]  # fmt: skip
