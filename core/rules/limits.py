"""Limits: dated, cited values, exact in the unit that their source prints."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Protocol, TypeVar

from afield.core.documents import Path
from afield.core.frozen import frozen
from afield.core.quantities import shown_unit


@frozen
class Source:
    """The passage that a rule, a limit or a value rests on.

    Attributes:
        document, section, edition: what to open, and where.
        grade: how far it can be relied on (published, from memory, common practice, invented).
        last_checked: when somebody last compared the pack with it.

    """

    document: str
    section: str
    edition: str | None = None
    grade: str | None = None
    last_checked: date | None = None


@frozen
class Version:
    """One dated value of a limit.

    Attributes:
        from_, until: days in force, `from_` inclusive, `until` exclusive; None = open.
        value: the figure that governs; None if there is no limit in these days.
        unit: of the figure; "" for a count.
        also_printed: (figure, unit) of the equivalents that the source prints too; they never decide.
        none: why there is no limit in these days; then the rules that use it are not applicable.
        source: the passage.
        announced: day of announcement; stored and shown, no more.
        corrects: what it corrects; stored and shown, no more.
        path: where it stands in the pack's document.

    """

    from_: date | None
    until: date | None = None
    value: Decimal | None = None
    unit: str = ""
    also_printed: tuple[tuple[Decimal, str], ...] = ()
    none: str | None = None
    source: Source | None = None
    announced: date | None = None
    corrects: str | None = None
    path: Path = ()


@frozen
class Limit:
    """A named limit with all its dated values."""

    name: str
    versions: tuple[Version, ...]


class Dated(Protocol):
    """Anything in force from a day (inclusive) until a day (exclusive)."""

    @property
    def from_(self) -> date | None: ...  # noqa: D102
    @property
    def until(self) -> date | None: ...  # noqa: D102


D = TypeVar("D", bound=Dated)


def is_in_force(version: Dated, day: date) -> bool:
    """Whether the version is in force on the day; a missing end is open."""
    return (version.from_ is None or version.from_ <= day) and (version.until is None or day < version.until)


def in_force(versions: Iterable[D], day: date) -> D | None:
    """The version in force on the day, None if there is none."""
    return next((version for version in versions if is_in_force(version, day)), None)


def printed_figure(value: Decimal, unit: str) -> str:
    """The figure as its source prints it: "80 ft", "10"."""
    return f"{value:f} {shown_unit(unit)}".rstrip()
