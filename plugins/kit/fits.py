"""Whether a joint fits: kind and gender of its connectors, what goes through it, volts, amperes, watts and levels."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.api import trimmed
from afield.plugins.kit.charging import OVER_A_BATTERY, charges, over_a_battery
from afield.plugins.kit.findings import NOT_COMPARED, UNKNOWN, WRONG, Finding, Fit, fit_of
from afield.plugins.kit.joints import Joint, Net
from afield.plugins.kit.model import Kit, Port
from afield.plugins.kit.words import CABLES


def judged(joint: Joint, kit: Kit, net: Net) -> Fit:
    """Whether the joint fits, within the net that it is part of."""
    blank = joint.blank
    if blank is not None:
        why = f"the ports of {blank.name} are not stated"
        return Fit(None, why, settle=blank.supply_ports)
    one, other = joint.ports
    shape = list(_shape(one, other, kit))
    return fit_of(shape or _Flow(kit, net, one, other).findings())


def piece_between(one: Port, other: Port, kit: Kit) -> str:
    """The piece that would join two ports: a lead between devices, an adapter at a cable's end."""
    at_cable = any(kit.items[port.item].class_ in CABLES for port in (one, other))
    piece = "an adapter" if at_cable else "a lead"
    plugs = f"{kit.mates.counterpart(one)} to {kit.mates.counterpart(other)}"
    return f"{piece} from {kit.label(one)} to {kit.label(other)} ({plugs})"


def _shape(one: Port, other: Port, kit: Kit) -> Iterator[Finding]:
    names = kit.label(one), kit.label(other)
    if one.role != other.role:
        yield Finding(WRONG, f"{names[0]} is for {one.role}, {names[1]} for {other.role}", f"a port for {one.role}")
        return
    if not kit.mates.fit(one, other):
        why = f"a {one.kind} does not fit a {other.kind}"
        yield Finding(WRONG, why, piece_between(one, other, kit))
    if one.direction == other.direction == "sink":
        yield Finding(WRONG, f"{names[0]} and {names[1]} both take and none gives", f"a source for {names[1]}")


def charging_ends(kit: Kit, ends: list[list[Port]]) -> list[tuple[Port, Port]]:
    """What charges a battery on the other side of a joint, with the battery's terminals."""
    pairs = [(one, other) for one in ends[0] for other in ends[1]]
    sides = [pair for one, other in pairs for pair in ((one, other), (other, one))]
    return [pair for pair in sides if charges(*((kit.items[port.item], port) for port in pair))]


