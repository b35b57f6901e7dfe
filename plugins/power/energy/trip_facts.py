"""Facts of the energy of the whole trip, over all its batteries; set-ups are compared by them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, _, fact, marked
from afield.plugins.power.energy.facts import Balances, estimate, refuse_silent

NO_BATTERY = marked("no battery of the kit feeds anything")


def _known(balances: Balances) -> list[Mapping[str, Any]]:
    if not balances:
        raise CannotTell(_(NO_BATTERY), "kit", "cannot be computed", "trip")
    for balance in balances.values():
        refuse_silent(balance)
    return list(balances.values())


def _of_transmitters(balances: Balances) -> list[Mapping[str, Any]]:
    """The batteries that feed a radio or an amplifier; all, if none does."""
    known = _known(balances)
    return [balance for balance in known if balance["feeds_transmitter"]] or known


@fact(
    "energy.trip_used", kind="trip", unit="Wh", title="energy used of all batteries", owns_uncertainty=True, least=0.0
)
def energy_trip_used(energy_balances: Balances) -> Estimate:
    """The sum over the batteries; errors of one origin add up."""
    answers = [balance["answers"]["used"] for balance in _known(energy_balances)]
    origins = dict.fromkeys(origin for answer in answers for origin in answer["parts"])
    parts = {origin: sum(answer["parts"].get(origin, 0.0) for answer in answers) for origin in origins}
    return Estimate(sum(answer["value"] for answer in answers), parts=parts, method=_("sum over the batteries"))


def _least_of(
    name: str, answer: str, unit: str, title: str, doc: str, which: Callable[[Balances], list[Mapping[str, Any]]],
    **declared: Any,
) -> Fact:  # fmt: skip
    def found(energy_balances: Balances) -> Estimate:
        chosen = which(energy_balances)
        told = [balance for balance in chosen if "value" in balance["answers"][answer]] or chosen
        least = min(told, key=lambda balance: balance["answers"][answer].get("value", 0.0))
        return estimate(least, answer, {"battery": least["battery"]})

    found.__doc__ = doc
    detail = {"battery": "the battery that decides"}
    return fact(name, kind="trip", unit=unit, title=title, owns_uncertainty=True, detail=detail, **declared)(found)


FACTS: list[Fact] = [
    energy_trip_used,
    _least_of(
        "energy.least_reserve", "reserve", "%", "least usable charge left until leaving",
        "Of the battery with the least.", _known, below_zero=marked("lacking"),
    ),
    _least_of(
        "energy.first_end", "lasts", "h", "hours after arrival until the first battery ends",
        "Of the batteries that feed a transmitter, if any does.", _of_transmitters, least=0.0,
    ),
    _least_of(
        "energy.trip_longest_on_air", "longest_on_air", "h", "longest time on the air",
        "Until the first battery that feeds a transmitter ends.", _of_transmitters, least=0.0,
    ),
]  # fmt: skip
