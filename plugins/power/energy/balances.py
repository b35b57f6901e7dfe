"""The balance of every battery of the kit, as plain data for facts and briefing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import isnan
from typing import Any

from afield.core.api import CannotTell, _, marked
from afield.plugins.power.energy.errors import NUMBERS, Result, evaluate
from afield.plugins.power.energy.feeds import Fed, driven, fed_by, refuse_unfed, stores_that_feed, unfed
from afield.plugins.power.energy.loads import Draws, transmits
from afield.plugins.power.energy.model import HORIZON_H, Model
from afield.plugins.power.energy.outputs import Chain
from afield.plugins.power.energy.slots import STEP_H, steps_of
from afield.plugins.power.energy.store import store_of
from afield.plugins.power.energy.sun import Place, harvest_for, panels_of
from afield.plugins.power.stated import Thing, things_of

EVERY = 5
"""Steps from one printed point of the charge to the next."""
OFF_AIR = marked("Off the air everything is switched off; on the air and outside of the slots the station receives.")
GOES_ON = marked(
    "Where a battery outlasts the time on the air, its mean load there goes on until the usable charge ends."
)
UNFED = marked("{name} is fed by no battery of the kit; what it uses of a battery inside it is not counted.")
TWICE = marked("{name} is fed by several batteries; what it draws is counted whole for each.")
NOT_CHARGED = marked("no capacity is enough for {name}, which starts with no usable charge")
NO_END = marked("{name} does not end within {days} days")


def balances_of(
    kit_ways: Sequence[Mapping[str, Any]], kit_things: Mapping[str, Any], timeline: Mapping[str, Any], place: Place
) -> dict[str, dict[str, Any]]:
    """Each battery that feeds something: its balance, or why there is none under `cannot`.

    Args:
        kit_ways, kit_things, timeline: the values of these facts.
        place: where and when the sun is looked for, and the air.

    Raises:
        CannotTell: a radio or amplifier that needs to be fed is not.

    """
    things = things_of(kit_things)
    stores = stores_that_feed(things, kit_ways)
    fed = {store.key: fed_by(store, things, kit_ways) for store in stores}
    refuse_unfed(things, [one for several in fed.values() for one in several])
    notes = [_(OFF_AIR), _(GOES_ON), *_strangers(things, fed)]
    chain = _chain(kit_ways, things)
    found = {}
    for store in stores:
        panels = panels_of(store, stores, things)
        try:
            model = _model(store, fed[store.key], chain, panels, timeline, place)
            found[store.key] = _told(model, evaluate(model), timeline, notes)
        except CannotTell as silence:
            found[store.key] = {"battery": store.name, "cannot": _cannot(silence)}
    return found


def _cannot(silence: CannotTell) -> dict[str, Any]:
    reason = silence.reason
    return {"text": reason.text, "settle": reason.settle, "code": reason.code, "subject": reason.subject}


def _chain(kit_ways: Sequence[Mapping[str, Any]], things: Mapping[str, Thing]) -> Chain:
    drives = driven(kit_ways, things)
    return Chain(drives, {amplifier.key: things[radio] for radio, amplifier in drives.items()})


def _strangers(things: Mapping[str, Thing], fed: Mapping[str, Sequence[Fed]]) -> Iterator[str]:
    """Radios that have a battery of their own or are only named, and items with more than one."""
    for transmitter in unfed(things, [one for several in fed.values() for one in several]):
        yield _(UNFED).format(name=transmitter.name)
    reached = [each.thing.key for several in fed.values() for one in several for each in one.all()]
    for key in dict.fromkeys(key for key in reached if reached.count(key) > 1):
        yield _(TWICE).format(name=things[key].name)


def _model(
    store: Thing, fed: tuple[Fed, ...], chain: Chain, panels: Sequence[Thing], timeline: Mapping[str, Any], place: Place
) -> Model:
    figures = store_of(store, place.air_c)
    steps = steps_of(timeline, any(transmits(each.thing) for one in fed for each in one.all()))
    harvest = harvest_for(store, panels, steps.count, place)
    return Model(store, figures, Draws(figures.nominal_v, chain), fed, steps, harvest)


def _told(model: Model, result: Result, timeline: Mapping[str, Any], notes: Sequence[str]) -> dict[str, Any]:
    answers, store = result.answers, model.store
    told = dict.fromkeys(
        [*notes, *model.draws.notes, *(note for figure in store.figures.values() for note in figure.notes),
         *model.harvest.notes]
    )  # fmt: skip
    return {
        "battery": model.thing.name,
        "chemistry": model.thing.part("battery")["chemistry"],
        "capacity_ah": store.capacity.value,
        "usable_wh": store.capacity.value * store.usable.value * store.cold.value * store.nominal_v,
        "clock": timeline["clock"],
        "leave_h": timeline["leave_h"],
        "on_air": timeline["on_air"],
        "slots": [{key: slot[key] for key in ("name", "from_h", "to_h")} for slot in timeline["slots"]],
        "feeds": list(_loads(model)),
        "feeds_transmitter": any(
            each.thing.class_ in ("radio", "amplifier") for one in model.fed for each in one.all()
        ),
        "harvest_wh": float(model.harvest.watts.sum()) * STEP_H * model.harvest.share.value,
        **_series(result),
        "answers": {name: _answer(name, result, model) for name in NUMBERS},
        "left_now": answers.left,
        "ends_h": None if isnan(answers.ends) else answers.ends,
        "notes": list(told),
    }


def _loads(model: Model) -> Iterator[dict[str, Any]]:
    """What each item takes on the mean in the slots, and while receiving."""
    slots = model.steps.slots
    whole = sum(slot.after - slot.first for slot in slots)
    for fed in model.fed:
        mean = sum(model.draws.watts(fed, slot, {}) * (slot.after - slot.first) for slot in slots) / whole
        names = [each.thing.name for each in fed.all()]
        yield {"name": ", ".join(names), "receiving_w": model.draws.watts(fed, None, {}), "mean_w": mean}


def _series(result: Result) -> dict[str, list[float]]:
    count = len(result.low)
    chosen = sorted({*range(0, count, EVERY), count - 1})
    series = {"charge": result.answers.charge, "low": result.low, "high": result.high}
    return {
        "hours": [round(step * STEP_H, 4) for step in chosen],
        **{name: [round(float(values[step]), 2) for step in chosen] for name, values in series.items()},
    }


def _answer(name: str, result: Result, model: Model) -> dict[str, Any]:
    value = getattr(result.answers, name)
    if isnan(value):
        return {"why": _(NOT_CHARGED).format(name=model.thing.name)}
    ends = name in ("lasts", "longest_on_air")
    if ends and result.answers.lasts >= HORIZON_H:
        return {"why": _(NO_END).format(name=model.thing.name, days=f"{HORIZON_H / 24:g}")}
    return {"value": value, "parts": dict(result.parts[name]), "high": HORIZON_H if ends and result.endless else None}
