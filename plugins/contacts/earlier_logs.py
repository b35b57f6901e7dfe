"""The operator's own earlier logs -> counts of contacts and their times, and what is said of them."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from afield.core.api import InputError, Piece, Place, Problem, amount_in, did_you_mean, frozen, quoted_list
from afield.plugins.contacts.adi_file import AdiText, Record
from afield.plugins.contacts.computations.runs import Run, runs_of, tells_time
from afield.plugins.contacts.log_notes import LeftOut, counts_nothing, left_out, modes_words, what_counts
from afield.plugins.contacts.log_times import end_of, mode_of, start_of

MOST_BYTES = 16 * 1024 * 1024
"""About 80,000 contacts with 200 characters each."""


@dataclass
class Counts:
    """Contacts and hours of each earlier outing or run, what the reader must know of them, and the logs read.

    `silent` says of each log that counts nothing why.
    """

    contacts: list[int] = field(default_factory=list)
    hours: list[float] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    logs: list[dict[str, str]] = field(default_factory=list)
    silent: list[str] = field(default_factory=list)

    def add(self, contacts: int, hours: float) -> None:
        """One outing or run more."""
        self.contacts.append(contacts)
        self.hours.append(hours)


Key = frozenset[tuple[str, str]]


@frozen
class Sought:
    """Which records of a log count.

    Attributes:
        modes: as they count; none for all.
        day: local date of the outing that is planned; what is later is none of the earlier ones.

    """

    modes: Sequence[str]
    day: date

    @property
    def among(self) -> str:
        """The modes in words: "SSB or CW"; empty for all."""
        return modes_words(self.modes)


@dataclass
class _Kept:
    """The records of one log that count, and how many do not."""

    spans: list[tuple[datetime, datetime]] = field(default_factory=list)
    later: int = 0
    others: int = 0
    twice: int = 0
    no_end: int = 0


def earlier_counts(piece: Piece, planned: Collection[str], modes: dict[str, str], day: date) -> Counts:
    """The counts that a plan states, and those of the runs in the logs that it names.

    Args:
        piece: the list `contacts.earlier`.
        planned: modes that the plan states; empty, a log counts in all modes.
        modes: mode as plans and logs write it, in capitals -> the mode that it counts as.
        day: local date of the outing that is planned.

    Raises:
        InputError: a log that cannot be read or is broken, or an entry of which it is not clear what it says.

    """
    found, seen = Counts(), set[Key]()
    for index, entry in enumerate(piece.data):
        if "log" not in entry:
            found.add(entry["contacts"], amount_in(entry["time"], "h"))
            continue
        if len(entry.keys() & {"contacts", "time"}):
            raise piece.problem(
                "this entry has a log and a count of its own",
                "Write two entries.",
                index,
            )
        _add_log(found, piece, index, Sought(_wanted(piece, index, planned, modes), day), modes, seen)
    return found


def _wanted(piece: Piece, index: int, planned: Collection[str], modes: dict[str, str]) -> list[str]:
    """The modes, as they count, that the log's records must be in; none for all."""
    mode = piece.data[index].get("mode")
    if mode is not None and mode.upper() not in modes:
        near = did_you_mean(mode.upper(), modes)
        advice = f'Did you mean "{near}"?' if near else f"Known: {quoted_list(modes)}."
        raise piece.problem(f'the mode "{mode}" is not known', advice, index, "mode")
    names = planned if mode is None else [mode]
    return list(dict.fromkeys(modes.get(name.upper(), name.upper()) for name in names))


def _add_log(found: Counts, piece: Piece, index: int, sought: Sought, modes: dict[str, str], seen: set[Key]) -> None:
    name = str(piece.data[index]["log"])
    content = _content(piece, index)
    text, latin = _decoded(name, content)
    kept = _kept(text, sought, modes, seen)
    runs = _runs(kept)
    used = [run for run in runs if tells_time(run)]
    for run in used:
        found.add(*run)
    if not used:
        found.silent.append(counts_nothing(name, sought.among))
    found.notes.append(what_counts(name, used, sought.among) if used else found.silent[-1])
    found.notes += left_out(name, _amounts(kept, runs, text, latin), sought.among, sought.day)
    found.logs.append({"file": name, "sha256": _sha256(content)})


def _runs(kept: _Kept) -> list[Run]:
    zero = min((start for start, _end in kept.spans), default=None)
    starts, ends = ([_hours(span[side], zero) for span in kept.spans] for side in (0, 1))
    return runs_of(starts, ends)


def _hours(instant: datetime, zero: datetime | None) -> float:
    return 0.0 if zero is None else (instant - zero).total_seconds() / 3600


def _kept(text: AdiText, sought: Sought, modes: dict[str, str], seen: set[Key]) -> _Kept:
    """The records that are sought, each once; all are read whole before any counts."""
    kept, count = _Kept(), 0
    for count, record in enumerate(text.records(), 1):  # noqa: B007
        start = start_of(text, record)
        end = end_of(text, record, start)
        key = _key(record)
        if start.date() > sought.day:
            kept.later += 1
        elif sought.modes and mode_of(record, modes) not in sought.modes:
            kept.others += 1
        elif key in seen:
            kept.twice += 1
        else:
            seen.add(key)
            kept.spans.append((start, end or start))
            kept.no_end += end is None and "TIME_OFF" in record
    if not count:
        raise _of_file(text.name, "the log holds no record", "Name a log with contacts, or remove the entry.")
    return kept


def _key(record: Record) -> Key:
    return frozenset((name, field.value) for name, field in record.items())


def _content(piece: Piece, index: int) -> bytes:
    """The file's bytes; whatever is wrong with the name points at the plan."""
    name = str(piece.data[index]["log"])
    if not name.lower().endswith(".adi"):
        what, advice = f'"{name}" is not named as an ADI file', "Export the log as ADIF with tags (.adi)."
        raise piece.problem(what, advice, index, "log")
    try:
        with piece.file(index, "log").open("rb") as stream:
            content = stream.read(MOST_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError):
        raise piece.problem(f"there is no file {name}", "Check the name and the folder.", index, "log") from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise piece.problem(f"{name} cannot be read: {why}", "Check your rights to it.", index, "log") from None
    if len(content) > MOST_BYTES:
        raise piece.problem(f"{name} is larger than {MOST_BYTES >> 20} MiB", "Split the log.", index, "log")
    return content


def _decoded(name: str, content: bytes) -> tuple[AdiText, bool]:
    """The text, and whether it was taken as Latin-1 for want of UTF-8."""
    try:
        return AdiText(name, content.decode("utf-8-sig")), False
    except UnicodeDecodeError:
        return AdiText(name, content.decode("latin-1")), True


def _sha256(content: bytes) -> str:
    import hashlib

    return hashlib.sha256(content).hexdigest()


def _of_file(name: str, what: str, advice: str) -> InputError:
    return InputError([Problem(Place(name, 1, 1), what, advice)])


def _amounts(kept: _Kept, runs: Sequence[Run], text: AdiText, latin: bool) -> LeftOut:
    alone = sum(run.contacts for run in runs if not tells_time(run))
    higher = any(tells_time(run) for run in runs)
    return LeftOut(alone, higher, kept.later, kept.others, kept.twice, kept.no_end, text.in_bytes, latin)
