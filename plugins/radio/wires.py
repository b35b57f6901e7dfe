"""How an antenna's wire compares with the lengths of a wave on the planned bands, by rule of thumb."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Any

from afield.core.api import CannotTell, _, amount_in, frozen, marked
from afield.plugins.radio.bands import BANDS, shared_part
from afield.plugins.radio.planned import Planned
from afield.plugins.radio.words import refused

HALF_IN_SPACE_M = 149.896229
"""Half a wavelength in free space, metre megahertz: what each further half wave of a long wire takes."""
MOST_HALVES = 400
BEARING_DEG, OFFSET_M = 5.0, 0.1
"""95 %, of a stated bearing and of a stated distance between parts. Common practice, no source."""
NAMES = {1: marked("a quarter wave"), 2: marked("a half wave"), 4: marked("a full wave")}
"""Quarters of a wave -> words."""
HALVES = marked("{count} half waves")


@frozen
class Fit:
    """A wire on one planned band.

    Attributes:
        label: band or frequency.
        shared: the edges in MHz of the part of the band that all regions share; of a frequency twice itself.
        half_m, quarter_m: by the rules of thumb, at the middle of that part.
        quarters: the multiple of a quarter wave that the wire is nearest to.
        due_m: that multiple's length, at the place of the part where it comes nearest.
        off: how far the wire is off it, as a share of it; below 0 too short, 0 if it fits within the part.
        change_m: what is to be added for the middle of the part, below 0 taken off; 0 if it fits within the part.
        right_mhz: where in the band, as wide as any region has it, it fits if not within the part; else None.

    """

    label: str
    shared: tuple[float, float]
    half_m: float
    quarter_m: float
    quarters: int
    due_m: float
    off: float
    change_m: float
    right_mhz: float | None

    @property
    def middle_mhz(self) -> float:
        """The middle of the part."""
        return sum(self.shared) / 2

    def words(self) -> str:
        """The multiple in English words."""
        return NAMES.get(self.quarters, HALVES).format(count=self.quarters // 2)


def multiple_words(quarters: int) -> str:
    """A multiple of a quarter wave in the reader's language."""
    return _(NAMES.get(quarters, HALVES)).format(count=quarters // 2)


def fits(length_m: float, planned: Sequence[Planned]) -> list[Fit]:
    """The wire on each planned band.

    Raises:
        CannotTell: no band is planned, or one lies where the rules do not hold.

    """
    return [fit_of(length_m, use) for use in distinct(planned)]


def distinct(planned: Sequence[Planned]) -> list[Planned]:
    """One use of each band or frequency."""
    return list({use.label: use for use in planned}.values())


def fit_of(length_m: float, use: Planned) -> Fit:
    """The wire on one planned band.

    Raises:
        CannotTell: no band is planned, or it lies where the rules do not hold.

    """
    from afield.plugins.radio.computations.lengths import half_wave_dipole_rule, quarter_wave_rule

    shared, widest = _edges(use)
    middle = sum(shared) / 2
    try:
        half, quarter = half_wave_dipole_rule(middle).length_m, quarter_wave_rule(middle).length_m
        quarters, due, off = _nearest(length_m, *shared)
        change = _length(quarters, middle) - length_m if off else 0.0
        right = _right_mhz(length_m, *widest) if off else None
    except ValueError as error:
        text = _("{trouble}, where the rules of thumb for wires hold").format(trouble=refused(error))
        raise CannotTell(text, "schedule.band", "outside validity", "trip") from error
    return Fit(use.label, shared, half, quarter, quarters, due, off, change, right)


def _edges(use: Planned) -> tuple[tuple[float, float], tuple[float, float]]:
    """Of a planned band the part that all regions share, and all of it; of a frequency itself."""
    mhz = use.frequency().value
    if use.band and use.label == use.band:
        return shared_part(use.band), BANDS[use.band]
    return (mhz, mhz), (mhz, mhz)


def _nearest(length_m: float, low_mhz: float, high_mhz: float) -> tuple[int, float, float]:
    return min(_candidates(length_m, low_mhz, high_mhz), key=lambda one: abs(one[2]))


def _right_mhz(length_m: float, low_mhz: float, high_mhz: float) -> float | None:
    """The frequency between two for which the wire is right by a multiple; None where there is none."""
    quarters, __, off = _nearest(length_m, low_mhz, high_mhz)
    # Every rule is a length over the frequency.
    return None if off else _length(quarters, low_mhz) * low_mhz / length_m


def _candidates(length_m: float, low_mhz: float, high_mhz: float) -> Iterator[tuple[int, float, float]]:
    """Quarters, the length within the band that is nearest to the wire's, and how far the wire is off it."""
    for quarters in (1, *range(2, 2 * MOST_HALVES + 1, 2)):
        longest, shortest = (_length(quarters, mhz) for mhz in (low_mhz, high_mhz))
        due = min(max(length_m, shortest), longest)
        yield quarters, due, length_m / due - 1


def _length(quarters: int, mhz: float) -> float:
    from afield.plugins.radio.computations.lengths import half_wave_dipole_rule, quarter_wave_rule

    if quarters == 1:
        return quarter_wave_rule(mhz).length_m
    # Only its two ends shorten a wire: a further half wave between them is as long as in free space.
    return half_wave_dipole_rule(mhz).length_m + (quarters // 2 - 1) * HALF_IN_SPACE_M / mhz


def span_of(start: Any, end: Any) -> tuple[float, float]:
    """The level distance between a part's two ends, metres, and how far it may be off (95 %).

    Raises:
        CannotTell: the bearing of an end is not stated.

    """
    one, other = _polar(start), _polar(end)
    length = _apart(one, other)
    turned = max(abs(_apart(one, _turned(other, shift)) - length) for shift in (BEARING_DEG, -BEARING_DEG))
    # Ends on one bearing lie on one line, and offsets in metres have no bearing.
    same = one[0] == other[0] or not one[1] or not isinstance(end, Mapping)
    return length, hypot(OFFSET_M, OFFSET_M if one[1] else 0.0, 0.0 if same else turned)


Polar = tuple[float, float]
"""Bearing in degrees, distance in metres."""


def _polar(written: Any) -> Polar:
    if isinstance(written, Mapping):
        distance = amount_in(written["distance"], "m")
        if "bearing" not in written and distance:
            text = _("the bearing of an end of the antenna is not stated")
            raise CannotTell(text, "station.parts[].length", "not stated")
        return amount_in(written.get("bearing", "0 deg"), "deg"), distance
    east, north = (amount_in(text, "m") for text in written)
    return degrees(atan2(east, north)), hypot(east, north)


def _turned(end: Polar, by_deg: float) -> Polar:
    return end[0] + by_deg, end[1]


def _apart(one: Polar, other: Polar) -> float:
    (east, north), (far_east, far_north) = (
        (distance * sin(radians(bearing)), distance * cos(radians(bearing))) for bearing, distance in (one, other)
    )
    return hypot(far_east - east, far_north - north)
