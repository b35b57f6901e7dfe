"""What the pieces between a transmitter and an antenna lose."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from math import sqrt
from typing import Any

from afield.core.api import CannotTell, _, all_of, amount_in, frozen, local_digits, marked, trimmed
from afield.plugins.radio.computations.lines import PUBLISHED, SPREAD, coax_matched_loss
from afield.plugins.radio.figures import Draw, Figure
from afield.plugins.radio.planned import Planned
from afield.plugins.radio.things import Thing
from afield.plugins.radio.words import refused

USUAL = {
    "adapter": (0.05, 0.05), "lead": (0.1, 0.1), "switch": (0.2, 0.2), "meter": (0.2, 0.2), "filter": (0.5, 0.4),
    "tuner": (0.5, 0.5), "radio": (0.5, 0.5),
}  # fmt: skip
"""Class -> loss in dB where none is stated, and what it may be off (95 %). Common practice, no source. Of a radio: its
built-in tuner."""
USUALLY = {
    "adapter": marked("An adapter without a stated loss"), "lead": marked("A lead without a stated loss"),
    "switch": marked("A switch without a stated loss"), "meter": marked("A meter without a stated loss"),
    "filter": marked("A filter without a stated loss"), "tuner": marked("A tuner without a stated loss"),
    "radio": marked("A built-in tuner"),
}  # fmt: skip
"""The same in words."""
TAKEN = marked("{what} is taken to lose {loss} dB ± {around} dB (95 %; common practice, no source).")
PUBLISHED_LOSS = marked("Loss of {cable} by published tables, which differ by up to {percent} % (95 %).")
STATED_LOSS = marked(
    "Loss of {name} by its stated figures, by the square root of the frequency beyond them (± 15 % there)."
)
UNKNOWN_LOSS = marked("the losses of {type} are not known; known are those of {known}")
NO_LINE = marked("the line of {name} is not stated (its type or losses, and its length)")

FAR, TOO_FAR = 0.15, 10.0
"""How well a loss is known that is carried beyond the stated frequencies, and how many times they may lie apart."""


@frozen
class Points:
    """Losses of a line from its data sheet: (MHz, dB of 100 m), by frequency."""

    points: tuple[tuple[float, float], ...]

    def at(self, mhz: float) -> float:
        """Loss of 100 m in dB: loss / sqrt f is taken straight over sqrt f between two points, and level beyond."""
        roots = [(sqrt(at), loss / sqrt(at)) for at, loss in self.points]
        root = sqrt(mhz)
        if root <= roots[0][0] or root >= roots[-1][0]:
            return root * (roots[0] if root <= roots[0][0] else roots[-1])[1]
        (low, one), (high, two) = next(pair for pair in pairwise(roots) if pair[1][0] >= root)
        return root * (one + (two - one) * (root - low) / (high - low))

    def apart(self, mhz: float) -> float:
        """How many times a frequency lies beyond the stated ones; 1 between them."""
        return max(self.points[0][0] / mhz, mhz / self.points[-1][0], 1.0)


def line_db(thing: Thing, planned: Planned, draw: Draw) -> float:
    """Matched loss of the item's line at the planned frequency, in dB; 0 where it has none.

    Raises:
        CannotTell: its losses are not known there.

    """
    line = thing.of("line")
    if not line:
        return 0.0
    mhz = round(draw(planned.frequency()), 9)
    length_m = amount_in(line["length"], "m")
    if "losses" in line:
        return _own_db(thing, line["losses"], mhz, draw) * length_m / 100
    return _published_db(thing, str(line["type"]), mhz, length_m, draw)


def _published_db(thing: Thing, written: str, mhz: float, length_m: float, draw: Draw) -> float:
    cable = _cable(written)
    if cable is None:
        what = _(UNKNOWN_LOSS).format(type=written, known=all_of(PUBLISHED))
        raise CannotTell(what, thing.written_at("line.losses"), "not stated", f"item:{thing.key}")
    spread = draw(Figure(1.0, SPREAD, f"line loss of {cable}"))
    try:
        return spread * coax_matched_loss(cable, mhz, length_m).loss_db
    except ValueError as error:
        what, settle = f"{cable}: {refused(error)}", thing.written_at("line.losses")
        raise CannotTell(what, settle, "outside validity", f"item:{thing.key}") from error


def _cable(written: str) -> str | None:
    """The published type that a designation means: "RG58C/U" is RG-58."""
    number = re.match(r"RG[-\s]?(\d+)(?![\dX])", written.strip().upper())
    name = f"RG-{number[1]}" if number else ""
    return name if name in PUBLISHED else None


def _own_db(thing: Thing, losses: Sequence[Any], mhz: float, draw: Draw) -> float:
    stated = sorted((amount_in(one["at"], "MHz"), amount_in(one["per_100_m"], "dB")) for one in losses)
    points = Points(tuple(dict(stated).items()))
    apart = points.apart(mhz)
    if apart > TOO_FAR:
        what = _("the losses of {name} are stated too far from {mhz} MHz").format(name=thing.name, mhz=trimmed(mhz))
        raise CannotTell(what, thing.written_at("line.losses"), "outside validity", f"item:{thing.key}")
    share = max(thing.share("line"), FAR if apart > 1 else 0.0)
    return draw(Figure(1.0, share, f"line loss of {thing.name}")) * points.at(mhz)


def fitting_db(thing: Thing, draw: Draw) -> float:
    """Loss of what is no line, in dB: stated, or usual for its class.

    Raises:
        CannotTell: it is not stated, and no usual figure is known.

    """
    written = thing.data.get("insertion_loss")
    if written is not None:
        return draw(thing.figure("insertion_loss", str(written), "dB", f"insertion loss of {thing.name}"))
    if thing.of("line"):
        return 0.0
    if thing.class_ not in USUAL:
        raise _not_described(thing)
    value, around = USUAL[thing.class_]
    return draw(Figure(value, around, f"usual loss of {_a(thing.class_)}"))


def _not_described(thing: Thing) -> CannotTell:
    if thing.class_ == "feed line":
        return thing.lacking(NO_LINE, "line")
    return thing.lacking(marked("the insertion loss of {name} is not stated"), "insertion_loss")


def notes_on(thing: Thing) -> list[str]:
    """What is taken for granted of the item's losses."""
    line, name = thing.of("line"), thing.name
    if "type" in line and (cable := _cable(str(line["type"]))):
        return [_(PUBLISHED_LOSS).format(cable=cable, percent=f"{100 * SPREAD:g}")]
    if "losses" in line:
        return [_(STATED_LOSS).format(name=name)]
    if "insertion_loss" in thing.data or thing.class_ not in USUAL:
        return []
    loss, around = (local_digits(f"{size:g}") for size in USUAL[thing.class_])
    return [_(TAKEN).format(what=_(USUALLY[thing.class_]), loss=loss, around=around)]


def _a(class_: str) -> str:
    return f"{'an' if class_[0] in 'aeiou' else 'a'} {class_}"
