from __future__ import annotations

from math import prod
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.power.computations.converters import conversion_chain, inverter_ac_power

SHARES = st.floats(min_value=0.1, max_value=1)


@given(st.floats(min_value=0, max_value=2000), st.floats(min_value=1, max_value=1000), SHARES)
def test_an_inverter_gives_no_more_than_it_takes_or_is_rated_for(pdc: float, pdc0: float, eta: float) -> None:
    pac = inverter_ac_power(pdc, pdc0, eta)
    assert 0 <= pac <= min(pdc * 1.03, eta * pdc0)


def test_an_inverter_is_poor_at_light_load() -> None:
    efficiencies = [inverter_ac_power(share * 1000, 1000, 0.9) / (share * 1000) for share in (0.5, 0.1, 0.02)]
    assert efficiencies == sorted(efficiencies, reverse=True)
    assert efficiencies[-1] < 0.7
    assert inverter_ac_power(5, 1000, 0.9) == inverter_ac_power(0, 1000, 0.9) == 0


@given(st.lists(SHARES, max_size=4), st.floats(min_value=1, max_value=500))
def test_a_chain_delivers_what_the_load_uses(efficiencies: list[float], load_w: float) -> None:
    chain = conversion_chain(256, 0.9, efficiencies, load_w)
    assert chain.delivered_wh == pytest.approx(256 * 0.9 * prod(efficiencies))
    assert chain.runtime_h * load_w == pytest.approx(chain.delivered_wh)
    assert chain.runtime_h * chain.drawn_w == pytest.approx(256 * 0.9)


@given(st.lists(SHARES, min_size=1, max_size=4))
def test_another_converter_never_makes_a_battery_last_longer(efficiencies: list[float]) -> None:
    with_it, without = (conversion_chain(100, 1, some, 10) for some in (efficiencies, efficiencies[1:]))
    assert with_it.runtime_h <= without.runtime_h * (1 + 1e-12)


@pytest.mark.parametrize(
    ("computation", "arguments", "message"),
    [
        (inverter_ac_power, (-1, 100), "power -1 W must be a finite number, 0 or more"),
        (inverter_ac_power, (10, 0), "rated power 0 W must be a finite number above 0"),
        (
            inverter_ac_power,
            (10, 100, 95),
            "nominal efficiency 95 is not above 0 and up to 1; write 90 % as 0.9",
        ),
        (
            conversion_chain,
            (256, 0.9, [0.9, 90], 45),
            "efficiency 90 is not above 0 and up to 1; write 90 % as 0.9",
        ),
        (
            conversion_chain,
            (256, 0, [0.9], 45),
            "usable fraction 0 is not above 0 and up to 1; write 90 % as 0.9",
        ),
        (conversion_chain, (0, 0.9, [0.9], 45), "battery 0 Wh must be a finite number above 0"),
        (conversion_chain, (256, 0.9, [0.9], 0), "load 0 W must be a finite number above 0"),
    ],
)
def test_what_cannot_be_is_refused(computation: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        computation(*arguments)
    assert str(refused.value) == message
