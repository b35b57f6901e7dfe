"""Whether a joint fits: kind and gender of its connectors, what goes through it, volts, amperes, watts and levels."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.api import _, marked
from afield.plugins.kit.charging import OVER_A_BATTERY, charges, over_a_battery
from afield.plugins.kit.findings import NOT_COMPARED, UNKNOWN, WRONG, Finding, Fit, fit_of
from afield.plugins.kit.fit_words import (
    IN_PLACE,
    OVERCHARGED,
    SILENT,
    UNCOMPARED,
    charge_controller,
    level_words,
    number_words,
    range_words,
)
from afield.plugins.kit.joints import Joint, Net, joined_words
from afield.plugins.kit.model import Kit, Port
from afield.plugins.kit.words import CABLES, key_of, silent_ports


def judged(joint: Joint, kit: Kit, net: Net) -> Fit:
    """Whether the joint fits, within the net that it is part of."""
    blank = joint.blank
    if blank is not None:
        return Fit(None, silent_ports(blank.name), settle=blank.supply_ports)
    one, other = joint.ports
    shape = list(_shape(one, other, kit))
    return fit_of(shape or _Flow(kit, net, one, other).findings())


def piece_between(one: Port, other: Port, kit: Kit) -> str:
    """The piece that would join two ports: a lead between devices, an adapter at a cable's end."""
    at_cable = any(kit.items[port.item].class_ in CABLES for port in (one, other))
    piece = _("an adapter from {one} to {other} ({plugs})") if at_cable else _("a lead from {one} to {other} ({plugs})")
    plugs = joined_words(kit.mates.counterpart(one), kit.mates.counterpart(other))
    return piece.format(one=kit.label(one), other=kit.label(other), plugs=plugs)


