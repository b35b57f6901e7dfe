from __future__ import annotations

import json
import sys
from typing import Any

import pytest

from afield.plugins.ionosphere.computations import iri
from afield.plugins.ionosphere.computations.bands import BANDS
from afield.plugins.ionosphere.computations.iri import iri_days, iri_point
from afield.plugins.ionosphere.computations.outlook import band_outlook
from afield.plugins.ionosphere.computations.paths import DOUBT, DOUBT_DB

JUNE = ("2026-06-27", 39.9, -117.3, 120.0)
NOON_UT, MIDNIGHT_UT = 20, 8


@pytest.fixture(scope="module")
def june() -> dict[str, Any]:
    return band_outlook(*JUNE)


def band(path: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in path["bands"] if one["band"] == name)
    return found


def test_other_builds_of_the_model_lie_within_the_range_that_is_shown(published: dict[str, Any]) -> None:
    case = published["iri-cross-2019"]
    found, expected = iri_point(**case["inputs"]).foF2_mhz, case["expected"]
    assert found == pytest.approx(expected["pyiri_foF2_mhz"], abs=case["tolerance"]["abs"])
    for other in ("iri2016_foF2_mhz", "iri2020_foF2_mhz"):
        assert (1 - DOUBT) * found <= expected[other] <= (1 + DOUBT) * found


def test_a_day_is_its_hours() -> None:
    day, other = iri_days("2026-06-27", [39.9, -33.0], [-117.3, 151.0], 120.0)
    assert day.hours[NOON_UT] == pytest.approx(iri_point("2026-06-27", NOON_UT, 39.9, -117.3, 120.0))
    assert other.hours[3] == pytest.approx(iri_point("2026-06-27", 3, -33.0, 151.0, 120.0))
    assert (len(day.hours), len(day.zenith_deg)) == (24, 24)


def test_sun_and_magnetic_field_are_where_they_are() -> None:
    day = iri_days("2026-06-27", [39.9], [-117.3], 120.0)[0]
    # Local noon is at 19:50 UTC; the sun stands 23.3 degrees north. The field is steep and of some 48 microtesla.
    assert day.zenith_deg.index(min(day.zenith_deg)) == NOON_UT
    assert day.noon_zenith_deg == pytest.approx(39.9 - 23.3, abs=1.5)
    assert 60 < day.dip_deg < 68
    assert 1.1 < day.fH_mhz < 1.35


def test_the_outlook_is_json_with_its_basis(june: dict[str, Any]) -> None:
    assert json.loads(json.dumps(june, allow_nan=False)) == june
    assert june["model"].startswith("PyIRI 0.")
    assert june["assumed"] == {"power_w": 10.0, "mode": "CW", "noise": "rural", "gains_db": 6.0, "bearing_deg": None}
    assert [path["km"] for path in june["paths"]] == [200, 1000, 3000]


def test_every_band_and_hour_has_a_state_and_a_reason_unless_it_is_open(june: dict[str, Any]) -> None:
    for path in june["paths"]:
        assert [one["band"] for one in path["bands"]] == [one.name for one in BANDS]
        for one in path["bands"]:
            assert len(one["states"]) == len(one["margins_db"]) == len(one["because"]) == 24
            assert [not because for because in one["because"]] == [state == "open" for state in one["states"]]


def test_states_keep_to_their_limits(june: dict[str, Any]) -> None:
    for path in june["paths"]:
        for one in path["bands"]:
            for hour, state in enumerate(one["states"]):
                ratio, margin = one["mhz"] / path["muf_mhz"][hour], one["margins_db"][hour]
                assert state == "closed" or (ratio < 1 + DOUBT + 0.02 and margin >= -DOUBT_DB - 0.5)
                assert state != "open" or (ratio < 1 - DOUBT + 0.02 and margin >= DOUBT_DB - 0.5)


def test_by_day_low_bands_are_absorbed_and_by_night_they_carry(june: dict[str, Any]) -> None:
    far = june["paths"][1]
    assert band(far, "160 m")["because"][NOON_UT] == band(far, "80 m")["because"][NOON_UT] == "too weak"
    assert band(far, "80 m")["states"][MIDNIGHT_UT] == "open"
    assert june["daylight"][NOON_UT]
    assert not june["daylight"][MIDNIGHT_UT]


