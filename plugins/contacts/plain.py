"""The section on contacts as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.api import _

Data = Mapping[str, Any]


def contacts_text(data: Data) -> str:
    """The section as plain text."""
    head = data["rate"] or data["trouble"]
    blocks = [line for claim in data["claims"] for line in ("", *_claim(claim))]
    return "\n".join([*([head] if head else []), *data["rate_notes"], *blocks, "", *data["assumptions"]])


def _claim(claim: Data) -> Iterator[str]:
    yield f"{claim['title']}: {claim['wants']}"
    for row in claim["rows"]:
        yield f"  {row['period']}: {_row(row)}"
    yield from (f"  {line}" for one in claim["tally"] for line in _tally(one))
    if claim["division"]:
        yield f"  {claim['division']}"
    yield from (f"  {line}" for line in (*claim["notes"], *claim["rules"]))


def _tally(line: Data) -> Iterator[str]:
    """The label, and below it a blank box for each contact: "|_|_|_|_|_| |_|_|"."""
    if line["words"]:
        yield f"{line['label']} {line['words']}"
    else:
        yield line["label"]
        yield f"  {' '.join('|' + '_|' * size for size in line['groups'])}"


def _row(row: Data) -> str:
    if row["trouble"]:
        return str(row["trouble"])
    chance = _("{minutes} that count, chance {chance}").format(**row)
    return _("{row}; {needed} for a chance of 9 in 10").format(row=chance, **row) if row["needed"] else chance
