"""The figures that the power at the antenna rests on, each group a record of its own.

An error enters a report by the record that first has it. Where a variant keeps a group's figures, that record is the
same in both reports, and its errors cancel in the difference between the two.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, fact

GROUPS = {
    "radio.output_figures": ("output of radios", ("output of ",)),
    "radio.amplifier_figures": ("gain and rated output of amplifiers", ("gain of ", "rated output of ")),
    "radio.line_figures": ("losses of lines", ("line loss of ",)),
    "radio.fitting_figures": ("losses of fittings and tuners", ("usual loss of ", "insertion loss of ")),
    "radio.antenna_figures": ("standing wave ratio at the antenna", ("swr of ",)),
    "radio.mismatch_figures": ("power into a mismatch", ("forward power of ",)),
    "radio.frequency_figures": ("planned frequency", ("frequency on ",)),
}
"""Fact -> its title, and how the origins of its errors begin."""


@fact(
    "radio.weakest", kind="trip", type="opaque", title="planned frequency with the least power at the antenna",
    encode=lambda row: {"frequency": row["frequency"], "antenna": row["antenna"]},
)  # fmt: skip
def radio_weakest(radio_power_table: Sequence[Mapping[str, Any]]) -> Mapping[str, Any]:
    """The row with the least power; the first row that cannot be told keeps it from being told."""
    return min(known_rows(radio_power_table), key=lambda row: float(row["watts"]))


def known_rows(rows: Sequence[Mapping[str, Any]]) -> Sequence[Mapping[str, Any]]:
    """The rows.

    Raises:
        CannotTell: one of them cannot be told.

    """
    for row in rows:
        if row["unknown"]:
            told = row["unknown"]
            raise CannotTell(told["text"], told["settle"], told["code"], told["subject"])
    return rows


def group_of(origin: str) -> str:
    """The fact by which an origin enters."""
    return next(name for name, (_, starts) in GROUPS.items() if origin.startswith(starts))


def _group(name: str, title: str) -> Fact:
    def figures(radio_weakest: Mapping[str, Any]) -> Estimate:
        """The figures of one kind that the least power rests on, each with what it contributes to the doubt."""
        found = {origin: told for origin, told in radio_weakest["grounds"].items() if group_of(origin) == name}
        return Estimate(found, parts={origin: around for origin, (_, around) in found.items()})

    function: Callable[..., Estimate] = figures
    return fact(name, kind="trip", type="opaque", title=title, owns_uncertainty=True, encode=lambda one: one)(function)


FACTS: list[Fact] = [radio_weakest, *(_group(name, title) for name, (title, _) in GROUPS.items())]
