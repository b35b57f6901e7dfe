"""Solar panels under a clear sky; published values stand in tests/checks."""

from __future__ import annotations

import pytest

from afield.plugins.power.computations.clear_sky import clear_sky_haurwitz, clear_sky_ineichen
from afield.plugins.power.computations.solar import (
    clear_sky_output,
    pv_clear_day_energy,
    pv_dc_power,
    pv_system_losses,
)


def test_a_panel_gives_nothing_at_night_and_most_at_noon() -> None:
    times = [f"2026-06-21T{hour:02d}:00" for hour in (0, 6, 12, 18)]
    ghi, poa, power = clear_sky_output(times, 51.5, 0.0, 0.0, 180.0, 60.0)
    assert power[0] == poa[0] == ghi[0] == 0
    assert power.argmax() == 2
    assert 35 < power[2] < 60


def test_level_panels_give_the_same_whatever_way_they_face() -> None:
    times = ["2026-06-21T12:00", "2026-06-21T15:00"]
    south, north = (clear_sky_output(times, 40.0, 0.0, 0.0, facing, 60.0)[2] for facing in (180.0, 0.0))
    assert list(south) == pytest.approx(list(north))


def test_a_day_is_that_of_the_place_wherever_it_lies() -> None:
    days = [
        pv_clear_day_energy("2026-06-21", 40.0, lon, 30.0, 180.0, 100.0).dc_wh for lon in (-179.0, -90.0, 0.0, 179.0)
    ]
    assert days == pytest.approx([days[0]] * 4, rel=0.005)


def test_the_sun_below_the_horizon_gives_nothing() -> None:
    assert clear_sky_haurwitz(95) == 0
    assert clear_sky_ineichen(95).dni_w_m2 == 0


def test_losses_multiply() -> None:
    bare = pv_system_losses(0, 0, 0, 0, 0)
    assert pv_system_losses(soiling=10, shading=0, mismatch=0, wiring=0, availability=0) == pytest.approx(
        100 - 0.9 * (100 - bare)
    )


def test_what_cannot_be_is_refused() -> None:
    for refused, message in (
        (lambda: clear_sky_output(["2026-06-21T12:00"], 95, 0, 0, 180, 60), "latitude 95 deg is outside -90 to 90 deg"),
        (lambda: pv_dc_power(900, 200, 100), "cell temperature 200 °C is outside -60 to 120 °C"),
        (lambda: pv_dc_power(900, 25, 0), "rated power 0 W must be a finite number above 0"),
        (lambda: clear_sky_haurwitz(200), "zenith distance 200 deg is outside 0 to 180 deg"),
        (lambda: pv_system_losses(soiling=120), "soiling 120 % is outside 0 to 100 %"),
    ):
        with pytest.raises(ValueError) as error:
            refused()
        assert str(error.value) == message
