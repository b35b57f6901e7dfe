"""Loads, transmitters, amplifiers and USB ports whose figures contradict each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from afield.core.api import amount_in, trimmed
from afield.plugins.kit.battery_checks import Wrong, wrong_battery


def wrong_figures(data: Mapping[str, Any], own: Mapping[str, Any]) -> Iterator[Wrong]:
    """What contradicts itself in an item, as far as it is the item's own and not the catalogue's.

    Args:
        data: all that is stated of the item, the catalogue's figures included.
        own: what is written in the kit file.

    """
    yield from wrong_battery(data, own)
    yield from _loads(own.get("loads", ()), _greatest_output(data))
    yield from _falling(own, "transmitter", "power", "output")
    yield from _falling(own, "amplifier", "drive", "drive")
    yield from _drive(own.get("amplifier", {}))
    yield from _usb(own.get("ports", ()), data.get("ports", ()))
    yield from _harvest(data.get("solar", {}), own)


def _harvest(solar: Mapping[str, Any], own: Mapping[str, Any]) -> Iterator[Wrong]:
    """An average harvest that no panel of its rating gives."""
    harvest, rated = solar.get("harvest"), solar.get("rated")
    if "solar" in own and harvest and rated and amount_in(harvest, "W") > amount_in(rated, "W"):
        what = f"a harvest of {harvest} is more than the panel's rated {rated}"
        yield (
            ("solar", "harvest"),
            what,
            "Write the average power while the station is up, well below the rating.",
        )


def _greatest_output(data: Mapping[str, Any]) -> float | None:
    """Greatest output of a radio, or rated output of an amplifier, W."""
    pair, rated = data.get("transmitter", {}).get("power"), data.get("amplifier", {}).get("output")
    if pair or rated:
        return amount_in(pair[1] if pair else rated, "W")
    return None


def _loads(loads: Sequence[Mapping[str, Any]], greatest: float | None) -> Iterator[Wrong]:
    seen: dict[tuple[str, float | None], int] = {}
    for index, load in enumerate(loads):
        state, at = load["state"], load.get("at")
        if at is not None and state != "transmit":
            what = f"the output {at} stands at a load of the state {state}"
            yield ("loads", index, "at"), what, "Remove it; only a load of the state transmit has an output."
            continue
        if at is None and state == "transmit" and greatest is None:
            what = "a load of the state transmit without its output"
            advice = (
                "Add it, for example at: 10 W; or state the outputs, for example transmitter: {power: [1 W, 10 W]}."
            )
            yield ("loads", index), what, advice
            continue
        first = seen.setdefault((state, amount_in(at, "W") if at else greatest if state == "transmit" else None), index)
        if first != index:
            yield ("loads", index), _second(load, greatest), f"It is load {first + 1} already. Remove one of the two."


def _second(load: Mapping[str, Any], greatest: float | None) -> str:
    if load["state"] != "transmit":
        return f"a second load of the state {load['state']}"
    at = load["at"] if "at" in load else f"the greatest output, {trimmed(greatest or 0)} W"
    return f"a second load of the state transmit at {at}"


def _falling(own: Mapping[str, Any], key: str, pair: str, title: str) -> Iterator[Wrong]:
    written = own.get(key, {}).get(pair)
    if written and amount_in(written[0], "W") > amount_in(written[1], "W"):
        yield (key, pair), f"the {title} {written[0]} to {written[1]} falls", "Write the least first."


def _drive(amplifier: Mapping[str, Any]) -> Iterator[Wrong]:
    if "drive" not in amplifier or "most" not in amplifier:
        return
    drive, most = amplifier["drive"][1], amplifier["most"]
    if amount_in(drive, "W") > amount_in(most, "W"):
        what = f"the drive {drive} is more than the {most} that the input bears"
        yield ("amplifier", "drive", 1), what, "Look up both; most is what its input bears, for a moment too."


def _usb(own: Sequence[Mapping[str, Any]], ports: Sequence[Mapping[str, Any]]) -> Iterator[Wrong]:
    roles = {port["name"]: port.get("role") for port in ports}
    for index, port in enumerate(own):
        role = roles.get(port["name"])
        if "usb" in port and role not in ("USB", None):
            what = f"USB power at {port['name']}, which is a port for {role}"
            yield ("ports", index, "usb"), what, "Remove it, or write role: USB if the port gives or takes power."