class _Flow:
    """What flows through a joint, against what both of its ports bear."""

    def __init__(self, kit: Kit, net: Net, one: Port, other: Port) -> None:
        self.kit, self.ports = kit, (one, other)
        ends = [net.behind(one), net.behind(other)]
        self.sources = [port for side in ends for port in side if port.direction == "source"]
        # What flows through the joint is drawn on the side away from the sources.
        fed = [side for side in ends if not any(port.direction == "source" for port in side)]
        charging = charging_ends(kit, ends)
        self.charged = [(giver, battery) for giver, battery in charging if battery in (one, other)]
        # What hangs on a battery's side draws from the battery, not from what charges it.
        batteries = {battery for _, battery in charging}
        drawing = fed or [side for side in ends if not batteries & set(side)]
        self.sinks = [port for side in drawing for port in side if port.direction == "sink"]

    def findings(self) -> list[Finding]:
        role = self.ports[0].role
        fed = [self.volts, self.amperes, self.charging]
        by_role = {"RF": [self.watts], "DC": fed, "USB": fed, "mains": fed}
        checks = by_role.get(role, [self.switching] if role == "keying" else [])
        return [finding for check in (*checks, self.levels) for finding in check()]

    def limits(self) -> Iterator[Port]:
        """Ports of the joint that something flows into."""
        return (port for port in self.ports if port.direction != "source")

    def watts(self) -> Iterator[Finding]:
        for port in self.limits():
            yield from self.peak(port)
            yield from self.average(port)

    def peak(self, port: Port) -> Iterator[Finding]:
        if port.watts_peak is None:
            yield self.silent(port, "watts_peak", any(source.watts_peak is not None for source in self.sources))
            return
        for source in self.sources:
            if source.watts_peak is None:
                yield self.missing(source, "watts_peak")
            elif source.watts_peak > port.watts_peak:
                yield self.too_much(port, source, source.watts_peak, port.watts_peak, "W peak")

    def average(self, port: Port) -> Iterator[Finding]:
        for source in self.sources if port.watts_average is not None else ():
            given = source.watts_average if source.watts_average is not None else source.watts_peak
            limit = port.watts_average or 0.0
            sure = source.watts_average is not None and source.averaging in (None, port.averaging)
            if given is None:
                yield self.missing(source, "watts_average")
            elif given > limit and sure:
                yield self.too_much(port, source, given, limit, "W average")
            elif given > limit:
                why = f"the average watts of {self.name(source)} over the time of {self.name(port)} are not stated"
                yield Finding(UNKNOWN, why, self.settle(source, "watts_average"))

    def volts(self) -> Iterator[Finding]:
        for port in self.limits():
            given = [source for source in self.sources if source.volts is not None]
            if port.volts is None:
                yield self.silent(port, "volts", bool(given))
                continue
            for source in self.sources:
                if source.volts is None:
                    yield self.missing(source, "volts")
                elif source.volts[0] < port.volts[0] or source.volts[1] > port.volts[1]:
                    yield self.other_volts(port, source)

    def other_volts(self, port: Port, source: Port) -> Finding:
        if port.role == "USB" and source.volts and port.volts and _overlap(source.volts, port.volts):
            # The two agree on one of several voltages; which one is for the computations of power to say.
            return Finding(NOT_COMPARED, f"which voltage {self.name(source)} and {self.name(port)} agree on")
        gives, takes = _range(source.volts), _range(port.volts)
        bears = "bears" if port.direction == "both" else "takes"
        why = f"{self.name(source)} gives {gives} V, {self.name(port)} {bears} {takes} V"
        return Finding(WRONG, why, f"a source of {takes} V for {self.name(port)}")

    def amperes(self) -> Iterator[Finding]:
        """The draw of all that hangs behind the joint, against what cable and source bear."""
        if any(self.kit.items[source.item].class_ == "solar panel" for source in self.sources):
            yield from self.from_a_panel()
            return
        limits = [port for port in self.ports if port.direction != "sink"]
        known = [sink for sink in self.sinks if sink.amperes is not None]
        drawn = sum(sink.amperes or 0.0 for sink in known)
        for port in limits:
            if port.amperes is None:
                yield self.silent(port, "amperes", bool(known) and port.direction == "source")
            elif drawn > port.amperes and self.ports[0].role in ("DC", "mains"):
                names = ", ".join(self.name(sink) for sink in known)
                why = f"{names} draws {trimmed(drawn)} A, {self.name(port)} bears {trimmed(port.amperes)} A"
                yield Finding(WRONG, why, f"an item that bears {trimmed(drawn)} A in place of {self.item(port)}")
            elif len(known) < len(self.sinks):
                silent = next(sink for sink in self.sinks if sink.amperes is None)
                yield self.missing(silent, "amperes")

    def from_a_panel(self) -> Iterator[Finding]:
        """A panel gives what the sun gives, whatever is asked for; what it may give at most has to be borne."""
        for port in self.limits():
            for source in self.sources:
                if source.amperes is not None and port.amperes is not None and source.amperes > port.amperes:
                    yield self.too_much(port, source, source.amperes, port.amperes, "A")

    def charging(self) -> Iterator[Finding]:
        """What charges a battery, against the highest volts that the battery shows over its discharge."""
        for giver, battery in self.charged:
            if giver.volts is None or battery.volts is None:
                yield self.missing(giver if giver.volts is None else battery, "volts")
            elif over_a_battery(giver, battery):
                bears = f"and is charged with {100 * OVER_A_BATTERY:g} % more at most (common practice, no source)"
                why = f"{self.name(giver)} gives up to {trimmed(giver.volts[1])} V, {self.name(battery)} has "
                why += f"{trimmed(battery.volts[1])} V at most {bears}"
                yield Finding(WRONG, why, f"a charge controller from {self.name(giver)} to {self.name(battery)}")

    def switching(self) -> Iterator[Finding]:
        """What keys must bear the volts and the amperes of what it keys."""
        for source in self.sources:
            for sink in self.sinks:
                yield from self.switched(source, sink)

    def switched(self, source: Port, sink: Port) -> Iterator[Finding]:
        pairs = (
            ("volts", source.volts and source.volts[1], sink.volts and sink.volts[1], "V"),
            ("amperes", source.amperes, sink.amperes, "A"),
        )
        for what, bears, meets, unit in pairs:
            if bears is None and meets is None:
                yield Finding(NOT_COMPARED, f"the {what} of {self.name(source)} and {self.name(sink)}")
            elif bears is None or meets is None:
                yield self.missing(source if bears is None else sink, what)
            elif meets > bears:
                why = f"{self.name(sink)} has {trimmed(meets)} {unit} to be switched, "
                why += f"{self.name(source)} switches {trimmed(bears)} {unit}"
                yield Finding(WRONG, why, f"a relay or buffer between {self.name(source)} and {self.name(sink)}")

    def levels(self) -> Iterator[Finding]:
        """Logic level and polarity of the two ports, and of the devices that are joined; a cable may have none."""
        pairs = [self.ports, *((source, sink) for source in self.sources for sink in self.sinks)]
        yield from dict.fromkeys(finding for one, other in pairs for finding in self.level(one, other))

    def level(self, one: Port, other: Port) -> Iterator[Finding]:
        if one.logic_level and other.logic_level and one.logic_level != other.logic_level:
            why = f"{self.name(one)} has the level {one.logic_level}, {self.name(other)} {other.logic_level}"
            yield Finding(WRONG, why, f"a converter of levels from {one.logic_level} to {other.logic_level}")
        if one.polarity and other.polarity and one.polarity != other.polarity:
            why = f"{self.name(one)} is {one.polarity}, {self.name(other)} {other.polarity}"
            yield Finding(WRONG, why, f"a lead that turns {one.polarity} into {other.polarity}")

    def silent(self, port: Port, figure: str, to_compare: bool) -> Finding:
        """A limit that is not stated: a cable's goes without saying, a device's has to be known."""
        if to_compare and port.direction != "both":
            return self.missing(port, figure)
        return Finding(NOT_COMPARED, f"the {figure.replace('_', ' ')} of {self.name(port)}")

    def missing(self, port: Port, figure: str) -> Finding:
        why = f"the {figure.replace('_', ' ')} of {self.name(port)} are not stated"
        return Finding(UNKNOWN, why, self.settle(port, figure))

    def too_much(self, port: Port, source: Port, given: float, limit: float, unit: str) -> Finding:
        why = f"{self.name(source)} gives {trimmed(given)} {unit}, {self.name(port)} bears {trimmed(limit)} {unit}"
        return Finding(WRONG, why, f"an item that bears {trimmed(given)} {unit} in place of {self.item(port)}")

    def settle(self, port: Port, figure: str) -> str:
        item = self.kit.items[port.item]
        return f"{figure} of {self.name(port)} in {item.origin.document.name}"

    def name(self, port: Port) -> str:
        return self.kit.label(port)

    def item(self, port: Port) -> str:
        return self.kit.items[port.item].name


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] <= other[1] and other[0] <= one[1]


def _range(volts: tuple[float, float] | None) -> str:
    low, high = volts or (0.0, 0.0)
    return trimmed(low) if low == high else f"{trimmed(low)} to {trimmed(high)}"
