"""How the power at the antenna is compared between variants: in decibels, and in S-units at the other end."""

from __future__ import annotations

from collections.abc import Mapping
from math import log10
from typing import Any

from afield.core.api import Comparison, printed

Record = Mapping[str, Any]


def difference_words(base: Record, variant: Record) -> str | None:
    """The difference in decibels with its uncertainty, and in S-units; None where there is none at all.

    Errors of one origin and figure cancel. Source of the S-unit: IARU Region 1, Technical Recommendation R.1 (1981,
    amended 1990): 6 dB.
    """
    from afield.plugins.radio.computations.decibels import power_ratio_db
    from afield.plugins.radio.figures import combined

    if min(base["value"], variant["value"]) <= 0:
        return None
    change_db, around = power_ratio_db(base["value"], variant["value"]), combined(_apart(base, variant))
    if abs(change_db) < 1e-9 and not around:
        return None
    # Where all errors cancel, a tenth of a decibel is more than anybody hears.
    size = printed(abs(change_db), around, "dB") if around else f"{abs(change_db):.1f} dB"
    where = _where(base["detail"].get("at"), variant["detail"].get("at"))
    if abs(change_db) <= around:
        return f"no difference that can be told: {size}{where}"
    way = "more" if change_db > 0 else "less"
    return f"{size} {way} at the antenna, {_s_units(abs(change_db))} (6 dB each, IARU Region 1 R.1){where}"


def _apart(base: Record, variant: Record) -> dict[str, float]:
    """Contributions to the difference in dB: one for an origin that has the same figure in both, else one for each."""
    mine, others = _parts(base), _parts(variant)
    grounds = base["detail"].get("grounds", {}), variant["detail"].get("grounds", {})
    same = {origin for origin in grounds[0].keys() & grounds[1].keys() if grounds[0][origin] == grounds[1][origin]}
    common = same & mine.keys() & others.keys()
    shared = {f"both {origin}": others[origin] - mine[origin] for origin in common}
    first = {f"base {origin}": part for origin, part in mine.items() if origin not in common}
    return shared | first | {f"variant {origin}": part for origin, part in others.items() if origin not in common}


def _parts(record: Record) -> dict[str, float]:
    """What each origin makes of the power, dB; a power that was read has one origin, the reading."""
    if record["rank"] == "computed":
        return dict(record["detail"]["parts_db"])
    return {"the reading": 10 * log10(1 + record["uncertainty"] / record["value"])}


def _s_units(change_db: float) -> str:
    from afield.plugins.radio.computations.s_units import DB_PER_S_UNIT

    halves = round(2 * change_db / DB_PER_S_UNIT)
    if halves < 2:
        return "about half an S-unit" if halves else "less than half an S-unit"
    return f"about {halves / 2:g} S-unit{'s' if halves > 2 else ''}"


def _where(base: str | None, variant: str | None) -> str:
    return "" if base == variant else f"; {base} beside {variant}"


def value_words(record: Record) -> str:
    """The power with its uncertainty, and a line for each planned frequency."""
    rows = record["detail"].get("rows", []) if record["rank"] == "computed" else []
    lines = [f"{row['at']}: {row['watts']:.3g} W, {row['loss_db']:.1f} dB lost on the way" for row in rows]
    return "\n".join([printed(record["value"], record["uncertainty"], "W"), *lines])


COMPARISONS = [
    Comparison("radio.power_at_antenna", "Power at the antenna", 200, difference_words, value_words),
]
