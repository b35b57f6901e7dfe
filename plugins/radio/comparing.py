"""How the power at the antenna is compared between variants: in decibels, and in S-units at the other end."""

from __future__ import annotations

from collections.abc import Mapping
from math import log10
from typing import Any

from afield.core.api import Comparison, _, local_digits, marked, ngettext, printed

Record = Mapping[str, Any]
MORE = marked("{size} more at the antenna, {s_units} (6 dB each, IARU Region 1 R.1)")
LESS = marked("{size} less at the antenna, {s_units} (6 dB each, IARU Region 1 R.1)")


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
    size = printed(abs(change_db), around, "dB") if around else local_digits(f"{abs(change_db):.1f} dB")
    if abs(change_db) <= around:
        told = _("no difference that can be told: {size}").format(size=size)
    else:
        told = _(MORE if change_db > 0 else LESS).format(size=size, s_units=_s_units(abs(change_db)))
    return _with_places(told, base["detail"].get("at"), variant["detail"].get("at"))


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
        return _("about half an S-unit") if halves else _("less than half an S-unit")
    units = ngettext("about {count} S-unit", "about {count} S-units", 1 if halves == 2 else 2)
    return units.format(count=local_digits(f"{halves / 2:g}"))


def _with_places(told: str, base: str | None, variant: str | None) -> str:
    if base == variant:
        return told
    return _("{difference}; {base} beside {variant}").format(difference=told, base=base, variant=variant)


def value_words(record: Record) -> str:
    """The power with its uncertainty, and a line for each planned frequency."""
    rows = record["detail"].get("rows", []) if record["rank"] == "computed" else []
    return "\n".join([printed(record["value"], record["uncertainty"], "W"), *map(_row_words, rows)])


def _row_words(row: Record) -> str:
    watts, loss = local_digits(f"{row['watts']:.3g}"), local_digits(f"{row['loss_db']:.1f}")
    return _("{at}: {watts} W, {loss} dB lost on the way").format(at=row["at"], watts=watts, loss=loss)


COMPARISONS = [
    Comparison("radio.power_at_antenna", "Power at the antenna", 200, difference_words, value_words),
]
