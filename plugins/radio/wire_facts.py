"""Facts of an antenna that the plan places: how long its wire is, and whether that suits the planned bands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, Subject, _, fact, local_digits, marked

if TYPE_CHECKING:
    from afield.plugins.radio.planned import Planned
    from afield.plugins.radio.wires import Fit

LEVEL = marked("Of the level distance between its ends: a wire that slopes or sags is longer.")
RULE = marked(
    "By rule of thumb, 468 / f feet for the half wave and 234 / f for the quarter: 0.95 of the wave in free space, the "
    "end effect of bare wire. Insulation and the ground shorten a wire further: cut it long, then trim."
)
NO_CHANGE, SHORTEN, LENGTHEN = marked("no change"), marked("shorten"), marked("lengthen")
ROLES = (
    marked("operating position"), marked("feed line"), marked("counterpoise"), marked("mast"), marked("guy"),
    marked("supply"), marked("vehicle"),
)  # fmt: skip
"""What a part may be that is no antenna, as it is said."""
Uses = Sequence[Mapping[str, Any]]


def _refuse_others(role: str, subject: Subject) -> None:
    if role != "antenna":
        raise CannotTell(_("{part} is no antenna but {role}").format(part=subject.label, role=_(role)))


@fact(
    "part.wire_length", kind="part", type="number", unit="m", title="length of the antenna's wire", least=0.0,
    optional=["part_length", "part_from", "part_to"],
)  # fmt: skip
def part_wire_length(
    subject: Subject, part_role: str, part_length: float | None, part_from: Piece | None, part_to: Piece | None
) -> Estimate:
    """As stated, else the level distance between its two ends."""
    from afield.plugins.radio.wires import span_of

    _refuse_others(part_role, subject)
    if part_length is not None:
        return Estimate(part_length, method=_("as stated"))
    if part_from is None or part_to is None:
        text = _("the length of {part} is not stated").format(part=subject.label)
        raise CannotTell(text, "station.parts[].length", "not stated")
    length, around = span_of(part_from.data, part_to.data)
    parts, method = {f"ends of {subject.label}": around}, _("between its ends")
    return Estimate(length, parts=parts, method=method, notes=(_(LEVEL),))


@fact(
    "part.wave_fits", kind="part", type="opaque", title="antenna on each planned band", owns_uncertainty=True,
    encode=lambda fits: fits,
)  # fmt: skip
def part_wave_fits(part_wire_length: float, radio_uses: Uses) -> Estimate:
    """For each planned band: half and quarter wave in m, the multiple that the wire is nearest to, and how far off.

    Of a band for which that cannot be told, why.
    """
    from afield.plugins.radio.planned import planned_uses
    from afield.plugins.radio.wires import distinct

    uses = distinct(planned_uses(radio_uses))
    if not any(use.label for use in uses):
        uses[0].frequency()
    return Estimate([_row(part_wire_length, use) for use in uses], notes=(_(RULE),))


def _row(length_m: float, use: Planned) -> dict[str, Any]:
    from afield.plugins.radio.wires import fit_of

    label = use.label or _("a slot without a band")
    try:
        one = fit_of(length_m, use)
    except CannotTell as silent:
        return {"band": label, "why": silent.reason.text}
    return {
        "band": label, "why": None, "half_m": one.half_m, "quarter_m": one.quarter_m, "quarters": one.quarters,
        "words": one.words(), "due_m": one.due_m, "off_percent": 100 * one.off, "change_m": one.change_m,
        "middle_mhz": one.middle_mhz, "shared_mhz": list(one.shared), "right_mhz": one.right_mhz,
    }  # fmt: skip


def _fits(length_m: float, uses: Uses) -> list[Fit]:
    from afield.plugins.radio.planned import planned_uses
    from afield.plugins.radio.wires import fits

    return fits(length_m, planned_uses(uses))


@fact(
    "part.length_off", kind="part", type="number", unit="%", title="how far the antenna is off a length that resonates",
    least=0.0, detail={
        "band": "planned band on which it is farthest off", "multiple": "what it is nearest to there",
        "due": "length of that, m", "change": "shorten or lengthen",
    },
)  # fmt: skip
def part_length_off(part_wire_length: float, radio_uses: Uses) -> Estimate:
    """The most that the wire is off the nearest multiple of a wave that resonates, on any planned band.

    A quarter wave and whole half waves count: which of them the feed point suits, the plan does not say. 0 where the
    wire is right for some frequency of each band, of the part that all regions share.
    """
    from afield.plugins.radio.wires import multiple_words

    worst = max(_fits(part_wire_length, radio_uses), key=lambda one: abs(one.off))
    change = _(NO_CHANGE if not worst.off else SHORTEN if worst.off > 0 else LENGTHEN)
    due_m, multiple = local_digits(f"{worst.due_m:.2f}"), multiple_words(worst.quarters)
    detail = {"band": worst.label, "multiple": multiple, "due": due_m, "change": change}
    return Estimate(100 * abs(worst.off), detail=detail, method=_("468 / f ft and 234 / f ft"), notes=(_(RULE),))


FACTS: list[Fact] = [part_wire_length, part_wave_fits, part_length_off]
