"""What is compared: the plan, and its variants."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import Any

from afield.core.documents import InputError
from afield.core.frozen import frozen
from afield.core.language import _, marked
from afield.core.packs.trip import Trip
from afield.core.report.formats.grounds import Records, notes_of, records_of
from afield.core.rules.complaint import meant

THE_PLAN = marked("the plan")


@frozen(slots=False)
class Side:
    """The plan, or one of its variants, judged.

    Attributes:
        name: the variant's; None for the plan itself.
        label: as printed.
        report: its whole report.

    """

    name: str | None
    label: str
    report: Mapping[str, Any]

    @cached_property
    def records(self) -> Records:
        """The report's records by subject and fact."""
        return records_of(self.report)

    def record(self, fact: str) -> Mapping[str, Any] | None:
        """The report's record of a fact of the trip; None where it has none."""
        return self.records.get(("trip", fact))

    def notes(self, fact: str) -> list[str]:
        """The notes of the fact's record and of all beneath it, each once, without those on an assumed uncertainty."""
        found: list[Mapping[str, Any]] = []
        waiting = [("trip", fact)]
        seen = set(waiting)
        while waiting:
            record = self.records.get(waiting.pop(0))
            if record is not None:
                found.append(record)
                inputs = [(one["subject"], one["fact"]) for one in record["inputs"]]
                waiting += [key for key in dict.fromkeys(inputs) if key not in seen]
                seen.update(inputs)
        return notes_of(found)


def label_of(name: str | None) -> str:
    """What the plan, or the variant of that name, is called on screen.

    Names of variants hold no space, and what the plan is called does, in every language: no two sides are called alike.
    """
    return _(THE_PLAN) if name is None else name


def names_to_compare(trip: Trip, base: str | None, only: Sequence[str]) -> list[str | None]:
    """The base first, then what is compared with it, in the plan's order; None is the plan itself.

    Args:
        trip: the plan's.
        base: a variant to take the plan's place as the base.
        only: the variants to compare with it; all others, and the plan, if empty.

    Raises:
        InputError: a variant that the plan has not, or nothing to compare with the base.

    """
    if not trip.variants:
        raise _refused(trip, ("trip",), "the plan has no variants to compare with it", NO_VARIANTS)
    for name in [*([] if base is None else [base]), *only]:
        if name not in trip.variants:
            advice = meant(name, trip.variants, "variants in the plan")
            raise _refused(trip, ("variants",), f"there is no variant {name}", advice)
    known: list[str | None] = [None, *trip.variants]
    others = [name for name in known if name != base and (name in only or not only)]
    if not others:
        what = f"the variant {base} would be compared with itself alone"
        raise _refused(trip, ("variants", str(base)), what, "Leave out --variant, or name another variant.")
    return [base, *others]


NO_VARIANTS = "Write what each changes under `variants:`, for example: variants: {next-day: {date: 2026-06-28}}"


def _refused(trip: Trip, path: tuple[str, ...], what: str, advice: str) -> InputError:
    return InputError([trip.document.problem(path, what, advice, at_key=True)])
