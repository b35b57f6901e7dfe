"""Facts of the rate of contacts: how many an hour to expect."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, Subject, fact

MODES = {"CW": "CW", "SSB": "SSB", "USB": "SSB", "LSB": "SSB", "FM": "FM", "FT8": "digital", "FT4": "digital"}
"""Mode as plans write it -> mode of the table of usual rates."""
DETAIL = {"basis": "what the rate rests on"}
LOGS_DETAIL = {"logs": "earlier logs that were read, each with its SHA-256"}
CHANCE_DETAIL = {**DETAIL, "minutes": "whole minutes that count", "wanted": "contacts that are wanted"}


@fact(
    "contacts.rate", kind="trip", type="opaque", title="rate of contacts", owns_uncertainty=True,
    settle="contacts.earlier", each={"slot_modes": ("slot", "slot.mode")},
    optional=["contacts_earlier", "schedule_mode", "slot_modes"], detail=LOGS_DETAIL,
)  # fmt: skip
def contacts_rate(
    contacts_earlier: Piece | None, schedule_mode: str | None, slot_modes: list[tuple[Subject, str | None]]
) -> Estimate:
    """The rate with its interval, dispersion and basis: by own counts, else the usual one of the mode."""
    from afield.plugins.contacts.computations.rates import usual_rate

    modes = [own or schedule_mode for _, own in slot_modes] or [schedule_mode]
    if contacts_earlier is not None:
        return _own_rate(contacts_earlier, modes)
    rate = usual_rate(_usual_mode(modes))
    return Estimate(rate._asdict(), method=rate.basis)


def _own_rate(earlier: Piece, modes: list[str | None]) -> Estimate:
    """The rate by stated counts and by earlier logs, of which the records in the planned modes count."""
    from afield.plugins.contacts.computations.rates import rate_from_counts
    from afield.plugins.contacts.earlier_logs import earlier_counts

    found = earlier_counts(earlier, [mode for mode in modes if mode is not None], MODES)
    try:
        rate = rate_from_counts(found.contacts, found.hours)
    except ValueError as error:
        raise CannotTell(str(error), "contacts.earlier", "outside validity") from error
    return Estimate(rate._asdict(), detail={"logs": found.logs}, method=rate.basis, notes=tuple(found.notes))


def _usual_mode(modes: list[str | None]) -> str:
    """The mode of the table that all the time on the air is in."""
    stated = list(dict.fromkeys(mode for mode in modes if mode is not None))
    if not stated or len(stated) < len(set(modes)):
        raise CannotTell("neither earlier counts nor the mode is stated", "contacts.earlier", "not stated")
    unknown = next((mode for mode in stated if mode.upper() not in MODES), None)
    if unknown is not None:
        raise CannotTell(f"how many contacts to expect in {unknown} is not known", "contacts.earlier")
    found = list(dict.fromkeys(MODES[mode.upper()] for mode in stated))
    if len(found) > 1:
        text = f"the slots are in {' and '.join(stated)}, whose usual rates differ"
        raise CannotTell(text, "contacts.earlier")
    return found[0]


@fact(
    "contacts.expected_rate", kind="trip", type="number", unit="", title="contacts expected in an hour",
    owns_uncertainty=True, detail=DETAIL, least=0.0,
)  # fmt: skip
def contacts_expected_rate(contacts_rate: dict[str, Any]) -> Estimate:
    """The rate, with its interval at 95 %."""
    low, high, basis = contacts_rate["low_per_h"], contacts_rate["high_per_h"], contacts_rate["basis"]
    return Estimate(contacts_rate["per_h"], low, high, detail={"basis": basis}, method=basis)


@fact(
    "contacts.expected", kind="trip", type="number", unit="", title="contacts expected in all", owns_uncertainty=True,
    detail=DETAIL, least=0.0,
)  # fmt: skip
def contacts_expected(contacts_rate: dict[str, Any], schedule_instants: dict[str, Any]) -> Estimate:
    """The rate times all time on the air, two stations at once counted twice; the interval is that of the rate."""
    from afield.plugins.contacts.counted import minutes_of, spans_of

    hours, basis = minutes_of(spans_of(schedule_instants)) / 60, contacts_rate["basis"]
    value, low, high = (contacts_rate[key] * hours for key in ("per_h", "low_per_h", "high_per_h"))
    return Estimate(value, low, high, detail={"basis": basis}, method=f"rate times time on the air; {basis}")


FACTS: list[Fact] = [contacts_rate, contacts_expected_rate, contacts_expected]
