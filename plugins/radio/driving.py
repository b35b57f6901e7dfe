"""What drives an amplifier, against what it is made for; and whether it has changed over when the RF comes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from afield.core.api import CannotTell, Estimate, _, amount_in, local_digits, marked, trimmed
from afield.plugins.radio.figures import Draw, Figure, spread
from afield.plugins.radio.outputs import output_note, radio_output
from afield.plugins.radio.planned import Planned
from afield.plugins.radio.powers import arriving_w, line_and_fittings_db
from afield.plugins.radio.things import Thing
from afield.plugins.radio.walks import Walk

NO_DRIVE = marked("the drive of {name} is not stated (the least and the greatest at its input)")
NO_PEAK = marked(
    "the peak at keying of {name} is not stated (read it on a peak-reading meter or an oscilloscope into a dummy load, "
    "or ask its maker)"
)
BETWEEN = marked("{between} stands between {radio} and {amplifier}: its peak at keying is not known")
NO_LEAD = marked(
    "the keying lead of {name} is not stated (how long its keying output closes before the RF comes; its manual or an "
    "oscilloscope tells)"
)


def stated_limit(thing: Thing, group: str, written: str, unit: str, title: str) -> Figure:
    """A limit: exact where somebody wrote it of this thing, good to ± 20 % where the catalogue has it."""
    value = amount_in(written, unit)
    typical = thing.typical(group)
    return Figure(value, 0.2 * value if typical else 0.0, f"{title} of {thing.name}")


def drive_range(amplifier: Thing) -> tuple[Figure, Figure]:
    """The least and the greatest drive.

    Raises:
        CannotTell: not stated.

    """
    written = amplifier.of("amplifier").get("drive")
    if written is None:
        raise amplifier.lacking(NO_DRIVE, "amplifier.drive")
    least, greatest = (stated_limit(amplifier, "amplifier.drive", text, "W", "drive range") for text in written)
    if greatest.value <= 0:
        text = _("the greatest drive of {name} is stated as 0 W").format(name=amplifier.name)
        raise CannotTell(text, subject=f"item:{amplifier.key}")
    return least, greatest


def drive(walk: Walk, uses: Iterable[Planned]) -> Estimate:
    """The greatest planned drive, W."""
    return max((_estimate(walk, use, lambda watts, draw: watts) for use in uses), key=_value)


def drive_share(walk: Walk, uses: Iterable[Planned]) -> Estimate:
    """The greatest planned drive as percent of the greatest that the amplifier is made for."""
    greatest = drive_range(walk[-1].target)[1]
    return max((_estimate(walk, use, lambda watts, draw: 100 * watts / draw(greatest)) for use in uses), key=_value)


def drive_above_least(walk: Walk, uses: Iterable[Planned]) -> Estimate:
    """The least planned drive less the least that the amplifier is made for, W."""
    least = drive_range(walk[-1].target)[0]
    return min((_estimate(walk, use, lambda watts, draw: watts - draw(least)) for use in uses), key=_value)


def _value(estimate: Estimate) -> float:
    return float(estimate.value)


def _estimate(walk: Walk, planned: Planned, measure: Any) -> Estimate:
    found = spread(lambda draw: measure(arriving_w(walk, planned, draw), draw))
    watts = arriving_w(walk, planned, Draw())
    radio, amplifier = walk[0].source, walk[-1].target
    note = output_note(walk[0], planned, radio_output(walk[0], planned, Draw()), amplified=True)
    printed_w = local_digits(f"{watts:.2g} W")
    detail = {"radio": radio.name, "drive": printed_w, **_range_words(amplifier), "at": planned.label}
    parts = found.parts(lambda one: float(one))
    return Estimate(found.result, parts=parts, detail=detail, method=_method(walk), notes=(note,) if note else ())


def _range_words(amplifier: Thing) -> dict[str, str]:
    written = amplifier.of("amplifier").get("drive", ("", ""))
    return {"least": str(written[0]), "greatest": str(written[1])}


def _method(walk: Walk) -> str:
    name, pieces = walk[-1].source.name, ", ".join(piece.name for leg in walk for piece in leg.pieces)
    if not pieces:
        return _("output of {name}").format(name=name)
    return _("output of {name} less the loss of {pieces}").format(name=name, pieces=pieces)


def overshoot_share(walk: Walk, uses: Iterable[Planned]) -> Estimate:
    """The radio's peak at keying as percent of the most that the amplifier's input bears.

    Raises:
        CannotTell: the peak or the limit is not stated, or another amplifier stands between.

    """
    radio, amplifier = walk[0].source, walk[-1].target
    if len(walk) > 1:
        text = _(BETWEEN).format(between=walk[-1].source.name, radio=radio.name, amplifier=amplifier.name)
        raise CannotTell(text, subject=f"item:{amplifier.key}")
    written = radio.of("transmitter").get("overshoot")
    if written is None:
        raise radio.lacking(NO_PEAK, "transmitter.overshoot")
    peak = radio.figure("transmitter.overshoot", written, "W", f"peak at keying of {radio.name}")
    most = _most(amplifier)
    use = next(iter(uses))

    def share(draw: Draw) -> float:
        arriving = draw(peak) * 10 ** (-line_and_fittings_db(walk[-1].pieces, use, draw) / 10)
        return float(100 * arriving / draw(most))

    found = spread(share)
    detail = {"radio": radio.name, "peak": written, "most": local_digits(f"{trimmed(most.value)} W")}
    return Estimate(found.result, parts=found.parts(lambda one: one), detail=detail, method=_method(walk))


def _most(amplifier: Thing) -> Figure:
    """The most that the input bears; what its port bears where that is not stated apart."""
    told = amplifier.of("amplifier").get("most")
    if told is not None:
        return stated_limit(amplifier, "amplifier.most", told, "W", "input limit")
    peaks = [port["watts_peak"] for port in amplifier.ports("RF", "sink") if "watts_peak" in port]
    if not peaks:
        raise amplifier.lacking(marked("the input limit of {name} is not stated"), "amplifier.most")
    return stated_limit(amplifier, "ports", str(peaks[0]), "W", "input limit")


def keying(
    amplifier: Thing, ways: Iterable[Mapping[str, Any]], things: Mapping[str, Thing]
) -> tuple[bool, str, Thing | None]:
    """Whether something tells the amplifier to transmit, in words, and the item that does.

    One without a keying port hears for itself.
    """
    if not amplifier.ports("keying", "sink"):
        return True, _("by the RF that it senses"), None
    for way in ways:
        if way["role"] == "keying" and way["to"]["item"] == amplifier.key and way["fits"] is not False:
            keyer = things[way["from"]["item"]]
            return True, _("by {name}").format(name=keyer.name), keyer
    text = _("nothing that fits is joined to the keying port of {name}")
    return False, text.format(name=amplifier.name), None


def keying_time_room(amplifier: Thing, ways: Iterable[Mapping[str, Any]], things: Mapping[str, Thing]) -> Estimate:
    """How long before the RF comes the amplifier has changed over, ms; below 0, RF comes first.

    Raises:
        CannotTell: a time is not stated, or nothing keys it.

    """
    keyed, how, keyer = keying(amplifier, ways, things)
    if not keyed:
        raise CannotTell(how, "connections", "not stated", "trip")
    written = amplifier.of("amplifier").get("change_over")
    if written is None:
        raise amplifier.lacking(marked("the change-over time of {name} is not stated"), "amplifier.change_over")
    change = amplifier.figure("amplifier.change_over", written, "ms", f"change-over time of {amplifier.name}")
    before, lead = _lead(keyer)
    found = spread(lambda draw: draw(before) - draw(change))
    detail = {"keyed": how, "lead": lead, "change_over": written}
    method = _("keyed {how}").format(how=how)
    return Estimate(found.result, parts=found.parts(lambda one: one), detail=detail, method=method)


def _lead(keyer: Thing | None) -> tuple[Figure, str]:
    if keyer is None:
        return Figure(0.0, 0.0, ""), _("none")
    written = keyer.of("transmitter").get("keys_before")
    if written is None:
        raise keyer.lacking(NO_LEAD, "transmitter.keys_before")
    return keyer.figure("transmitter.keys_before", written, "ms", f"keying lead of {keyer.name}"), str(written)
