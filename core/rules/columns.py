"""Columns: one fact of many subjects, in the unit of the bound that it is compared with."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from functools import lru_cache
from math import isfinite, nan
from typing import Any

from afield.core.facts.measured import Measured, Reason
from afield.core.frozen import frozen
from afield.core.quantities import convert, convert_difference, convert_exact, to_12_digits

KNOWN, UNTOLD, NOT_STATED, NO_MEMBER = range(4)
"""States of an entry. `NO_MEMBER`: the least or greatest of nothing, which makes a comparison not applicable."""


@frozen
class Column:
    """One measure of many subjects, ready to be compared.

    Attributes:
        low, value, high: in `unit`, rounded to 12 significant digits; text and bools as they are, instants in minutes
            since 1970 in UTC. An entry that is not known has a value that must not be read.
        uncertainty: 95 %, in `unit`; None where the entry is no known number.
        state: one of KNOWN, UNTOLD, NOT_STATED, NO_MEMBER for each entry.
        unit: None for what has no unit.
        records: the records that the column was made from, for explanations; may be empty.
        doubts: what would settle an entry whose interval holds the bound, for explanations; may be empty.

    """

    low: Sequence[Any]
    value: Sequence[Any]
    high: Sequence[Any]
    uncertainty: Sequence[float | None]
    state: bytes
    unit: str | None = None
    records: Sequence[Measured] = ()
    doubts: Sequence[Reason | None] = ()

    @property
    def all_known(self) -> bool:
        """Whether every entry has a value."""
        return self.state.count(KNOWN) == len(self.state)

    def at(self, index: int) -> Column:
        """The column of that one subject."""
        one = slice(index, index + 1)
        return Column(
            self.low[one], self.value[one], self.high[one], self.uncertainty[one], self.state[one], self.unit,
            self.records[one], self.doubts[one],
        )  # fmt: skip


_Entry = tuple[Any, Any, Any, float | None, int]
_Ends = tuple[float, float, float]
_SILENT = (nan, nan, nan, None)


def column_of(
    records: Sequence[Measured],
    unit: str | None = None,
    fact_type: str = "number",
    doubts: Sequence[Reason | None] = (),
) -> Column:
    """The column of the records, numbers converted to `unit` and rounded once.

    Args:
        records: one a subject, each in its own unit.
        unit: of the bound; None leaves numbers in their own unit.
        fact_type: the fact's declared type. A value of another type is an entry that cannot be told.
        doubts: see `Column`.

    Raises:
        QuantityError: a record's unit does not convert to `unit`.

    """
    if fact_type == "number":
        entries = [_number_entry(record, unit) for record in records]
    else:
        entries = [_plain_entry(record, fact_type) for record in records]
    columns = list(zip(*entries, strict=True)) or [(), (), (), (), ()]
    low, value, high, uncertainty, state = columns
    return Column(list(low), list(value), list(high), list(uncertainty), bytes(state), unit, records, doubts)


def _state_of(record: Measured) -> int:
    if record.known:
        return KNOWN
    return NOT_STATED if record.not_stated else UNTOLD


def _number_entry(record: Measured, unit: str | None) -> _Entry:
    state = _state_of(record)
    value = record.value
    if state != KNOWN or isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        return (*_SILENT, state or UNTOLD)
    source = record.unit if record.unit is not None else unit or ""
    low = value if record.low is None else record.low
    high = value if record.high is None else record.high
    if unit is None or source == unit:
        return to_12_digits(low), to_12_digits(value), to_12_digits(high), to_12_digits(record.uncertainty), KNOWN
    numbers = _moved((low, value, high), record.uncertainty, source, unit)
    return (*numbers, KNOWN)


def _moved(ends: _Ends, around: float, source: str, unit: str) -> tuple[float, float, float, float]:
    """Low, value, high and uncertainty in another unit, rounded once."""
    scale = _scale(source, unit)
    if scale is None:
        low, value, high = (convert(end, source, unit) for end in ends)
        moved_around = convert_difference(around, source, unit)
    else:
        # One multiplication is off by 2e-16 of the value at most, which the rounding to 12 digits takes away.
        low, value, high = (end * scale for end in ends)
        moved_around = around * scale
    return to_12_digits(low), to_12_digits(value), to_12_digits(high), to_12_digits(moved_around)


@lru_cache(maxsize=256)
def _scale(source: str, unit: str) -> float | None:
    """What to multiply by; None for units that do not share their zero."""
    return None if convert_exact(Decimal(0), source, unit) else float(convert_exact(Decimal(1), source, unit))


def _plain_entry(record: Measured, fact_type: str) -> _Entry:
    state = _state_of(record)
    if state != KNOWN:
        return (*_SILENT, state)
    if fact_type == "instant":
        return _instant_entry(record.value)
    due = {"text": str, "bool": bool}.get(fact_type, object)
    if not isinstance(record.value, due):
        return (*_SILENT, UNTOLD)
    return (record.value, record.value, record.value, None, KNOWN)


def _instant_entry(value: Any) -> _Entry:
    minutes = minutes_since_1970(value)
    return (*_SILENT, UNTOLD) if minutes is None else (minutes, minutes, minutes, 0.0, KNOWN)


def minutes_since_1970(instant: Any) -> float | None:
    """Minutes of an instant (with its zone, as a datetime or ISO text) since 1970-01-01T00:00Z; None for others."""
    if isinstance(instant, str):
        try:
            instant = datetime.fromisoformat(instant)
        except ValueError:
            return None
    if not isinstance(instant, datetime) or instant.tzinfo is None:
        return None
    return instant.timestamp() / 60
