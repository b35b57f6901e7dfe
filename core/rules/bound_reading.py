"""What a measure is compared with: limits, quantities, words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from afield.core.documents import Path
from afield.core.quantities import (
    QuantityError,
    bare_number,
    convert_exact,
    dimension_of,
    parse_quantity,
    phrase_of,
    same_dimension,
)
from afield.core.rules.complaint import Complaint, as_written, meant
from afield.core.rules.conditions import Bound
from afield.core.rules.vocabulary import Target, Vocabulary


class BoundReader:
    """Reads bounds; what is wrong goes to the list of complaints."""

    def __init__(self, vocabulary: Vocabulary, complaints: list[Complaint]) -> None:
        self.known, self.complaints = vocabulary, complaints

    def existence(self, written: Any, path: Path) -> tuple[Bound, ...]:
        """The bound of `exists`."""
        if not isinstance(written, bool):
            self._complain(path, f'"exists" is true or false, not {as_written(written)}', "Write `exists: true`.")
            return ()
        return (Bound(value=written),)

    def range(self, written: Any, path: Path, target: Target) -> tuple[Bound, ...]:
        """The two ends of `between`, the lesser first."""
        if not isinstance(written, list) or len(written) != 2:
            self._complain(path, '"between" takes two bounds', "Write `between: [least, most]`.")
            return ()
        ends = self.several(written, path, target)
        if len(ends) == 2 and self._reversed(*ends):
            advice = f"Write `between: [{ends[1].written}, {ends[0].written}]`."
            self._complain(path, f"{ends[0].written} is more than {ends[1].written}", advice)
        return ends

    def several(self, written: Any, path: Path, target: Target) -> tuple[Bound, ...]:
        """The bounds of a list."""
        if not isinstance(written, list) or not written:
            self._complain(path, "a list of values is due", "Write them in brackets: `[...]`.")
            return ()
        bounds = [self.single(value, (*path, index), target) for index, value in enumerate(written)]
        return tuple(bound for found in bounds for bound in found)

    def single(self, written: Any, path: Path, target: Target) -> tuple[Bound, ...]:
        """One bound; () with a complaint."""
        if isinstance(written, Mapping):
            return self._limit(written, path, target)
        read = {
            "number": self._number,
            "instant": self._instant,
            "text": self._text,
            "verdict": self._text,
            "bool": self._bool,
        }.get(target.type, self._unchecked)
        return read(written, path, target)

    def _limit(self, written: Mapping[str, Any], path: Path, target: Target) -> tuple[Bound, ...]:
        if set(written) != {"limit"}:
            return self._complain(path, f"{as_written(written)} is no bound", "Write a value, or `{limit: NAME}`.")
        name = written["limit"]
        limit = self.known.limits.get(name) if isinstance(name, str) else None
        if limit is None:
            advice = meant(str(name), self.known.limits, "limits")
            return self._complain((*path, "limit"), f"the pack has no limit {name}", advice)
        if target.type not in ("number", ""):
            return self._complain(path, f"a limit is a number; {target.title} is not", "Write the value itself.")
        for version in limit.versions:
            if version.value is not None and target.type and not _fits(version.unit, target.unit):
                what = f"the limit {name} is {_what_is(version.unit)}; {target.title} is {_what_is(target.unit)}"
                advice = "Compare with another limit, or correct the limit's unit."
                return self._complain((*path, "limit"), what, advice, (*version.path, "unit"))
        return (Bound(limit=limit.name),)

    def _number(self, written: Any, path: Path, target: Target) -> tuple[Bound, ...]:
        try:
            quantity = _quantity(written, target.unit)
        except QuantityError as error:
            return self._complain(path, error.what, error.advice)
        return (Bound(value=quantity[0], unit=quantity[1]),)

    def _instant(self, written: Any, path: Path, target: Target) -> tuple[Bound, ...]:
        try:
            instant = datetime.fromisoformat(written) if isinstance(written, str) else None
        except ValueError:
            instant = None
        if instant is None or instant.tzinfo is None:
            advice = "Write date and time in UTC, for example 2026-06-27T22:30Z."
            return self._complain(path, f"{as_written(written)} is no instant", advice)
        return (Bound(value=instant),)

    def _text(self, written: Any, path: Path, target: Target) -> tuple[Bound, ...]:
        if not isinstance(written, str):
            return self._complain(path, f"{target.title} is text; {as_written(written)} is not", "Write a word.")
        if target.choices and written not in target.choices:
            advice = meant(written, target.choices, f"values of {target.title}")
            return self._complain(path, f'{target.title} is never "{written}"', advice)
        return (Bound(value=written),)

    def _bool(self, written: Any, path: Path, target: Target) -> tuple[Bound, ...]:
        if not isinstance(written, bool):
            return self._complain(
                path, f"{target.title} is true or false, not {as_written(written)}", "Write `is: true`."
            )
        return (Bound(value=written),)

    def _unchecked(self, written: Any, path: Path, target: Target) -> tuple[Bound, ...]:
        """A value for a fact whose plugin is absent, of which nothing is known."""
        if isinstance(written, str | bool):
            return (Bound(value=written),)
        if not isinstance(written, int | float):
            return self._complain(path, f"{as_written(written)} is no bound", "Write a value, or `{limit: NAME}`.")
        return (Bound(value=Decimal(str(written))),)

    def _reversed(self, least: Bound, most: Bound) -> bool:
        if isinstance(least.value, Decimal) and isinstance(most.value, Decimal):
            return convert_exact(least.value, least.unit, most.unit) > convert_exact(most.value, most.unit, most.unit)
        if isinstance(least.value, datetime) and isinstance(most.value, datetime):
            return least.value > most.value
        return False

    def _complain(self, path: Path, what: str, advice: str, other_path: Path | None = None) -> tuple[()]:
        self.complaints.append(Complaint(path, what, advice, other_path))
        return ()


def _quantity(written: Any, unit: str) -> tuple[Decimal, str]:
    """Digits and unit; a plain number only where the fact has no unit."""
    if isinstance(written, bool) or not isinstance(written, str | int | float):
        raise QuantityError(f"{as_written(written)} is no quantity", "Write a number and its unit.")
    if isinstance(written, str):
        quantity = parse_quantity(written, unit)
        return quantity.digits, quantity.unit
    if unit:
        raise bare_number(written, dimension_of(unit))
    return Decimal(str(written)), ""


def _fits(unit: str, due: str) -> bool:
    try:
        return same_dimension(unit, due)
    except QuantityError:
        return True  # the limit's own check complains of its unit


def _what_is(unit: str) -> str:
    return phrase_of(dimension_of(unit)) if unit else "a plain number"
