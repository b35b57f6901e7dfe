"""The section of the briefing on energy: the charge of each battery against time, and what follows."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from importlib.resources import files
from typing import Any

from afield.core.api import Section, _, marked
from afield.plugins.power.energy.figures import MOST_CHARTS, charge_figure
from afield.plugins.power.stated import number

Facts = Mapping[str, Mapping[str, Mapping[str, Any]]]

ROWS = (
    ("energy.used", marked("Energy used")),
    ("energy.reserve", marked("Least charge left")),
    ("energy.lasts", marked("Ends after arrival")),
    ("energy.longest_on_air", marked("Longest on the air")),
    ("energy.least_capacity", marked("Least capacity that would do")),
)
WANTS = ("energy.feeds", "energy.balance", *(name for name, _ in ROWS))
RESERVE_PERCENT = 20.0
"""Drawn as a line: the reserve that is usually kept (common practice, no source)."""
DAY_MINUTES = 24 * 60
WIDTH = 30
"""Of the column of names, in letters."""


def energy_section() -> Section:
    """The section."""
    schema: dict[str, Any] = json.loads(files("afield.schemas").joinpath("sections", "energy.json").read_text("utf-8"))
    figures = {f"battery {index}": partial(charge_figure, index) for index in range(MOST_CHARTS)}
    return Section(
        name="energy", title="Energy", order=140, wants=WANTS, data=energy_data, schema=schema,
        template="energy.html", package="afield.plugins.power", figures=figures, text=energy_text,
    )  # fmt: skip


def energy_data(facts: Facts) -> dict[str, Any] | None:
    """The JSON of the section (schemas/sections/energy.json); None if no battery feeds anything."""
    feeding = [key for key, record in facts["energy.feeds"].items() if record["value"] is True]
    if not feeding:
        return None
    told = [key for key in feeding if facts["energy.balance"][key]["reason"] is None]
    batteries = [_battery(key, facts) for key in told]
    silent = [_silent(key, facts) for key in feeding if key not in told]
    notes = dict.fromkeys(note for key in told for note in facts["energy.balance"][key]["notes"])
    return {"batteries": batteries, "silent": silent, "assumptions": list(notes)}


def _silent(key: str, facts: Facts) -> dict[str, str]:
    return {"name": key.partition(":")[2], "why": str(facts["energy.balance"][key]["reason"]["text"])}


def _battery(key: str, facts: Facts) -> dict[str, Any]:
    balance = facts["energy.balance"][key]["value"]
    arrive = _minute(balance["clock"]["arrive"])
    return {
        "name": balance["battery"],
        "about": _about(balance),
        "rows": list(_rows(key, balance, arrive, facts)),
        "loads": [_load(load) for load in balance["feeds"]],
        "chart": _chart(balance, arrive),
    }


def _about(balance: Mapping[str, Any]) -> str:
    capacity, energy = number(balance["capacity_ah"], ".3g"), number(balance["usable_wh"], ".0f")
    words = _("{chemistry}, {capacity} Ah, {energy} Wh usable")
    return words.format(chemistry=_(balance["chemistry"]), capacity=capacity, energy=energy)


def _load(load: Mapping[str, Any]) -> dict[str, str]:
    receiving, mean = f"{number(load['receiving_w'], '.1f')} W", f"{number(load['mean_w'], '.1f')} W"
    return {"name": load["name"], "receiving": receiving, "mean": mean}


def _rows(key: str, balance: Mapping[str, Any], arrive: int, facts: Facts) -> Iterator[dict[str, str]]:
    for name, title in ROWS:
        record = facts[name][key]
        yield {"name": _(title), "value": _value(record), "aside": _aside(name, record, balance, arrive)}
        if name == "energy.used" and balance["harvest_wh"] > 0:
            harvest = f"{balance['harvest_wh']:.0f} Wh"
            yield {"name": _("From the sun"), "value": harvest, "aside": _("if all can be stored")}


def _value(record: Mapping[str, Any]) -> str:
    return str(record["printed"]) if record["reason"] is None else str(record["reason"]["text"])


def _aside(name: str, record: Mapping[str, Any], balance: Mapping[str, Any], arrive: int) -> str:
    if record["reason"] is not None:
        return ""
    if name == "energy.lasts":
        within = balance["ends_h"] is not None
        about = _("about {clock}") if within else _("about {clock}, if you stayed on the air")
        return about.format(clock=_clock(arrive, record["value"], balance))
    if name == "energy.reserve":
        more = balance["left_now"] - record["value"]
        now = _("{percent} % at leaving").format(percent=f"{balance['left_now']:.0f}")
        return now if more > 0.5 else _("at leaving")
    return _(balance["chemistry"]) if name == "energy.least_capacity" else ""


def _chart(balance: Mapping[str, Any], arrive: int) -> dict[str, Any]:
    ends = balance["ends_h"]
    return {
        **{name: balance[name] for name in ("hours", "charge", "low", "high", "leave_h")},
        "on_air": [{"from_h": slot["from_h"], "to_h": slot["to_h"], "name": slot["name"]} for slot in balance["slots"]],
        "reserve": RESERVE_PERCENT,
        "zone": marked("UTC") if balance["clock"]["arrive"].endswith("Z") else marked("clock"),
        "ends": {"at_h": ends, "clock": _clock(arrive, ends, balance)} if ends is not None else None,
        "ticks": list(_ticks(balance, arrive)),
    }


def _ticks(balance: Mapping[str, Any], arrive: int) -> Iterator[dict[str, Any]]:
    """Whole hours after arrival, at most eight of them."""
    whole = int(balance["leave_h"] + 1e-9)
    every = next(step for step in (1, 2, 3, 4, 6) if whole / step <= 8 or step == 6)
    for hour in range(0, whole + 1, every):
        yield {"at_h": float(hour), "clock": _clock(arrive, hour, balance).removesuffix("Z"), "after": f"{hour} h"}


def _minute(clock: str) -> int:
    hours, minutes = clock.removesuffix("Z").split(":")[:2]
    return int(hours) * 60 + int(minutes)


def _clock(arrive: int, hours: float, balance: Mapping[str, Any]) -> str:
    minute = (arrive + round(60 * hours)) % DAY_MINUTES
    return f"{minute // 60:02d}:{minute % 60:02d}" + ("Z" if balance["clock"]["arrive"].endswith("Z") else "")


def energy_text(data: Mapping[str, Any]) -> str:
    """The section as plain text."""
    blocks = [list(_battery_lines(battery)) for battery in data["batteries"]]
    blocks += [[f"{silent['name']}: {silent['why']}"] for silent in data["silent"]]
    blocks.append([f"- {assumption}" for assumption in data["assumptions"]])
    return "\n\n".join("\n".join(lines) for lines in blocks if lines)


def _battery_lines(battery: Mapping[str, Any]) -> Iterator[str]:
    yield f"{battery['name']}: {battery['about']}"
    width = max(WIDTH, *(len(row["name"]) + 2 for row in battery["rows"]))
    for row in battery["rows"]:
        yield f"{row['name'] + ':':<{width}}{row['value']}" + (f" ({row['aside']})" if row["aside"] else "")
    for load in battery["loads"]:
        yield _("  {name}: {mean} on average on the air, {receiving} receiving").format(**load)
    yield from _points(battery["chart"])


def _points(chart: Mapping[str, Any]) -> Iterator[str]:
    """The charge at the marked hours, as the chart shows it."""
    for tick in chart["ticks"]:
        index = _nearest(chart["hours"], tick["at_h"])
        low, charge, high = (chart[name][index] for name in ("low", "charge", "high"))
        figures = {"charge": f"{charge:.0f}", "low": f"{low:.0f}", "high": f"{high:.0f}"}
        yield _("  {clock}: {charge} % ({low} to {high} %)").format(clock=tick["clock"], **figures)


def _nearest(hours: Sequence[float], at_h: float) -> int:
    return min(range(len(hours)), key=lambda index: abs(hours[index] - at_h))
