"""Values as JSON: numbers to 12 significant digits, so that two runs give the same bytes."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from afield.core.facts.declarations import Fact
from afield.core.facts.subjects import Piece
from afield.core.facts.time_limit import limited
from afield.core.quantities import to_12_digits


def json_value(value: Any) -> Any:
    """A value as JSON: floats rounded once, dates as text, structures inside out; what cannot be shown is left out."""
    if isinstance(value, bool | str | int | None):
        return value
    if isinstance(value, float):
        return to_12_digits(value)
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, date | datetime):
        return value.isoformat()
    if isinstance(value, Piece):
        return json_value(value.data)
    if isinstance(value, Mapping):
        return {str(key): json_value(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [json_value(inner) for inner in value]
    return None


def fact_value(value: Any, declared: Fact | None) -> Any:
    """A fact's value as JSON, by the fact's own encoder where it has one."""
    if value is not None and declared is not None and declared.encode is not None:
        return json_value(limited(declared.encode, value))
    return json_value(value)
