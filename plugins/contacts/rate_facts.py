"""Facts of the rate of contacts: how many an hour to expect."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, Subject, _, all_of, fact, marked, quoted_list

if TYPE_CHECKING:
    from afield.plugins.contacts.earlier_logs import Counts

Modes = Sequence[str | None]
MODES = {
    "CW": "CW", "SSB": "SSB", "USB": "SSB", "LSB": "SSB", "FM": "FM", "FT8": "digital", "FT4": "digital",
    "JS8": "digital", "DIGITAL": "digital",
}  # fmt: skip
"""Mode as plans write it, in capitals -> mode of the table of usual rates."""
LOG_MODES = {**MODES, "RTTY": "RTTY"}
"""Mode as plans and logs write it, in capitals -> mode that a record counts as; of some no usual rate is known."""
UNKNOWN = marked(
    "how many contacts to expect in {mode} is not known, without own counts (contacts.earlier); known: {known}"
)
SEVERAL = marked("the slots are in {modes}, whose usual rates differ")
NO_RATE = marked("No earlier log or count tells a rate: the usual one in {mode} is taken.")
DETAIL = {"basis": "what the rate rests on"}
LOGS_DETAIL = {"logs": "earlier logs that were read, each with its SHA-256"}
CHANCE_DETAIL = {**DETAIL, "minutes": "whole minutes that count", "wanted": "contacts that are wanted"}


@fact(
    "contacts.rate", kind="trip", type="opaque", title="rate of contacts", owns_uncertainty=True,
    settle="contacts.earlier", each={"slot_modes": ("slot", "slot.mode")},
    optional=["contacts_earlier", "schedule_mode", "slot_modes"], detail=LOGS_DETAIL,
)  # fmt: skip
def contacts_rate(
    trip_date: str, contacts_earlier: Piece | None, schedule_mode: str | None,
    slot_modes: list[tuple[Subject, str | None]],
) -> Estimate:  # fmt: skip
    """The rate with its interval, dispersion and basis: by own counts, else the usual one of the mode."""
    own = [mode for _slot, mode in slot_modes]
    modes = [mode or schedule_mode for mode in own] or [schedule_mode]
    where = "schedule.slots[].mode" if any(own) else "schedule.mode"
    found = None if contacts_earlier is None else _counts(contacts_earlier, modes, trip_date)
    return _own_rate(found) if found and found.contacts else _usual_rate(modes, where, found)


def _counts(earlier: Piece, modes: Modes, day: str) -> Counts:
    """The stated counts and those of earlier logs, of which the records in the planned modes count."""
    from afield.plugins.contacts.earlier_logs import earlier_counts

    return earlier_counts(earlier, [mode for mode in modes if mode is not None], LOG_MODES, date.fromisoformat(day))


def _own_rate(found: Counts) -> Estimate:
    from afield.plugins.contacts.computations.rates import rate_from_counts

    try:
        rate = rate_from_counts(found.contacts, found.hours)
    except ValueError as error:
        raise CannotTell(str(error), "contacts.earlier", "outside validity") from error
    return Estimate(rate._asdict(), detail={"logs": found.logs}, method=rate.basis, notes=tuple(found.notes))


def _usual_rate(modes: Modes, where: str, found: Counts | None) -> Estimate:
    """The usual rate of the mode; with what is said of logs that tell none."""
    from afield.plugins.contacts.computations.rates import usual_rate

    mode = _usual_mode(modes, where, "; ".join(found.silent) if found else "")
    rate = usual_rate(mode)
    if found is None:
        return Estimate(rate._asdict(), method=rate.basis)
    notes = (*found.notes, _(NO_RATE).format(mode=mode))
    return Estimate(rate._asdict(), detail={"logs": found.logs}, method=rate.basis, notes=notes)


def _usual_mode(modes: Modes, where: str, silent: str) -> str:
    """The mode of the table that all the time on the air is in.

    Args:
        modes: of the slots, or of the schedule.
        where: the plan's key of them.
        silent: why the logs tell no rate; empty where there is none.

    Raises:
        CannotTell: no mode is stated, its rate is not known, or there are several.

    """
    stated = list(dict.fromkeys(mode for mode in modes if mode is not None))
    if not stated:
        text = _("no mode is stated") if silent else _("neither earlier counts nor the mode is stated")
        raise CannotTell(_also(silent, text), where, "not stated")
    if len(stated) < len(set(modes)):
        raise CannotTell(_also(silent, _("the mode of a slot is not stated")), where, "not stated")
    unknown = next((mode for mode in stated if mode.upper() not in MODES), None)
    if unknown is not None:
        text = _(UNKNOWN).format(mode=unknown, known=quoted_list(MODES))
        raise CannotTell(_also(silent, text), where, "cannot be computed")
    found = list(dict.fromkeys(MODES[mode.upper()] for mode in stated))
    if len(found) > 1:
        text = _(SEVERAL).format(modes=all_of(stated))
        raise CannotTell(_also(silent, text), "contacts.earlier", "not stated")
    return found[0]


def _also(silent: str, why: str) -> str:
    """Why there is no rate, behind why the logs tell none."""
    return _("{silent}, and {why}").format(silent=silent, why=why) if silent else why


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
    method = _("rate times time on the air; {basis}").format(basis=basis)
    return Estimate(value, low, high, detail={"basis": basis}, method=method)


FACTS: list[Fact] = [contacts_rate, contacts_expected_rate, contacts_expected]
