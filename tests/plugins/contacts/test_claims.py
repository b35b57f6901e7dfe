"""The chance of a minimum follows the program's period: a UTC day, the outing, the calendar year."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from afield.core.documents import InputError
from afield.plugins.contacts.computations.counts import prob_at_least_negative_binomial
from afield.plugins.contacts.computations.times import minutes_needed

CLAIM, DAY = "claim:hilltop/one", "claim_day:hilltop/one/2026-06-28"
WorldOf = Callable[..., Any]
TWO = "{program: hilltop, reference: one}, {program: hilltop, reference: two}"


def minimum(number: int, period: str | None, more: str = "") -> str:
    stated = f", program.period: {period}" if period else ""
    return f"program.minimum_contacts: {number}{stated}{more}"


def known(world: Any, fact: str, subject: str = CLAIM) -> Any:
    record = world.value(subject, fact)
    assert record.known, record.reason
    assert world.crashes == []
    return record


def silence(world: Any, fact: str, subject: str = CLAIM) -> str:
    record = world.value(subject, fact)
    assert not record.known
    assert world.crashes == []
    return str(record.reason.text)


def chance(minutes: float, wanted: int) -> float:
    """Of the usual rate in SSB: 20 an hour, k of 2."""
    return 100 * prob_at_least_negative_binomial(20 * minutes / 60, 2.0, wanted)


def test_over_the_outing_both_utc_days_add_up(world_of: WorldOf) -> None:
    world = world_of(minimum(17, "outing"))
    record = known(world, "claim.chance_of_minimum")
    assert record.value == pytest.approx(chance(300, 17))
    assert record.low < record.value < record.high
    assert record.detail == {"basis": "common practice, no source", "minutes": 300, "wanted": 17}
    assert known(world, "claim.minutes_for_minimum").value == minutes_needed(20, 17, 0.9, 2.0)
    assert silence(world, "claim_day.chance_of_minimum", DAY) == (
        "the program counts its contacts over the outing, not by UTC day"
    )
    assert silence(world, "claim.best_division") == "the program counts its contacts over the outing, not by UTC day"


def test_by_utc_day_each_day_is_by_itself(world_of: WorldOf) -> None:
    world = world_of(minimum(14, "UTC day"))
    record = known(world, "claim_day.chance_of_minimum", DAY)
    assert record.value == pytest.approx(chance(210, 14))
    assert not record.notes
    assert (
        silence(world, "claim.chance_of_minimum") == "the program counts its contacts by UTC day, not over the outing"
    )
    division = known(world, "claim.best_division").value
    assert (division["minutes_before"], division["minutes_after"]) == (150, 150)
    assert 100 * division["chance_before"] == pytest.approx(chance(150, 14))


def test_a_pack_that_does_not_say_the_period_is_taken_by_utc_day_and_it_is_said(world_of: WorldOf) -> None:
    world = world_of(minimum(14, None))
    assert known(world, "claim_day.chance_of_minimum", DAY).notes == (
        "The pack does not say in which period its contacts are made: a UTC day is taken.",
    )
    assert silence(world, "claim.chance_of_minimum") == ("the pack does not say in which period the contacts are made")


@pytest.mark.parametrize(
    ("made", "wanted"), [("", 23), (", contacts_this_year: 9", 14), (", contacts_this_year: 40", 0)]
)
def test_over_the_year_what_was_made_before_counts(world_of: WorldOf, made: str, wanted: int) -> None:
    world = world_of(minimum(23, "calendar year"), claims=f"{{program: hilltop, reference: one{made}}}")
    assert known(world, "claim.contacts_wanted").value == wanted
    assert known(world, "claim.chance_of_minimum").value == pytest.approx(chance(300, wanted))
    notes = known(world, "claim.contacts_wanted").notes
    assert bool(notes) == (not made)


@pytest.mark.parametrize(
    ("date", "zone", "years"),
    [
        ("2026-12-31", "America/Los_Angeles", "2026 and 2027"),  # by UTC
        ("2026-12-31", "Asia/Kathmandu", None),
        ("2027-01-01", "Asia/Kathmandu", None),
        ("2027-01-01", "Pacific/Auckland", "2026 and 2027"),  # by UTC it is still the old year
    ],
)
def test_an_outing_over_the_turn_of_the_year_is_of_neither(
    world_of: WorldOf, date: str, zone: str, years: str | None
) -> None:
    schedule = f'on_air: ["10:00", "17:00"], zone: {zone}, mode: SSB'
    world = world_of(minimum(23, "calendar year"), date=date, schedule=schedule)
    if years is None:
        assert known(world, "claim.chance_of_minimum").value > 0
    else:
        told = f"the time on the air lies in {years}, by UTC or by the local clock; plan what lies in each by itself"
        assert silence(world, "claim.chance_of_minimum") == told
        reason = world.value(CLAIM, "claim.contacts_wanted").reason
        assert (reason.code, reason.settle) == ("cannot be computed", "schedule.on_air")


def test_a_contact_for_one_reference_divides_the_time(world_of: WorldOf) -> None:
    one = minimum(10, "outing", ", program.one_contact_counts_for: one reference")
    assert known(world_of(one, claims=TWO), "claim.minutes_counted").value == 150
    assert known(world_of(one), "claim.minutes_counted").value == 300
    every = minimum(10, "outing", ", program.one_contact_counts_for: all claimed")
    assert known(world_of(every, claims=TWO), "claim.minutes_counted").value == 300


def test_each_operator_has_a_share_or_the_slots_say(world_of: WorldOf) -> None:
    mine = minimum(10, "outing", ", program.counted_for: operator")
    more = "operators: [{name: ann}, {name: bob}]\n"
    record = known(world_of(mine, more), "claim.minutes_counted")
    assert (record.value, record.detail["who"]) == (150, "each operator")
    first = '{name: a, from: "15:30", to: "19:30", operator: ann}'
    last = '{name: b, from: "19:30", to: "20:30", operator: bob}'
    slots = f"slots: [{first}, {last}]"
    schedule = 'arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15", zone: America/Los_Angeles'
    world = world_of(mine, more, schedule=f"{schedule}, {slots}")
    record = known(world, "claim.minutes_counted")
    assert (record.value, record.detail["who"]) == (60, "bob")
    assert record.detail["basis"] == "the slots of operator bob, 60 min, who has the least (ann 240 min)"


@pytest.mark.parametrize(
    ("first", "second", "told", "settle"),
    [
        (", mode: CW", ", mode: cw", None, None),
        (", mode: CW", ", mode: SSB", "the slots are in CW and SSB, whose usual rates differ", "contacts.earlier"),
        (", mode: CW", "", "the mode of a slot is not stated", "schedule.slots[].mode"),
        ("", "", "neither earlier counts nor the mode is stated", "schedule.mode"),
        (", mode: CW", ", mode: phone",
         "how many contacts to expect in phone is not known, without own counts (contacts.earlier); known: "
         '"CW", "SSB", "USB", "LSB", "FM", "FT8", "FT4", "JS8", "DIGITAL"', "schedule.slots[].mode"),
    ],
)  # fmt: skip
def test_the_slots_mode_gives_the_rate(
    world_of: WorldOf, first: str, second: str, told: str | None, settle: str | None
) -> None:
    slots = f'{{name: a, from: "10:00", to: "11:00"{first}}}, {{name: b, from: "11:00", to: "12:00"{second}}}'
    schedule = f'zone: America/Denver, arrive: "09:00", leave: "13:00", on_air: ["10:00", "12:00"], slots: [{slots}]'
    world = world_of(minimum(10, "outing"), schedule=schedule)
    if told is None:
        assert known(world, "contacts.rate", "trip").value["per_h"] == 15
    else:
        assert silence(world, "contacts.rate", "trip") == told
        assert world.value("trip", "contacts.rate").reason.settle == settle


def test_a_choice_that_is_none_is_refused(world_of: WorldOf) -> None:
    with pytest.raises(InputError) as refused:
        world_of(minimum(10, "season"))
    assert refused.value.text() == (
        'pack:hilltop/pack.yaml:11:55: "season" is not a choice for period in which the contacts are made\n'
        "    | facts: {program.minimum_contacts: 10, program.period: season}\n"
        '    = Choices: "UTC day", "outing", "calendar year".'
    )
