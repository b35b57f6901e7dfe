"""A lead: the resistance of its wires and contacts, and the greatest fuse that protects it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import CannotTell, _, amount_in, frozen, marked
from afield.plugins.power.computations.conductors import IEC_CLASS_5, copper_resistance
from afield.plugins.power.computations.fuses import copper_ampacity_60c, small_conductor_max_fuse
from afield.plugins.power.computations.wire_sizes import awg_area, gauge_name
from afield.plugins.power.stated import Figure, Thing, number

STRANDED = 1.05
"""Resistance of a stranded conductor over that of solid copper of its area: 2 to 8 % more."""
OF_A_WIRE = 0.10
WIRES = marked("wires of {name}")
WIRES_NOTE = marked(
    "Wires are copper, stranded, taken as good to ± 10 % (95 %; common practice, no source): marine and automotive "
    "wire is about a tenth thinner than AWG of its number."
)
PLUG_PAIRS, PLUG_PAIR_OHM, PLUG_PAIR_AROUND = marked("contacts that are not stated"), 0.005, 0.004
FUSES, FUSE_V, FUSE_V_AROUND = marked("fuses whose resistance is not stated"), 0.1, 0.05
PLUG_NOTE = marked(
    "Where contacts are not stated, each pair of plugs is taken as 5 mΩ ± 4 mΩ, out and back, and a fuse as losing "
    "0.1 V ± 0.05 V at its rating (95 %; common practice, no source)."
)
ONLY_CONTACTS = ("adapter", "fuse", "switch", "meter", "filter")
"""Classes of items that are contacts without wire worth counting where no conductor is stated."""
TRADE_GAUGES = (18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3)
THINNEST = 18


@frozen
class Piece:
    """A resistance, out and back, on a way.

    Attributes:
        key: unique in the net.
        item: key of the item that it belongs to; None for a pair of plugs.
        origin: of its figure.
        factor: resistance in ohm for one of the figure's unit.
        is_wire: whether it warms with the air.

    """

    key: str
    item: str | None
    origin: str
    factor: float
    is_wire: bool = False


def defaults() -> dict[str, Figure]:
    """The figures of what is not stated, by origin."""
    return {
        PLUG_PAIRS: Figure(PLUG_PAIR_OHM, PLUG_PAIR_AROUND, PLUG_PAIRS, (_(PLUG_NOTE),)),
        FUSES: Figure(FUSE_V, FUSE_V_AROUND, FUSES, (_(PLUG_NOTE),)),
    }


def has_wire(thing: Thing) -> bool:
    """Whether it is a lead, or another piece with a conductor worth counting."""
    return "conductor" in thing.data or thing.class_ not in ONLY_CONTACTS


def lacking_conductor(thing: Thing) -> CannotTell:
    """That its wires are not described."""
    return thing.silent(marked("the conductor of {name} is not stated"), "conductor")


def area_of(thing: Thing) -> float:
    """Area of one of its conductors in mm2.

    Raises:
        CannotTell: its conductor is not described.

    """
    conductor = thing.part("conductor")
    if not conductor:
        raise lacking_conductor(thing)
    return awg_area(conductor["awg"]) if "awg" in conductor else amount_in(conductor["area"], "mm2")


def length_of(thing: Thing) -> float:
    """Its length one way in m."""
    return amount_in(thing.part("conductor")["length"], "m")


def ohm_per_km(conductor: Mapping[str, Any]) -> float:
    """Resistance of one conductor at 20 °C in ohm per km.

    Source: IEC 60228:2004, table 3, for the nominal areas of class 5 (its maximum); else solid copper of 100 % IACS
    (IEC 60028) and 5 % for the stranding.
    """
    if "awg" in conductor:
        return STRANDED * copper_resistance(awg_area(conductor["awg"]))
    area = amount_in(conductor["area"], "mm2")
    return IEC_CLASS_5[area] if area in IEC_CLASS_5 else STRANDED * copper_resistance(area)


def figures_of(thing: Thing) -> Iterator[tuple[Figure, Piece]]:
    """The figures and pieces of an item that current goes through, its pairs of plugs left out.

    A lead whose conductor is not described gives none.
    """
    conductor = thing.part("conductor")
    if conductor:
        yield _wire(thing, conductor)
    if "contacts" in conductor:
        ohm = amount_in(conductor["contacts"], "ohm")
        figure = thing.figure("contacts", ohm, "conductor", own=0.2, typical=0.5)
        yield figure, Piece(f"contacts:{thing.key}", thing.key, figure.origin, 1.0)
    elif "fuse" in thing.data:
        fuse = defaults()[FUSES]
        yield fuse, Piece(f"fuse:{thing.key}", thing.key, FUSES, 1 / amount_in(thing.data["fuse"], "A"))


def _wire(thing: Thing, conductor: Mapping[str, Any]) -> tuple[Figure, Piece]:
    ohm = 2 * length_of(thing) / 1000 * ohm_per_km(conductor)
    origin = WIRES.format(name=thing.name)
    figure = Figure(ohm, OF_A_WIRE * ohm, origin, (_(WIRES_NOTE),))
    return figure, Piece(f"wire:{thing.key}", thing.key, origin, 1.0, is_wire=True)


def gauge_of(thing: Thing) -> tuple[int, str]:
    """The gauge of the fuse tables that its conductor is not thinner than, and what that gauge stands for.

    Raises:
        CannotTell: its conductor is not described, or is thinner than any that the tables have.

    """
    area = area_of(thing)
    conductor = thing.part("conductor")
    written = gauge_name(conductor["awg"]) if "awg" in conductor else conductor["area"]
    for gauge in reversed(TRADE_GAUGES):
        if awg_area(gauge) <= area * (1 + 1e-9):
            taken = _("{written} is taken as {gauge}, the next thinner")
            taken = taken.format(written=written, gauge=gauge_name(gauge))
            return gauge, "" if gauge_name(gauge) == written else taken
    raise _too_thin(thing, written)


def _too_thin(thing: Thing, written: str) -> CannotTell:
    what = _("no table has a fuse for the {written} of {name}: the thinnest is {thinnest}")
    settle = _("a conductor of {name} of at least {thinnest}")
    places = {"name": thing.name, "thinnest": gauge_name(THINNEST)}
    return CannotTell(what.format(written=written, **places), settle.format(**places), "outside validity")


THIN_TABLE = marked("NFPA 70 (NEC), 240.4(D)")
THICK_TABLE = marked("NFPA 70 (NEC), table 310.16, copper, insulation for 60 °C")
TABLE_C, INSULATION_C = 30.0, 60.0
"""Warmest air for which the tables hold, and the insulation that they are for."""


def share_in_warm_air(air_c: float) -> float:
    """Share of a table's current that a wire may carry in warmer air; 1 in air for which the table holds.

    Formula: sqrt((60 - air) / (60 - 30)), insulation for 60 °C.
    Source: NFPA 70 (NEC), 310.15(B), the equation for other temperatures of the air (from memory, no copy was read).

    Raises:
        ValueError: air as warm as the insulation may be.

    """
    if air_c >= INSULATION_C:
        what = _("air of {air} °C is as warm as insulation for {insulation} °C may be")
        raise ValueError(what.format(air=number(air_c), insulation=number(INSULATION_C)))
    return float(min(1.0, ((INSULATION_C - air_c) / (INSULATION_C - TABLE_C)) ** 0.5))


def greatest_fuse(gauge: int) -> tuple[float, str]:
    """The greatest fuse in A of a copper wire of a trade gauge in air up to 30 °C, and the source."""
    if gauge >= 10:
        return small_conductor_max_fuse(gauge), THIN_TABLE
    return copper_ampacity_60c(gauge), THICK_TABLE
