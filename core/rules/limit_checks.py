"""What keeps a limit from being used: dates, units, and printed equivalents that do not agree."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from itertools import combinations
from typing import Protocol

from afield.core.documents import Path
from afield.core.quantities import QuantityError, convert_exact, dimension_of
from afield.core.rules.complaint import Complaint
from afield.core.rules.limits import Dated, Limit, Version, printed_figure

MOST_DIGITS = 12
"""Significant digits that a limit may have: values are compared after rounding to as many."""


class Written(Dated, Protocol):
    """Something dated that stands at a path of a document."""

    @property
    def path(self) -> Path: ...  # noqa: D102


def complaints_about(limit: Limit) -> list[Complaint]:
    """All that keeps the limit from being used, in written order; dates that clash come last."""
    found = [complaint for version in limit.versions for complaint in _about_version(version)]
    return found + date_complaints(limit.versions)


def date_complaints(versions: Sequence[Written]) -> list[Complaint]:
    """Versions that end before they begin, and pairs that are in force on the same day."""
    backwards = [
        Complaint(
            (*version.path, "until"),
            f"until {version.until} is not after from {version.from_}",
            "`until` is the first day on which it is no longer in force; write a later day.",
        )
        for version in versions
        if _is_backwards(version)
    ]
    pairs = combinations([version for version in versions if not _is_backwards(version)], 2)
    return backwards + [_overlap(*pair) for pair in pairs if _overlaps(*pair)]


def _first_day(version: Dated) -> date:
    return version.from_ or date.min


def _is_backwards(version: Dated) -> bool:
    return version.until is not None and version.until <= _first_day(version)


def _overlaps(one: Dated, other: Dated) -> bool:
    earlier, later = sorted((one, other), key=_first_day)
    return earlier.until is None or _first_day(later) < earlier.until


def _overlap(one: Written, other: Written) -> Complaint:
    earlier, later = sorted((one, other), key=_first_day)
    if _first_day(earlier) == _first_day(later):
        what = f"two versions are in force from {later.from_}"
        return Complaint(later.path, what, "Remove one of them, or change its dates.", earlier.path)
    what = f"the version from {earlier.from_} is still in force when that from {later.from_} begins"
    return Complaint(later.path, what, f"Write `until: {later.from_}` in the earlier one.", earlier.path)


def _about_version(version: Version) -> list[Complaint]:
    if version.value is None:
        return _about_no_value(version)
    if version.none is not None:
        what = "a limit has a value or a reason for there being none, not both"
        return [Complaint((*version.path, "none"), what, "Remove `value` or `none`.", (*version.path, "value"))]
    about_value = _about_figure(version.value, version.unit, version.path)
    if about_value:
        return about_value
    return [
        complaint
        for index, (figure, unit) in enumerate(version.also_printed)
        for complaint in _about_equivalent(version, figure, unit, (*version.path, "also_printed", index))
    ]


def _about_no_value(version: Version) -> list[Complaint]:
    if version.none is not None:
        return []
    what = "a limit has neither a value nor a reason for there being none"
    return [Complaint(version.path, what, 'Write `value: "80"` with its unit, or `none: REASON`.')]


def _about_figure(figure: Decimal, unit: str, path: Path) -> list[Complaint]:
    if not figure.is_finite():
        return [Complaint((*path, "value"), f"{figure} is not a number", 'Write digits in quotes, for example "24.4".')]
    if len(figure.normalize().as_tuple().digits) > MOST_DIGITS:
        what = f"{figure:f} has more than {MOST_DIGITS} significant digits"
        return [Complaint((*path, "value"), what, "Values are compared after rounding to that many; write fewer.")]
    try:
        dimension_of(unit)
    except QuantityError as error:
        return [Complaint((*path, "unit"), error.what, error.advice)]
    return []


def _about_equivalent(version: Version, figure: Decimal, unit: str, path: Path) -> list[Complaint]:
    assert version.value is not None
    about_figure = _about_figure(figure, unit, path)
    if about_figure:
        return about_figure
    try:
        exact = Fraction(convert_exact(version.value, version.unit, unit))
    except QuantityError as error:
        return [Complaint((*path, "unit"), error.what, error.advice)]
    if abs(exact - Fraction(figure)) <= _half_of_last_place(figure):
        return []
    return [_disagreement(version, figure, unit, exact, path)]


def _half_of_last_place(figure: Decimal) -> Fraction:
    """Half of one unit in the last printed place: 0.05 for 24.4, 0.5 for 30."""
    return Fraction(10) ** int(figure.as_tuple().exponent) / 2


def _disagreement(version: Version, figure: Decimal, unit: str, exact: Fraction, path: Path) -> Complaint:
    assert version.value is not None
    precise = Decimal(exact.numerator) / Decimal(exact.denominator)
    as_printed = precise.quantize(Decimal(1).scaleb(int(figure.as_tuple().exponent)), rounding=ROUND_HALF_EVEN)
    governing = printed_figure(version.value, version.unit)
    shown = printed_figure(Decimal(f"{precise:.{MOST_DIGITS}g}").normalize(), unit)
    return Complaint(
        (*path, "value"),
        f"{printed_figure(figure, unit)} does not agree with {governing}, which is {shown}",
        f'Write "{as_printed:f}", or correct the value; the printed equivalent must agree within its own rounding.',
        (*version.path, "value"),
    )
