"""What a battery's description says, and what follows from its chemistry."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from afield.core.facts.measured import CannotTell, Estimate
from afield.core.facts.subjects import Subject
from afield.plugins.power.battery import air_facts
from afield.plugins.power.battery import facts as battery_facts
from afield.plugins.power.battery.cells import CHEMISTRIES, cells_of
from afield.plugins.power.computations.batteries import lfp_charge_limit, lfp_pack_voltages
from afield.plugins.power.stated import Thing


def pack(chemistry: str = "lithium iron phosphate", class_: str = "battery", **more: Any) -> Subject:
    data = {"class": class_, "battery": {"chemistry": chemistry, "capacity": "6 Ah", **more}}
    return Subject("item:pack", "item", "pack", data=data)


def told(declared: Any, *given: Any, subject: Subject) -> Estimate:
    assert isinstance(declared.function, Callable)
    result = declared.function(*given, subject=subject)
    return result if isinstance(result, Estimate) else Estimate(result)


def reason(declared: Any, subject: Subject) -> tuple[str, str | None, str]:
    with pytest.raises(CannotTell) as silent:
        told(declared, subject=subject)
    found = silent.value.reason
    return found.text, found.settle, found.code


def test_what_is_not_described_is_not_stated() -> None:
    bare = Subject("item:pack", "item", "pack", data={"class": "battery"})
    due = ("the battery of pack is not described", "battery of pack in the kit", "not stated")
    for declared in (battery_facts.battery_chemistry, battery_facts.battery_capacity, battery_facts.battery_energy,
                     battery_facts.battery_label_energy, battery_facts.battery_end_voltage,
                     battery_facts.battery_charge_least_temperature):  # fmt: skip
        assert reason(declared, bare) == due


def test_energy_is_nominal_voltage_times_capacity() -> None:
    energy = told(battery_facts.battery_energy, subject=pack(nominal="12.8 V"))
    assert energy.value == 76.8
    assert energy.parts == {"capacity of pack": pytest.approx(0.05 * 76.8)}


def test_figures_of_the_catalogue_are_less_sure() -> None:
    subject = pack(nominal="12.8 V")
    typical = Subject("item:pack", "item", "pack", data={**subject.data, "typical": ["battery"]})
    assert told(battery_facts.battery_energy, subject=typical).parts == {"capacity of pack": pytest.approx(0.2 * 76.8)}


def test_the_label_is_taken_as_marked_and_never_computed() -> None:
    assert told(battery_facts.battery_label_energy, subject=pack(label_energy="76.8 Wh")).value == 76.8
    due = "the energy on the label of pack is not stated"
    assert reason(battery_facts.battery_label_energy, pack(nominal="12.8 V"))[0] == due
    marked = pack(label_energy="76.8 Wh")
    of_the_catalogue = Subject("item:pack", "item", "pack", data={**marked.data, "typical": ["battery"]})
    assert reason(battery_facts.battery_label_energy, of_the_catalogue)[0] == due


def test_the_voltages_of_four_cells_are_those_of_the_cell_notes() -> None:
    subject = pack(cells=4)
    assert told(battery_facts.battery_nominal_voltage, subject=subject).value == lfp_pack_voltages(4).nominal_v
    assert told(battery_facts.battery_full_voltage, subject=subject).value == lfp_pack_voltages(4).full_v
    end = told(battery_facts.battery_end_voltage, subject=subject)
    assert end.value - end.parts["end voltage of pack"] == pytest.approx(lfp_pack_voltages(4).empty_v)


@pytest.mark.parametrize(
    ("chemistry", "nominal", "cells"),
    [("lithium iron phosphate", "12.8 V", 4), ("lithium iron phosphate", "12 V", 4), ("lithium ion", "11.1 V", 3),
     ("lithium ion", "3.6 V", 1), ("lead acid", "12 V", 6)],
)  # fmt: skip
def test_cells_follow_from_the_nominal_voltage(chemistry: str, nominal: str, cells: int) -> None:
    data = {"battery": {"chemistry": chemistry, "capacity": "1 Ah", "nominal": nominal}}
    assert cells_of(Thing("pack", "pack", "battery", data)) == cells


def test_a_voltage_between_two_numbers_of_cells_is_not_told() -> None:
    data = {"battery": {"chemistry": "lithium iron phosphate", "capacity": "1 Ah", "nominal": "4.8 V"}}
    with pytest.raises(CannotTell, match=r"4\.8 V of pack is no whole number of lithium iron phosphate cells"):
        cells_of(Thing("pack", "pack", "battery", data))


def test_a_stated_end_voltage_displaces_that_of_the_chemistry() -> None:
    assert told(battery_facts.battery_end_voltage, subject=pack(cells=4, end_voltage="11.5 V")).value == 11.5


def test_frost_ends_the_charging_of_lithium_and_not_of_lead() -> None:
    lithium = told(battery_facts.battery_charge_least_temperature, subject=pack()).value
    lead = told(battery_facts.battery_charge_least_temperature, subject=pack("lead acid")).value
    assert lfp_charge_limit(lithium).charge_allowed
    assert not lfp_charge_limit(lithium - 0.1).charge_allowed
    assert lead < lithium
    assert told(battery_facts.battery_charge_least_temperature, subject=pack(charge_from="5 degC")).value == 5
    text = reason(battery_facts.battery_charge_least_temperature, pack("alkaline"))[0]
    assert text == "alkaline cells such as pack are not charged"


def test_room_is_the_air_less_the_least_and_says_that_cells_follow_the_air() -> None:
    room = told(battery_facts.battery_charge_temperature_room, -5.0, 0.0, subject=pack())
    assert room.value == -5
    assert room.notes == ("The cells are taken to have the temperature of the air, which they follow within hours.",)
    assert told(battery_facts.battery_discharge_temperature_room, -5.0, subject=pack()).value == 15


def test_every_chemistry_of_the_kit_has_its_cell() -> None:
    for chemistry, cell in CHEMISTRIES.items():
        assert cell.end_v - cell.end_around_v > 0
        assert cell.end_v + cell.end_around_v < cell.full_v
        assert cell.usable + cell.usable_around <= 100
        assert told(battery_facts.battery_usable_share, subject=pack(chemistry)).value == cell.usable


def flies(by: str | None, subject: Subject, means: str | None = None) -> Any:
    return told(air_facts.battery_flies, by, means, subject=subject).value


def of_class(class_: str, **data: Any) -> Subject:
    return Subject("item:thing", "item", "thing", data={"class": class_, **data})


@pytest.mark.parametrize(
    ("by", "answer"),
    [("plane", True), ("car, then a flight", True), ("Aircraft", True), ("helicopter and boat", True), ("by air", True),
     ("seaplanes", True), ("car", False), ("airport bus and car", False), ("on foot", False), ("two ferries", False),
     ("Camper, then cycling", False)],
)  # fmt: skip
def test_words_of_the_way_of_travel_tell_whether_a_battery_flies(by: str, answer: bool) -> None:
    assert flies(by, pack()) is answer


def test_an_aircraft_for_the_last_stretch_counts_too() -> None:
    assert flies(None, pack(), "aircraft") is True
    assert flies("car", pack(), "on foot") is False


def test_words_that_do_not_tell_of_the_way_are_asked_about() -> None:
    with pytest.raises(CannotTell) as caught:
        flies("with Ann", pack())
    text = 'whether "with Ann" goes by air is not known: no word of it is, such as car, train, boat or plane'
    found = caught.value.reason
    assert (found.text, found.settle, found.code) == (text, "travel.by", "cannot be computed")
    assert flies("with Ann", of_class("furniture")) is False


def test_nothing_said_of_the_journey_is_taken_as_no_aircraft_and_that_is_told() -> None:
    found = told(air_facts.battery_flies, None, None, subject=pack())
    assert found.value is False
    assert found.notes == ("How one travels is not stated (travel.by): it is taken that no aircraft is used.",)
    assert flies(None, pack(), "on foot") is False


@pytest.mark.parametrize("class_", ["computer", "phone", "radio", "supply"])
def test_what_may_hold_a_battery_that_nobody_describes_is_asked_of_by_air_and_only_then(class_: str) -> None:
    with pytest.raises(CannotTell) as caught:
        flies("plane", of_class(class_))
    assert (caught.value.reason.text, caught.value.reason.settle) == (
        "the battery of thing is not stated", "battery of thing in the kit",
    )  # fmt: skip
    assert flies("car", of_class(class_)) is False


def test_what_holds_no_battery_does_not_fly_as_one() -> None:
    assert flies("plane", of_class("furniture")) is False
    assert flies("plane", of_class("radio", ports=[{"name": "dc", "role": "DC", "direction": "sink"}])) is False
    assert flies("plane", of_class("supply", ports=[{"name": "in", "connector": "mains"}])) is False
    assert flies("plane", of_class("supply", ports=[{"name": "out", "connector": "vehicle 12 V"}])) is False


@pytest.mark.parametrize(
    ("energy", "category"),
    [(100, "allowed"), (100.1, "airline-approval"), (160, "airline-approval"), (160.1, "forbidden")],
)
def test_the_marked_energy_decides(energy: float, category: str) -> None:
    found = told(air_facts.battery_air_category, energy, subject=pack(cells=4))
    assert found.value == category


def test_other_chemistries_are_the_carriers_to_judge() -> None:
    with pytest.raises(CannotTell, match="the rule for lead acid batteries such as pack needs more than"):
        told(air_facts.battery_air_category, 84.0, subject=pack("lead acid", nominal="12 V"))
