"""Fuses, wires and the battery's own limit, in whole plans."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.api import CannotTell
from afield.plugins.power.dc.leads import gauge_of, greatest_fuse, share_in_warm_air
from afield.plugins.power.stated import Thing


def lead(**conductor: Any) -> Thing:
    return Thing("lead", "lead", "lead", {"conductor": {"length": "1 m", **conductor}})


def test_the_fuse_is_set_against_the_wire_and_the_load_against_the_fuse(station: Any, simple: str) -> None:
    facts = station.facts(simple)
    assert facts("lead", "lead.current").value == 20
    assert facts("lead", "lead.fuse").value == 25
    assert facts("lead", "lead.greatest_fuse").value == 20
    over = facts("lead", "lead.fuse_share_of_conductor")
    assert (over.value, over.detail["gauge"], over.detail["greatest"]) == (125, "12 AWG", "20 A")
    share = facts("lead", "lead.load_share_of_fuse")
    assert (share.value, share.detail["wanted"]) == (80, "25 A")
    assert share.uncertainty == pytest.approx(4)


def test_a_way_without_a_fuse_is_counted_and_named(station: Any, simple: str) -> None:
    facts = station.facts(simple.replace("    fuse: 25 A\n", ""))
    found = facts("battery", "dc.unfused")
    assert (found.value, found.detail) == (1, {"ways": "battery, lead, radio"})
    assert facts("lead", "lead.fused").value is False
    assert found.notes == ("A lead whose conductor is described without a fuse is taken to have none.",)


def test_a_fuse_at_the_battery_protects_all_behind_it(station: Any, simple: str) -> None:
    bare = simple.replace("    fuse: 25 A\n", "").replace(
        "amperes: 30 A}\n  - name: lead", "amperes: 30 A}\n    fuse: 15 A\n  - name: lead"
    )
    facts = station.facts(bare)
    assert facts("battery", "dc.unfused").value == 0
    assert facts("lead", "lead.fuse").value == 15
    assert facts("lead", "lead.fuse").detail == {"of": "battery"}


def test_whether_a_lead_of_ports_alone_has_a_fuse_is_not_known(station: Any, simple: str) -> None:
    bare = simple.replace("    fuse: 25 A\n", "").replace(
        "    conductor: {awg: 12, length: 3 m, contacts: 6 mohm}\n", ""
    )
    reason = station.facts(bare)("battery", "dc.unfused").reason
    assert (reason.text, reason.settle) == ("the fuse of lead is not stated", "fuse of lead in kit.yaml")


def test_the_current_of_the_battery_is_set_against_its_limit(station: Any, simple: str) -> None:
    share = station.facts(simple)("battery", "battery.current_share")
    assert share.value == pytest.approx(100 * 20 / 30)
    assert share.detail == {"current": "20 A", "most": "30 A"}
    silent = simple.replace("14.4 V], amperes: 30 A}", "14.4 V]}").replace(
        ", amperes: 30 A}\n  - name: lead", "}\n  - name: lead"
    )
    reason = station.facts(silent)("battery", "battery.current_share").reason
    assert reason.text == "the greatest current of battery is not stated"


@pytest.mark.parametrize(
    ("conductor", "gauge", "taken"),
    [
        ({"awg": 12}, 12, ""),
        ({"awg": 11}, 12, "11 AWG is taken as 12 AWG, the next thinner"),
        ({"area": "2.5 mm2"}, 14, "2.5 mm2 is taken as 14 AWG, the next thinner"),
        ({"area": "6 mm2"}, 10, "6 mm2 is taken as 10 AWG, the next thinner"),
        ({"awg": -3}, -3, ""),
    ],
)
def test_a_conductor_is_taken_as_the_next_thinner_gauge_of_the_tables(
    conductor: dict[str, Any], gauge: int, taken: str
) -> None:
    assert gauge_of(lead(**conductor)) == (gauge, taken)


@pytest.mark.parametrize("conductor", [{"awg": 20}, {"area": "0.75 mm2"}])
def test_a_conductor_thinner_than_the_tables_is_not_told(conductor: dict[str, Any]) -> None:
    with pytest.raises(CannotTell) as refused:
        gauge_of(lead(**conductor))
    written = "20 AWG" if "awg" in conductor else "0.75 mm2"
    assert refused.value.reason.text == f"no table has a fuse for the {written} of lead: the thinnest is 18 AWG"
    assert refused.value.reason.settle == "a conductor of lead of at least 18 AWG"


def test_the_greatest_fuses_never_fall_with_the_thickness() -> None:
    fuses = [greatest_fuse(gauge)[0] for gauge in (18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3)]
    assert fuses == sorted(fuses)
    assert greatest_fuse(10) == (30, "NFPA 70 (NEC), 240.4(D)")
    assert greatest_fuse(8) == (40, "NFPA 70 (NEC), table 310.16, copper, insulation for 60 °C")


def test_the_smallest_fuse_before_a_lead_is_the_one_that_protects_it(station: Any) -> None:
    kit = """\
    items:
      - {name: radio, is: hf-radio-10-w}
      - {name: battery, is: lithium-iron-battery-6-ah}
      - {name: first, is: dc-lead-housing}
      - {name: second, is: dc-lead-coaxial}
    connections:
      - [battery.terminals, first.battery-end]
      - [first.far-end, second.battery-end]
      - [second.plug, radio.dc]
    """
    facts = station.facts(kit)
    assert facts("first", "lead.fuse").detail == {"of": "first"}
    assert (facts("second", "lead.fuse").value, facts("second", "lead.fuse").detail) == (5, {"of": "second"})
    assert (
        "Gauge or fuse of second is the catalogue's: read what stands on yours." in facts("second", "lead.fuse").notes
    )


@pytest.mark.parametrize(("air", "factor"), [(30, 1.0), (35, 0.91), (40, 0.82), (45, 0.71), (50, 0.58), (55, 0.41)])
def test_warm_air_leaves_the_rounded_factors_of_the_printed_table(air: float, factor: float) -> None:
    """Column of 60 °C of the table of correction factors in NFPA 70, 310.15(B) (from memory)."""
    assert round(share_in_warm_air(air), 2) == factor


def test_in_warm_air_a_wire_is_fused_lower_and_in_air_too_warm_nothing_is_said(station: Any, simple: str) -> None:
    fused = simple.replace("fuse: 25 A", "fuse: 20 A")
    warm = station.facts(fused, "conditions: {temperature: 40 degC}")
    assert warm("lead", "lead.greatest_fuse").value == 16.3
    assert warm("lead", "lead.greatest_fuse").notes[-1] == (
        "In air of 40 °C a wire is taken to carry 82 % of the table's current, which is for 30 °C (NFPA 70, 310.15(B), "
        "from memory)."
    )
    assert warm("lead", "lead.fuse_share_of_conductor").value > 100
    mild = station.facts(fused, "conditions: {temperature: 30 degC}")
    assert mild("lead", "lead.fuse_share_of_conductor").value == 100
    found = station.facts(fused, "conditions: {temperature: 60 degC}")("lead", "lead.greatest_fuse").reason
    assert (found.text, found.settle) == (
        "air of 60 °C is as warm as insulation for 60 °C may be", "conditions.temperature",
    )  # fmt: skip
