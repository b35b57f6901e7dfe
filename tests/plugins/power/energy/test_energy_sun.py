"""Solar panels in the balance: as stated, by a clear sky, and why not."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.api import Origin, Piece
from afield.core.documents import Document
from afield.plugins.power.energy import sun as energy_sun

HERE = {"lat": 40.0, "lon": -105.0}
NOON = "19:00Z"
"""By the sun, 105 degrees west; arrival in UTC."""


def place(data: Any) -> Piece:
    return Piece(data, Origin(Document("trip.yaml", {}, "", None), ()))  # type: ignore[arg-type]


def panel(energy: Any, **stated: Any) -> Any:
    energy.kit.thing("panel", "solar panel", solar=stated)
    return energy


def test_a_stated_harvest_comes_in_from_arrival_to_leaving(energy: Any, answer: Any) -> None:
    dark = answer(energy.battery(charged="50 %").balance(), "left")
    found = panel(energy, harvest="6 W", charges="battery").balance()
    assert answer(found, "left") == pytest.approx(dark + 100 * 6 * 0.5 * 0.98 / 10, abs=2)
    assert found["harvest_wh"] == pytest.approx(36)
    assert found["answers"]["left"]["parts"]["sun"] > 0
    assert "panel gives 6 W on average, as stated." in found["notes"]
    assert "A stated harvest is taken as good to ± 30 % (95 %; common practice, no source)." in found["notes"]


def test_a_panel_that_names_no_battery_charges_the_only_one(energy: Any) -> None:
    assert panel(energy, harvest="6 W").balance()["harvest_wh"] == pytest.approx(36)


def test_a_panel_that_names_another_battery_gives_this_one_nothing(energy: Any) -> None:
    assert panel(energy, harvest="6 W", charges="other").balance()["harvest_wh"] == 0


def test_half_of_a_clear_sky_is_taken_give_or_take_all_of_it(energy: Any, timeline_of: Any) -> None:
    line = timeline_of(arrive=NOON)
    found = panel(energy, rated="60 W").battery(capacity="100 Ah", charged="50 %").balance(line, at=place(HERE))
    whole = found["harvest_wh"] / 0.5
    # Six hours from an hour after noon by the sun in June: 3 to 5 hours of full sun, less losses.
    assert 60 * 2.5 < whole < 60 * 5
    sun = found["answers"]["left"]["parts"]["sun"]
    assert sun == pytest.approx(100 * 0.5 * whole * 0.98 / (100 * 12), rel=0.1)
    assert (
        "The clouds are not known: 50 % ± 50 % of a clear sky's harvest is taken (common practice, no source)."
        in (found["notes"])
    )
    assert (
        "panel, lying level: clear sky by pvlib at sea level (Ineichen, Linke turbidity 3), PVWatts losses of 14 %, "
        "no shade."
    ) in found["notes"]


def test_local_times_will_do_with_the_zone(energy: Any, timeline_of: Any) -> None:
    found = panel(energy, rated="60 W").battery(charged="0 %")
    in_utc = found.balance(timeline_of(arrive=NOON), at=place(HERE))["harvest_wh"]
    local = timeline_of(arrive="13:00")  # six hours behind UTC in June
    assert found.balance(local, at=place(HERE), zone="America/Denver")["harvest_wh"] == pytest.approx(in_utc)


def test_a_zone_that_is_none_is_named(energy: Any, timeline_of: Any) -> None:
    found = panel(energy, rated="60 W").silence(timeline_of(), at=place(HERE), zone="Mars/North")
    assert found == ("Mars/North is no known time zone", "schedule.zone", "trip")


def test_a_locator_will_do_for_the_sun(energy: Any, timeline_of: Any) -> None:
    line, found = timeline_of(arrive=NOON), panel(energy, rated="60 W").battery(charged="0 %")
    by_locator = found.balance(line, at=place({"locator": "DN70"}))["harvest_wh"]
    assert by_locator == pytest.approx(found.balance(line, at=place(HERE))["harvest_wh"], rel=0.02)
    assert by_locator == found.balance(line, at=place("DN70"))["harvest_wh"]


SETTLE = "solar.harvest of panel in the kit"


@pytest.mark.parametrize(
    ("stated", "arrive", "at", "silence"),
    [
        (
            {}, NOON, HERE,
            ("neither the rated power nor the harvest of panel is stated", SETTLE, "item:panel"),
        ),
        (
            {"rated": "60 W"}, "14:00", HERE,
            (
                "the sun's height needs the time zone of the place: state it, or the harvest of the panel",
                "schedule.zone", "trip",
            ),
        ),
        ({"rated": "60 W"}, NOON, None, ("the position of the station is not stated", "station.at", "trip")),
        (
            {"rated": "60 W"}, NOON, {"utm": "13T 500000 4427757"},
            ("the sun's height needs lat and lon in degrees, or a locator", SETTLE, "item:panel"),
        ),
    ],
)  # fmt: skip
def test_what_the_sun_needs_is_named(
    energy: Any, timeline_of: Any, stated: Any, arrive: str, at: Any, silence: Any
) -> None:
    where = None if at is None else place(at)
    assert panel(energy, **stated).silence(timeline_of(arrive=arrive), at=where) == silence


def test_without_the_library_the_harvest_must_be_stated(
    energy: Any, timeline_of: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(energy_sun, "find_spec", lambda name: None)
    assert panel(energy, rated="60 W").silence(timeline_of(arrive=NOON), at=place(HERE)) == (
        "the library for the sun is not installed: install afield[solar], or state the harvest", SETTLE, "item:panel",
    )  # fmt: skip
    assert panel(energy, harvest="6 W").balance(timeline_of(arrive=NOON))["harvest_wh"] == pytest.approx(36)


def test_a_battery_that_is_too_cold_is_not_charged(energy: Any) -> None:
    found = panel(energy, harvest="6 W").balance(air_c=-5.0)
    assert found["harvest_wh"] == 0
    assert (
        "No harvest is counted: battery is not charged below 0 °C (one published operation manual, table 4.3, and two "
        "cell notes of 0 to 45 °C)."
    ) in found["notes"]


def test_more_sun_than_load_has_no_end(energy: Any) -> None:
    answers = panel(energy, harvest="60 W").balance()["answers"]
    assert answers["lasts"] == answers["longest_on_air"] == {
        "why": "battery does not end within 10 days"
    }  # fmt: skip
    assert answers["reserve"]["value"] == pytest.approx(100)
    assert answers["least_capacity"]["value"] < 0.001


def test_where_the_sun_may_cover_the_load_the_end_is_open(energy: Any) -> None:
    answers = panel(energy, harvest="7 W").balance()["answers"]
    assert answers["lasts"]["high"] == 240
    assert answers["lasts"]["value"] < 240
