"""Facts of the leads between battery and load, of their fuses, and of what a battery gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, amount_in, fact, marked
from afield.plugins.power.dc.facts import told, ways_from
from afield.plugins.power.stated import Thing, Undecided, decided, number, thing_of

if TYPE_CHECKING:
    from afield.plugins.power.dc.flows import Way
    from afield.plugins.power.dc.net import Net

AT_ITS_END = marked("A fuse of a lead is taken to sit at the end towards the battery.")
NOT_YOURS = marked("Gauge or fuse of {name} is the catalogue's: read what stands on yours.")
WARM = marked(
    "In air of {air} °C a wire is taken to carry {share} % of the table's current, which is for 30 °C (NFPA 70, "
    "310.15(B), from memory)."
)
NO_FUSE = marked("A lead whose conductor is described without a fuse is taken to have none.")


@fact("lead.carries", kind="item", type="bool", title="whether direct current of a supply flows through it", exact=True)
def lead_carries(dc_net: Net, kit_undecided: Undecided, subject: Subject) -> bool:
    """Whether it is a lead, or another piece with wires, on a way from a battery or supply to a load."""
    from afield.plugins.power.dc.leads import has_wire

    wired = has_wire(thing_of(subject))
    return wired and decided(bool(_through(dc_net, subject)), kit_undecided, subject, "DC", "through")


@fact("lead.fused", kind="item", type="bool", title="whether a fuse stands in it or before it", exact=True)
def lead_fused(dc_net: Net, kit_undecided: Undecided, subject: Subject) -> bool:
    """Whether it, the battery, or a piece between them states a fuse.

    Raises:
        CannotTell: none does, and one of them may have one, as nobody describes its wires; or what it is joined to is
            not decided.

    """
    if "fuse" in subject.data:
        return True
    key, ways = subject.key.partition(":")[2], _through(dc_net, subject)
    decided(bool(ways), kit_undecided, subject, "DC", "through")
    bare = [way for way in ways if not _fuses_before(dc_net, way, key)]
    if len(bare) < len(ways):
        return True
    for way in bare:
        _refuse_undescribed(dc_net, way.items[: way.items.index(key) + 1])
    return False


@fact(
    "lead.current", kind="item", unit="A", title="most current through it", least=0.0,
    optional=["conditions_temperature"],
)  # fmt: skip
def lead_current(dc_net: Net, conditions_temperature: float | None, subject: Subject) -> Estimate:
    """The sum of what all that hangs behind it draws at most."""
    from afield.plugins.power.dc.answers import greatest_current

    net = replace(dc_net, air_c=conditions_temperature)
    return told(greatest_current(net, _on(dc_net, subject)), {}, _("sum of loads"))


@fact(
    "lead.fuse", kind="item", unit="A", title="fuse that protects it", exact=True,
    detail={"of": "the item in which the fuse is"},
)  # fmt: skip
def lead_fuse(dc_net: Net, subject: Subject) -> Estimate:
    """The smallest fuse in it or between it and the battery; of several ways, the one that is protected least."""
    key = subject.key.partition(":")[2]
    found = [min(fuses) for way in _on(dc_net, subject) if (fuses := _fuses_before(dc_net, way, key))]
    if not found:
        what = _("no fuse is stated in {name} or before it").format(name=subject.label)
        raise CannotTell(what, _("{key} of {name}").format(key="fuse", name=subject.label), "not stated")
    amperes, holder = max(found)
    thing = dc_net.things[holder]
    not_yours = (_(NOT_YOURS).format(name=thing.name),) if thing.typical("fuse") else ()
    return Estimate(amperes, detail={"of": thing.name}, method=_("as stated"), notes=(_(AT_ITS_END), *not_yours))


@fact(
    "lead.greatest_fuse", kind="item", unit="A", title="greatest fuse for its conductor", exact=True,
    optional=["conditions_temperature"], detail={"gauge": "of the table", "source": "the table"},
)  # fmt: skip
def lead_greatest_fuse(conditions_temperature: float | None, subject: Subject) -> Estimate:
    """By the gauge of its conductor, or the next thinner one that the tables have; less in air above 30 °C.

    Source: NFPA 70 (NEC), 240.4(D), for 18 to 10 AWG; table 310.16, copper, 60 °C, for thicker wires; 310.15(B) for
    warmer air (from memory, no copy was read).

    Raises:
        CannotTell: the conductor is not described or too thin for the tables, or the air is too warm for them.

    """
    from afield.plugins.power.computations.wire_sizes import gauge_name
    from afield.plugins.power.dc.leads import gauge_of, greatest_fuse, share_in_warm_air

    thing = thing_of(subject)
    gauge, taken = gauge_of(thing)
    amperes, source = greatest_fuse(gauge)
    notes = [f"{taken}."] if taken else []
    try:
        share = 1.0 if conditions_temperature is None else share_in_warm_air(conditions_temperature)
    except ValueError as warm:
        raise CannotTell(str(warm), "conditions.temperature", "outside validity", "trip") from warm
    if share < 1:
        amperes = round(amperes * share, 1)
        notes.append(_(WARM).format(air=number(conditions_temperature or 0.0), share=number(100 * share, ".0f")))
    notes += [_(NOT_YOURS).format(name=thing.name)] if thing.typical("conductor") else []
    detail = {"gauge": gauge_name(gauge), "source": _(source)}
    return Estimate(amperes, detail=detail, method=_(source), notes=tuple(notes))


@fact(
    "lead.fuse_share_of_conductor", kind="item", unit="%", title="fuse in per cent of the greatest for the conductor",
    exact=True,
    detail={"fuse": "A", "of": "the item in which the fuse is", "greatest": "A", "gauge": "of the conductor"},
)  # fmt: skip
def lead_fuse_share_of_conductor(
    dc_net: Net, lead_fuse: float, lead_greatest_fuse: float, subject: Subject
) -> Estimate:
    """The fuse that protects the lead over the greatest that its conductor may have."""
    from afield.plugins.power.computations.wire_sizes import gauge_name
    from afield.plugins.power.dc.leads import gauge_of

    key = subject.key.partition(":")[2]
    holders = [fuse for way in _on(dc_net, subject) for fuse in _fuses_before(dc_net, way, key) if fuse[0] == lead_fuse]
    detail = {
        "fuse": f"{number(lead_fuse)} A", "of": dc_net.things[holders[0][1]].name if holders else "",
        "greatest": f"{number(lead_greatest_fuse)} A", "gauge": gauge_name(gauge_of(thing_of(subject))[0]),
    }  # fmt: skip
    # Both are whole figures of trade sizes; more places than one would only look exact.
    share = round(100 * lead_fuse / lead_greatest_fuse, 1)
    return Estimate(share, detail=detail, method=_("fuse over greatest fuse"))


@fact(
    "lead.load_share_of_fuse", kind="item", unit="%", title="most current in per cent of the fuse", least=0.0,
    detail={"current": "A", "fuse": "A", "wanted": "a fuse of 125 % of the current, A"},
)  # fmt: skip
def lead_load_share_of_fuse(lead_current: float, lead_fuse: float) -> Estimate:
    """What all that hangs behind a lead draws at most, over the fuse that protects it.

    Source: NFPA 70 (NEC), 210.20(A): a fuse of at least 125 % of a load that lasts three hours or more.
    """
    from afield.plugins.power.computations.fuses import fuse_for_continuous_load

    wanted = fuse_for_continuous_load(lead_current)
    detail = {
        "current": f"{number(lead_current, '.2g')} A", "fuse": f"{number(lead_fuse)} A",
        "wanted": f"{number(wanted, '.2g')} A",
    }  # fmt: skip
    return Estimate(100 * lead_current / lead_fuse, detail=detail, method=_("current over fuse"))


@fact(
    "dc.unfused", kind="item", unit="", title="loads that it feeds without a fuse", exact=True,
    detail={"ways": "the ways without a fuse"},
)  # fmt: skip
def dc_unfused(dc_net: Net, subject: Subject) -> Estimate:
    """How many ways of direct current from a battery go through no fuse; its own counts."""
    bare = [way for way in ways_from(dc_net, subject) if not _fuses_on(dc_net, way)]
    for way in bare:
        _refuse_undescribed(dc_net, way.items)
    ways = "; ".join(way.words(dc_net.things) for way in bare)
    notes = (_(NO_FUSE),) if bare else ()
    return Estimate(len(bare), detail={"ways": ways}, method=_("fuses on each way"), notes=notes)


def _refuse_undescribed(net: Net, keys: Sequence[str]) -> None:
    """A lead that only its name or its ports describe may have a fuse."""
    from afield.plugins.power.dc.leads import has_wire

    for key in keys:
        thing = net.things[key]
        if has_wire(thing) and "conductor" not in thing.data:
            raise thing.silent(marked("the fuse of {name} is not stated"), "fuse")


@fact(
    "battery.current_share", kind="item", unit="%", title="most current in per cent of what it may give", least=0.0,
    optional=["conditions_temperature"], detail={"current": "A", "most": "that it may give, A"},
)  # fmt: skip
def battery_current_share(dc_net: Net, conditions_temperature: float | None, subject: Subject) -> Estimate:
    """What all that it feeds draws at most, over what it may give continuously: as stated of it, else of its ports."""
    from afield.plugins.power.dc.answers import current

    net = replace(dc_net, air_c=conditions_temperature)
    ways = ways_from(net, subject)
    if not ways:
        raise CannotTell(_("{name} feeds nothing").format(name=subject.label), "connections", "not stated")
    most = _most_current(thing_of(subject), ways)
    found = current(net, ways)
    parts = {origin: 100 * part / most for origin, part in found.parts.items()}
    detail = {"current": f"{number(found.value, '.2g')} A", "most": f"{number(most)} A"}
    method = _("sum of the loads over its limit")
    return Estimate(100 * found.value / most, parts=parts, detail=detail, method=method, notes=found.notes)


def _most_current(thing: Thing, ways: list[Way]) -> float:
    stated = thing.part("battery").get("amperes")
    if stated is not None:
        return amount_in(stated, "A")
    limits = [thing.port(way.source_port).get("amperes") for way in ways]
    if None in limits or not limits:
        raise thing.silent(marked("the greatest current of {name} is not stated"), "battery.amperes")
    return min(amount_in(str(limit), "A") for limit in limits)


def _through(net: Net, subject: Subject) -> list[Way]:
    return [way for way in net.ways if subject.key.partition(":")[2] in way.items]


def _on(net: Net, subject: Subject) -> list[Way]:
    """The ways through an item; raises CannotTell where there are none."""
    ways = _through(net, subject)
    if not ways:
        what = _("no direct current of a supply flows through {name}").format(name=subject.label)
        raise CannotTell(what, "connections", "not stated")
    return ways


def _fuses_before(net: Net, way: Way, key: str) -> list[tuple[float, str]]:
    """Rating in A and holder of each fuse in an item or between it and the source."""
    before = way.items[: way.items.index(key) + 1]
    return _fuses(net, (way.source, *before))


def _fuses_on(net: Net, way: Way) -> list[tuple[float, str]]:
    return _fuses(net, (way.source, *way.items))


def _fuses(net: Net, keys: tuple[str, ...]) -> list[tuple[float, str]]:
    things = [net.things[key] for key in keys]
    return [(amount_in(thing.data["fuse"], "A"), thing.key) for thing in things if "fuse" in thing.data]


FACTS: list[Fact] = [
    lead_carries, lead_fused, lead_current, lead_fuse, lead_greatest_fuse, lead_fuse_share_of_conductor,
    lead_load_share_of_fuse, dc_unfused, battery_current_share,
]  # fmt: skip
