"""A plan's times of day as instants: each is the next after the one before it, on the clocks of the place."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import NoReturn
from zoneinfo import ZoneInfo

from afield.core.api import Document, InputError, frozen
from afield.plugins.timing.changes import clock_changes
from afield.plugins.timing.computations.clock import passes

IN_UTC = "write the time in UTC with a Z at its end"


@frozen
class Stated:
    """A time of day of the plan: what it is, how it is written ("14:45" or "21:45Z"), and where."""

    what: str
    text: str
    path: tuple[str | int, ...]

    @property
    def time(self) -> time:
        """The time of day, without its zone."""
        return time.fromisoformat(self.text.removesuffix("Z"))

    @property
    def utc(self) -> bool:
        """Whether it is in UTC."""
        return self.text.endswith("Z")


@frozen
class Dial:
    """The clock of the place.

    Attributes:
        zone: its rules.
        day: local date of arrival.
        repeated: which pass of a repeated hour is meant, if the plan says so.
        document: the plan, for messages.

    """

    zone: ZoneInfo
    day: date
    repeated: str | None
    document: Document

    def refuse(self, stated: Stated, what: str, advice: str) -> NoReturn:
        """Raise the input error that points at a time of the plan."""
        raise InputError([self.document.problem(stated.path, what, advice)])

    def row(self, times: Sequence[Stated]) -> list[datetime]:
        """The instants of times that follow each other, the first on the day of arrival."""
        found = [self.first(times[0])]
        for stated in times[1:]:
            found.append(self.next(stated, found[-1]))
        return found

    def first(self, stated: Stated) -> datetime:
        """The instant of the time on the local day of arrival."""
        if not stated.utc:
            return self._local(stated, self.day)[0]
        for shift in (-1, 0, 1):
            instant = datetime.combine(self.day + timedelta(days=shift), stated.time, UTC)
            if instant.astimezone(self.zone).date() == self.day:
                return instant
        what = f"{stated.text} does not fall on {self.day} in {self.zone.key}, a day without that hour of UTC"
        return self.refuse(stated, what, "Correct the time, or `date`, which is the local date of arrival.")

    def next(self, stated: Stated, after: datetime) -> datetime:
        """The first instant of the time that is not before another."""
        day = after.date() if stated.utc else after.astimezone(self.zone).date()
        for shift in (0, 1, 2):
            found = self._on(stated, day + timedelta(days=shift), after)
            if found is not None:
                return found
        raise ValueError(f"{stated.text} does not come again within two days of {after}")

    def _on(self, stated: Stated, day: date, after: datetime) -> datetime | None:
        if stated.utc:
            instants = [datetime.combine(day, stated.time, UTC)]
        elif not self._comes_after(stated, day, after):
            return None
        else:
            instants = self._local(stated, day)
        return next((instant for instant in instants if instant >= after), None)

    def _comes_after(self, stated: Stated, day: date, after: datetime) -> bool:
        """Whether the time on the day is not before an instant, a skipped one taken as if the clock had run on."""
        local = datetime.combine(day, stated.time)
        latest = max(local.replace(tzinfo=self.zone, fold=fold).astimezone(UTC) for fold in (0, 1))
        return latest >= after

    def _local(self, stated: Stated, day: date) -> list[datetime]:
        """The instants that the plan can mean by a local time on a day."""
        found = passes(datetime.combine(day, stated.time), self.zone)
        if not found:
            self._refuse_skipped(stated, day)
        if len(found) == 2 and self.repeated is None:
            self._refuse_repeated(stated, day, found)
        return found[-1:] if self.repeated == "second" else found

    def _refuse_skipped(self, stated: Stated, day: date) -> NoReturn:
        what = f"{stated.text} does not exist on {day}: {self._change_words(day)}"
        self.refuse(stated, what, f"Write a time before or after the change, or {IN_UTC}.")

    def _refuse_repeated(self, stated: Stated, day: date, found: Sequence[datetime]) -> NoReturn:
        what = f"{stated.text} comes twice on {day}: {self._change_words(day)}"
        both = " or ".join(f"{instant:%H:%MZ}" for instant in found)
        advice = f"State `repeated_hour: first` or `second` under `schedule:`, or {IN_UTC}: {both}."
        self.refuse(stated, what, advice)

    def _change_words(self, day: date) -> str:
        noon = datetime.combine(day, time(12), UTC)
        around = timedelta(hours=36)
        changes = clock_changes(self.zone, noon - around, noon + around)
        near = min(changes, key=lambda change: abs(change.at - noon))
        shown = "%H:%M" if near.before.date() == near.after.date() else "%Y-%m-%d %H:%M"
        return f"the clocks of {self.zone.key} go from {near.before:{shown}} to {near.after:{shown}}"
