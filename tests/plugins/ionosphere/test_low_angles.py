"""The ground in front of the antenna: what it gives low angles, and that a lake is no sea."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from afield.core.documents import InputError
from afield.core.engine import Engine, load
from afield.core.host.loading import PluginInfo, new_host
from afield.plugins.geometry import plugin as geometry
from afield.plugins.ionosphere import plugin as ionosphere
from afield.plugins.ionosphere.computations.ground import ground_gain
from afield.plugins.outing import plugin as outing
from afield.plugins.timing import plugin as timing

PLUGINS = {"outing": outing, "geometry": geometry, "timing": timing, "ionosphere": ionosphere}
PARTS = {
    "wire": "{name: a, role: antenna, from: [0 m, 1 m], to: [0 m, 21 m], height: 6 m}",
    "whip": "{name: a, role: antenna, at: [0 m, 0 m], height: 10 m}",
    "table": "{name: a, role: operating position, at: [0 m, 0 m], height: 1 m}",
    "low": "{name: a, role: antenna, at: [0 m, 0 m]}",
}
Records = Callable[..., Any]


@pytest.fixture
def record(tmp_path: Path, papers: None) -> Records:
    """(ground, part, schedule, fact, subject) -> the record."""

    def of(
        ground: str | None, part: str = "whip", schedule: str = "band: 40m", fact: str = "part.low_angle_gain"
    ) -> Any:
        plan = tmp_path / "trip.yaml"
        stated = f"ground: {ground}, " if ground else ""
        times = 'zone: America/Denver, arrive: "09:00", on_air: ["10:00", "12:00"], leave: "13:00"'
        plan.write_text(
            "trip: A day out\ndate: 2026-06-27\npacks: [papers]\n"
            f"station: {{{stated}at: {{lat: 39.9, lon: -117.3, accuracy: 5 m}}, parts: [{PARTS[part]}]}}\n"
            f"schedule: {{{times}, {schedule}}}\n"
        )
        host = new_host()
        for name, module in PLUGINS.items():
            host.add(module, PluginInfo(name, "afield", "0.1.0"))
        engine = Engine(host)
        world = load(plan, engine).world
        found = world.value("part:a" if fact.startswith("part.") else "trip", fact)
        assert engine.failures() == []
        assert world.crashes == []
        return found

    return of


@pytest.mark.parametrize(
    ("ground", "constants"),
    [
        ("sea", (80, 5)), ("fresh water", (80, 0.002)), ("good ground", (30, 0.01)), ("average ground", (15, 0.001)),
        ("poor ground", (3, 0.0001)), ("city", (5, 0.001)),
    ],
)  # fmt: skip
def test_the_gain_is_that_of_the_computation(record: Records, ground: str, constants: tuple[float, float]) -> None:
    found = record(ground)
    assert found.value == ground_gain(*constants, 7.1, 10, 5.0, "vertical")
    assert found.low <= found.value <= found.high
    assert found.detail["wave"] == "vertical"
    assert record(ground, "wire").value == ground_gain(*constants, 7.1, 10, 6.0, "horizontal")


def test_a_lake_lies_between_the_land_and_the_sea_and_is_neither(record: Records) -> None:
    sea, lake, land = (record(ground) for ground in ("sea", "fresh water", "average ground"))
    assert sea.low > lake.high
    assert land.value < lake.value < sea.value
    assert float(lake.detail["over_sea"]) == pytest.approx(sea.value, abs=0.05)
    assert float(lake.detail["over_average"]) == pytest.approx(land.value, abs=0.05)
    told = record("fresh water", fact="ground.conductivity")
    assert told.notes[0].startswith("Fresh water conducts 2,500 times less than the sea: a ground wire in a lake is no")
    assert record("sea", fact="ground.conductivity").value / told.value == pytest.approx(2500)
    assert record("sea", fact="ground.conductivity").notes == ()


def test_the_worst_of_the_planned_frequencies_is_told(record: Records) -> None:
    slots = (
        "band: 40m, slots: [{name: x, from: '10:00', to: '11:00'}, "
        "{name: y, from: '11:00', to: '12:00', frequency: 28.06 MHz}]"
    )
    assert record("sea", "wire", slots).detail["frequency"] == "7.1"
    assert record("sea", "wire", slots.replace("band: 40m", "band: 15m")).detail["frequency"] == "21.225"


@pytest.mark.parametrize(
    ("ground", "part", "schedule", "told"),
    [
        (None, "whip", "band: 40m", "ground in front of the antenna is not stated"),
        ("sea", "table", "band: 40m", "a is no antenna but operating position"),
        ("sea", "low", "band: 40m", "height of the part is not stated"),
        ("sea", "whip", "mode: CW", "no band and no frequency is planned"),
        ("sea", "whip", "band: 2m", "the band 2m is not one of"),
        ("sea", "whip", "frequency: 430 MHz", "frequency 430 MHz is outside 0.1 to 300"),
    ],
)  # fmt: skip
def test_what_it_cannot_be_told_without(record: Records, ground: str, part: str, schedule: str, told: str) -> None:
    assert record(ground, part, schedule).reason.text.startswith(told)


def test_a_ground_that_is_none_is_refused(record: Records) -> None:
    with pytest.raises(InputError) as refused:
        record("salt water")
    station = (
        "at: {lat: 39.9, lon: -117.3, accuracy: 5 m}, parts: [{name: a, role: antenna, at: [0 m, 0 m], height: 10 m}]"
    )
    assert refused.value.text() == (
        'trip.yaml:4:19: "salt water" is not a choice for ground in front of the antenna\n'
        f"    | station: {{ground: salt water, {station}}}\n"
        '    = Did you mean "fresh water"? Choices: "sea", "fresh water", "good ground", "average ground", '
        '"poor ground", "city".'
    )
