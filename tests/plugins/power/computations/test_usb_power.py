from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.usb_power import (
    usb_cable_power_limit,
    usb_epr_fixed_voltage,
    usb_pd_fixed_supplies,
    usb_pd_match,
)

RATED = st.floats(min_value=0.5, max_value=240)
CABLES = st.sampled_from([3.0, 5.0])


@given(RATED)
def test_no_supply_exceeds_the_rated_power(pdp_w: float) -> None:
    supplies = usb_pd_fixed_supplies(pdp_w).supplies
    assert all(supply.v * supply.a <= pdp_w * (1 + 1e-7) for supply in supplies)
    assert all(supply.a <= 5 for supply in supplies)


@given(RATED, CABLES, st.floats(min_value=1, max_value=300))
def test_no_contract_exceeds_the_rating_the_cable_or_the_wanted_voltage(
    pdp_w: float, cable_a: float, wanted_w: float
) -> None:
    found = usb_pd_match(pdp_w, sink_wants_w=wanted_w, cable_a=cable_a)
    assert found.power_w <= min(pdp_w * (1 + 1e-7), 20 * cable_a)
    assert found.contract_v * found.contract_a == pytest.approx(found.power_w)
    assert found.shortfall_w == pytest.approx(max(0, wanted_w - found.power_w))


@given(RATED)
def test_every_source_has_5_v_and_none_has_12_v(pdp_w: float) -> None:
    volts = [supply.v for supply in usb_pd_fixed_supplies(pdp_w).supplies]
    assert volts == [5, 9, 15, 20][: len(volts)]
    assert volts


@pytest.mark.parametrize(
    ("pdp_w", "highest_v", "highest_a"),
    [
        (7.5, 5, 1.5),
        (15, 5, 3),
        (15.01, 9, 1.66),
        (27, 9, 3),
        (29, 15, 1.93),
        (45, 15, 3),
        (46, 20, 2.3),
        (60, 20, 3),
        (100, 20, 5),
        (140, 20, 5),
    ],
)
def test_the_highest_supply_of_each_rating(pdp_w: float, highest_v: float, highest_a: float) -> None:
    assert usb_pd_fixed_supplies(pdp_w).supplies[-1] == (highest_v, highest_a)


@pytest.mark.parametrize(("pdp_w", "needed"), [(60, False), (60.1, False), (60.2, True), (100, True)])
def test_above_60_w_a_cable_for_5_a_is_needed(pdp_w: float, needed: bool) -> None:
    assert usb_pd_fixed_supplies(pdp_w).needs_5a_cable is needed


def test_a_radio_for_12_v_gets_5_v_from_a_source_that_offers_no_extra() -> None:
    found = usb_pd_match(100, sink_wants_v=12, sink_min_v=11)
    assert (found.contract_v, found.fits) == (5, False)


def test_a_source_of_45_w_has_no_20_v_for_a_device_that_needs_it() -> None:
    assert usb_pd_match(45, sink_wants_v=20, sink_min_v=20)[0::4] == (5, False)
    assert usb_pd_match(46, sink_wants_v=20, sink_min_v=20)[0::4] == (20, True)


def test_a_cable_for_3_a_caps_a_source_of_100_w_at_60_w() -> None:
    assert usb_pd_match(100, sink_wants_w=96).power_w == 60
    assert usb_pd_match(100, sink_wants_w=96, cable_a=5) == (20, 5, 100, 0, True)
    assert usb_cable_power_limit("unmarked 3 A") == 60


def test_a_charger_that_shares_its_power_is_taken_at_the_ports_rating() -> None:
    alone, shared = (usb_pd_fixed_supplies(watts).supplies[-1] for watts in (100, 100 - 65))
    assert (alone, shared) == ((20, 5), (15, 2.33))


@given(st.floats(min_value=100.01, max_value=240))
def test_the_extended_range_never_exceeds_the_rated_power(pdp_w: float) -> None:
    found = usb_epr_fixed_voltage(pdp_w)
    assert found.highest_fixed_v * found.max_a <= pdp_w * (1 + 1e-7)
    assert found.max_a <= 5
    assert found[2:] == (15, found.highest_fixed_v)


@pytest.mark.parametrize(("pdp_w", "volts"), [(100.1, 28), (140, 28), (140.1, 36), (180, 36), (180.1, 48), (240, 48)])
def test_voltages_of_the_extended_range(pdp_w: float, volts: int) -> None:
    assert usb_epr_fixed_voltage(pdp_w).highest_fixed_v == volts


@pytest.mark.parametrize(
    ("cable", "max_v", "watts"), [("unmarked 3 A", 9, 27), ("marked 5 A", 20, 100), ("EPR 5 A", 48, 240)]
)
def test_what_cables_carry(cable: Any, max_v: float, watts: float) -> None:
    assert usb_cable_power_limit(cable, max_v) == watts


@pytest.mark.parametrize(
    ("computation", "arguments", "message"),
    [
        (usb_pd_fixed_supplies, (0.1,), "rated power 0.1 W is outside 0.5 to 240 W"),
        (usb_pd_match, (300,), "rated power 300 W is outside 0.5 to 240 W"),
        (usb_pd_match, (45, 9, 12), "a device that wants 9 V cannot need 12 V at least"),
        (usb_pd_match, (45, 9, 0), "a device that wants 9 V cannot need 0 V at least"),
        (usb_pd_match, (45, 20, 5, 0), "wanted power 0 W must be a finite number above 0"),
        (usb_pd_match, (45, 20, 5, 30, 4), "cable 4 A does not exist; USB-C cables are for 3 or 5 A"),
        (
            usb_epr_fixed_voltage,
            (100,),
            "rated power 100 W is not above 100 and up to 240 W, the extended power range",
        ),
        (
            usb_cable_power_limit,
            ("thick",),
            'cable "thick" is not known; known are unmarked 3 A, marked 5 A, EPR 5 A',
        ),
        (usb_cable_power_limit, ("marked 5 A", 28), "a cable marked 5 A is for 20 V at most, not 28 V"),
        (usb_cable_power_limit, ("marked 5 A", 0), "voltage 0 V must be a finite number above 0"),
    ],
)
def test_what_does_not_exist_is_refused(computation: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computation(*arguments)
    assert str(refused.value) == message
