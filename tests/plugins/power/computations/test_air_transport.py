from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.air_transport import air_transport_class, air_transport_spare_limit

ORDER = ("allowed", "airline-approval", "forbidden")


@pytest.mark.parametrize(
    ("nominal_v", "capacity_ah", "energy_wh", "category"),
    [
        (12.8, 7.8125, 100, "allowed"),
        (12.8, 7.82, 100.096, "airline-approval"),
        (12.8, 12.5, 160, "airline-approval"),
        (12.8, 12.51, 160.128, "forbidden"),
        (0.1, 1000, 100, "allowed"),
        (1.6, 100, 160, "airline-approval"),
    ],
)
def test_exactly_100_wh_is_allowed_and_exactly_160_wh_needs_approval(
    nominal_v: float, capacity_ah: float, energy_wh: float, category: str
) -> None:
    found = air_transport_class(nominal_v, capacity_ah)
    assert (found.energy_wh, found.category) == (energy_wh, category)


@given(st.floats(min_value=0.1, max_value=100), st.floats(min_value=0.1, max_value=100))
def test_more_energy_is_never_easier_to_take(one_ah: float, other_ah: float) -> None:
    less, more = sorted((one_ah, other_ah))
    classes = [ORDER.index(air_transport_class(12.8, capacity).category) for capacity in (less, more)]
    assert classes == sorted(classes)


@given(st.floats(min_value=0.1, max_value=100))
def test_a_spare_is_never_checked(capacity_ah: float) -> None:
    assert air_transport_class(12.8, capacity_ah, spare=True).baggage in ("carry-on only", "none")


def test_a_battery_in_its_equipment_may_be_checked() -> None:
    assert air_transport_class(12.8, 7.5, spare=False).baggage == "carry-on or checked"
    assert air_transport_class(12.8, 15, spare=False).baggage == "none"


def test_a_power_bank_reckoned_at_5_v_is_put_into_the_wrong_class() -> None:
    assert air_transport_class(3.7, 26.8).category == "allowed"
    assert air_transport_class(5, 26.8).category == "airline-approval"


@pytest.mark.parametrize(
    ("nominal_v", "capacity_ah", "category", "baggage"),
    [
        (12, 7, "allowed", "carry-on or checked"),
        (12, 9, "forbidden", "none"),
        (24, 4, "forbidden", "none"),
    ],
)
def test_sealed_lead_acid(nominal_v: float, capacity_ah: float, category: str, baggage: str) -> None:
    assert air_transport_class(nominal_v, capacity_ah, "non-spillable lead-acid")[1:] == (category, baggage)


@pytest.mark.parametrize(
    ("energy_wh", "spares", "permitted", "most"),
    [
        (100, 12, True, None),
        (100.1, 2, True, 2),
        (160, 3, False, 2),
        (160.1, 1, False, 0),
        (160.1, 0, True, 0),
    ],
)
def test_two_large_spares_at_most(energy_wh: float, spares: int, permitted: bool, most: int | None) -> None:
    assert air_transport_spare_limit(energy_wh, spares) == (permitted, most)


@pytest.mark.parametrize(
    ("computation", "arguments", "message"),
    [
        (
            air_transport_class,
            (12.8, 7.5, "lithium-metal"),
            'chemistry "lithium-metal" is not known; known are lithium-ion and non-spillable lead-acid',
        ),
        (air_transport_class, (0, 7.5), "nominal voltage 0 V must be a finite number above 0"),
        (air_transport_spare_limit, (0, 1), "energy 0 Wh must be a finite number above 0"),
        (air_transport_spare_limit, (155, -1), "-1 is no number of batteries"),
        (air_transport_spare_limit, (155, 1.5), "1.5 is no number of batteries"),
    ],
)
def test_what_the_rule_does_not_cover_is_refused(computation: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computation(*arguments)
    assert str(refused.value) == message