def _shape(one: Port, other: Port, kit: Kit) -> Iterator[Finding]:
    names = {"one": kit.label(one), "other": kit.label(other)}
    if one.role != other.role:
        roles = {"role": _(one.role), "other_role": _(other.role)}
        why = _("{one} is for {role}, {other} for {other_role}").format(**names, **roles)
        yield Finding(WRONG, why, _("a port for {role}").format(role=_(one.role)))
        return
    if not kit.mates.fit(one, other):
        why = _("a {one} does not fit a {other}").format(one=one.kind, other=other.kind)
        yield Finding(WRONG, why, piece_between(one, other, kit))
    if one.direction == other.direction == "sink":
        why = _("{one} and {other} both take and none gives").format(**names)
        yield Finding(WRONG, why, _("a source for {port}").format(port=names["other"]))


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
                yield self.too_much(port, source, source.watts_peak, port.watts_peak, marked("{number} W peak"))

    def average(self, port: Port) -> Iterator[Finding]:
        for source in self.sources if port.watts_average is not None else ():
            given = source.watts_average if source.watts_average is not None else source.watts_peak
            limit = port.watts_average or 0.0
            sure = source.watts_average is not None and source.averaging in (None, port.averaging)
            if given is None:
                yield self.missing(source, "watts_average")
            elif given > limit and sure:
                yield self.too_much(port, source, given, limit, marked("{number} W average"))
            elif given > limit:
                why = _("the average watts of {source} over the time of {port} are not stated")
                why = why.format(source=self.name(source), port=self.name(port))
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
            agreed = _("which voltage {source} and {port} agree on")
            return Finding(NOT_COMPARED, agreed.format(source=self.name(source), port=self.name(port)))
        bears, takes = (
            _("{source} gives {gives} V, {port} bears {volts} V"),
            _("{source} gives {gives} V, {port} takes {volts} V"),
        )
        told = {"source": self.name(source), "gives": range_words(source.volts)}
        limit = {"port": self.name(port), "volts": range_words(port.volts)}
        why = (bears if port.direction == "both" else takes).format(**told, **limit)
        return Finding(WRONG, why, _("a source of {volts} V for {port}").format(**limit))

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
                yield self.too_much_drawn(known, drawn, port)
            elif len(known) < len(self.sinks):
                silent = next(sink for sink in self.sinks if sink.amperes is None)
                yield self.missing(silent, "amperes")

    def too_much_drawn(self, sinks: list[Port], drawn: float, port: Port) -> Finding:
        figures = {"drawn": f"{number_words(drawn)} A", "limit": f"{number_words(port.amperes or 0.0)} A"}
        names = {"sinks": ", ".join(self.name(sink) for sink in sinks), "port": self.name(port)}
        why = _("{sinks} draws {drawn}, {port} bears {limit}").format(**names, **figures)
        return Finding(WRONG, why, _(IN_PLACE).format(figure=figures["drawn"], item=self.item(port)))

    def from_a_panel(self) -> Iterator[Finding]:
        """A panel gives what the sun gives, whatever is asked for; what it may give at most has to be borne."""
        for port in self.limits():
            for source in self.sources:
                if source.amperes is not None and port.amperes is not None and source.amperes > port.amperes:
                    yield self.too_much(port, source, source.amperes, port.amperes, marked("{number} A"))

    def charging(self) -> Iterator[Finding]:
        """What charges a battery, against the highest volts that the battery shows over its discharge."""
        for giver, battery in self.charged:
            if giver.volts is None or battery.volts is None:
                yield self.missing(giver if giver.volts is None else battery, "volts")
            elif over_a_battery(giver, battery):
                names = {"giver": self.name(giver), "battery": self.name(battery)}
                figures = {"most": number_words(giver.volts[1]), "volts": number_words(battery.volts[1])}
                why = _(OVERCHARGED).format(**names, **figures, percent=f"{100 * OVER_A_BATTERY:g}")
                yield Finding(WRONG, why, charge_controller(**names))

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
                yield Finding(NOT_COMPARED, _(UNCOMPARED[what]).format(source=self.name(source), sink=self.name(sink)))
            elif bears is None or meets is None:
                yield self.missing(source if bears is None else sink, what)
            elif meets > bears:
                yield self.not_switched(source, sink, f"{number_words(bears)} {unit}", f"{number_words(meets)} {unit}")

    def not_switched(self, source: Port, sink: Port, bears: str, meets: str) -> Finding:
        names = {"source": self.name(source), "sink": self.name(sink)}
        why = _("{sink} has {meets} to be switched, {source} switches {bears}")
        relay = _("a relay or buffer between {source} and {sink}").format(**names)
        return Finding(WRONG, why.format(**names, meets=meets, bears=bears), relay)

    def levels(self) -> Iterator[Finding]:
        """Logic level and polarity of the two ports, and of the devices that are joined; a cable may have none."""
        pairs = [self.ports, *((source, sink) for source in self.sources for sink in self.sinks)]
        yield from dict.fromkeys(finding for one, other in pairs for finding in self.level(one, other))

    def level(self, one: Port, other: Port) -> Iterator[Finding]:
        names = {"one": self.name(one), "other": self.name(other)}
        if one.logic_level and other.logic_level and one.logic_level != other.logic_level:
            levels = {"level": level_words(one.logic_level), "other_level": level_words(other.logic_level)}
            why = _("{one} has the level {level}, {other} {other_level}").format(**names, **levels)
            yield Finding(WRONG, why, _("a converter of levels from {level} to {other_level}").format(**levels))
        if one.polarity and other.polarity and one.polarity != other.polarity:
            ways = {"polarity": _(one.polarity), "other_polarity": _(other.polarity)}
            why = _("{one} is {polarity}, {other} {other_polarity}").format(**names, **ways)
            yield Finding(WRONG, why, _("a lead that turns {polarity} into {other_polarity}").format(**ways))

    def silent(self, port: Port, figure: str, to_compare: bool) -> Finding:
        """A limit that is not stated: a cable's goes without saying, a device's has to be known."""
        if to_compare and port.direction != "both":
            return self.missing(port, figure)
        return Finding(NOT_COMPARED, _(SILENT[figure][1]).format(port=self.name(port)))

    def missing(self, port: Port, figure: str) -> Finding:
        why = _(SILENT[figure][0]).format(port=self.name(port))
        return Finding(UNKNOWN, why, self.settle(port, figure))

    def too_much(self, port: Port, source: Port, given: float, limit: float, unit: str) -> Finding:
        gives, bears = (_(unit).format(number=number_words(number)) for number in (given, limit))
        why = _("{source} gives {gives}, {port} bears {bears}")
        why = why.format(source=self.name(source), gives=gives, port=self.name(port), bears=bears)
        return Finding(WRONG, why, _(IN_PLACE).format(figure=gives, item=self.item(port)))

    def settle(self, port: Port, figure: str) -> str:
        return key_of(figure, self.name(port), self.kit.items[port.item].origin.document.name)

    def name(self, port: Port) -> str:
        return self.kit.label(port)

    def item(self, port: Port) -> str:
        return self.kit.items[port.item].name


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] <= other[1] and other[0] <= one[1]