def test_high_bands_skip_what_is_near(june: dict[str, Any]) -> None:
    near, _, far = june["paths"]
    assert set(band(near, "20 m")["because"]) == {"above the usable frequency"}
    assert band(far, "20 m")["states"][NOON_UT] == "marginal"
    twenty = next(one for one in june["reach"] if one["band"] == "20 m")
    assert 600 < twenty["skip_km"][NOON_UT] < twenty["reach_km"][NOON_UT]


@pytest.mark.parametrize("power_w", [1.0, 10.0, 100.0])
def test_the_table_of_hops_says_of_a_path_what_the_chart_says(power_w: float) -> None:
    found = band_outlook(*JUNE, power_w=power_w, paths_km=[200, 500, 1000, 1500, 2000, 3000])
    told = 0
    for path in found["paths"]:
        for one, reach in zip(path["bands"], found["reach"], strict=True):
            for state, skip, far in zip(one["states"], reach["skip_km"], reach["reach_km"], strict=True):
                if skip is not None and skip <= path["km"] <= far:
                    assert state != "closed"
                    told += 1
    assert told > 300


def test_a_weak_signal_ends_a_hop(june: dict[str, Any]) -> None:
    low = next(one for one in june["reach"] if one["band"] == "160 m")
    assert low["reach_km"][NOON_UT] < 1000 < low["reach_km"][MIDNIGHT_UT]
    assert band(june["paths"][2], "160 m")["states"][NOON_UT] == "closed"


def test_a_more_active_sun_opens_more(june: dict[str, Any]) -> None:
    active = band_outlook("2026-06-27", 39.9, -117.3, 200.0)
    assert sum(active["paths"][2]["muf_mhz"]) > 1.1 * sum(june["paths"][2]["muf_mhz"])


def test_more_power_opens_more_and_closes_nothing(june: dict[str, Any]) -> None:
    order = ("closed", "marginal", "open")
    strong = band_outlook(*JUNE, power_w=100.0)
    pairs = [
        (order.index(weak_state), order.index(strong_state))
        for path, other in zip(june["paths"], strong["paths"], strict=True)
        for one, another in zip(path["bands"], other["bands"], strict=True)
        for weak_state, strong_state in zip(one["states"], another["states"], strict=True)
    ]
    assert all(weak <= strong for weak, strong in pairs)
    assert sum(weak < strong for weak, strong in pairs) > 20


def test_a_bearing_moves_the_clock_of_a_long_path(june: dict[str, Any]) -> None:
    east, west = (band_outlook(*JUNE, bearing_deg=bearing)["paths"][2]["muf_mhz"] for bearing in (90.0, 270.0))
    # Evening comes to the east first.
    assert east[4] < june["paths"][2]["muf_mhz"][4] < west[4]


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"date": "27.6.2026"}, 'date "27.6.2026" is not a date; write it as 2026-06-27'),
        ({"date": "1920-06-27"}, "year 1920 is outside 1965 to 2034"),
        ({"lat": 84.0}, "lat 84 deg is beyond 80, where the maps say little; look at an ionosonde near there"),
        ({"lon": 400.0}, "lon 400 deg is outside -180 to 360"),
        ({"f107": 55.0}, "F10.7 55 is outside 63.75 to 250; give the mean over 81 days or 12 months"),
        ({"paths_km": [8000]}, "path 8000 km is outside 100 to 4000"),
        ({"paths_km": []}, "there is no path; give at least one length in km"),
        ({"bearing_deg": 370.0}, "bearing 370 deg is outside 0 to 360"),
        (
            {"noise": "loud"},
            'category "loud" is not known; known are business, residential, rural, quiet rural, galactic',
        ),
    ],
)
def test_figures_out_of_range_are_refused(changes: dict[str, Any], message: str) -> None:
    inputs = dict(zip(("date", "lat", "lon", "f107"), JUNE, strict=True))
    with pytest.raises(ValueError) as refused:
        band_outlook(**{**inputs, **changes})
    assert str(refused.value) == message


def test_without_the_library_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PyIRI", None)
    iri._layers.cache_clear()
    with pytest.raises(iri.NotInstalled) as refused:
        iri_point("2026-06-27", 20, 39.9, -117.3, 121.0)
    assert str(refused.value) == "PyIRI is not installed; install afield[ionosphere]"
