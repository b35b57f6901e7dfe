from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.api import InputError
from afield.plugins.contacts.adi_file import AdiText
from afield.plugins.contacts.computations.runs import MOST_GAP_H, Run, runs_of

VALUES = st.text(st.characters(blacklist_characters="<>\r\n", blacklist_categories=("Cs", "Cc", "Z")), min_size=1)
RECORDS = st.lists(st.dictionaries(st.sampled_from(["CALL", "NAME", "MODE"]), VALUES, min_size=1))
MINUTES = st.lists(st.integers(0, 3000), max_size=60)
HEAD = "made by hand\n<EOH>\n"


def record(time: str, mode: str = "SSB", call: str = "Q0TEST") -> str:
    return f"<CALL:6>{call}<QSO_DATE:8>20260601<TIME_ON:4>{time}<MODE:{len(mode)}>{mode}<EOR>\n"


RUN = record("1800") + record("1810") + record("1820", call="Q1TEST")


@given(RECORDS, st.booleans())
def test_what_is_written_is_read(records: list[dict[str, str]], header: bool) -> None:
    lines = ["".join(f"<{name}:{len(value)}>{value} " for name, value in one.items()) + "<eor>" for one in records]
    read = AdiText("june.adi", (HEAD if header else "") + "\n".join(lines)).records()
    assert [{name: field.value for name, field in one.items()} for one in read] == records


@given(MINUTES)
def test_runs_part_the_contacts_and_last_no_longer_than_span_and_gaps(minutes: list[int]) -> None:
    starts = [minute / 60 for minute in minutes]
    runs = runs_of(starts, starts)
    assert sum(run.contacts for run in runs) == len(starts)
    span = max(starts, default=0) - min(starts, default=0)
    assert sum(run.hours for run in runs) <= span + MOST_GAP_H * len(runs) + 1e-6


def test_thirty_minutes_join_and_thirty_one_part() -> None:
    assert runs_of([0, 0.5], [0, 0.5]) == [Run(2, 1.0)]
    assert runs_of([0, 31 / 60], [0, 31 / 60]) == [Run(1, 0), Run(1, 0)]


@pytest.fixture
def rate(tmp_path: Path, world_of: Callable[..., Any]) -> Callable[..., Any]:
    def made(log: str | bytes | None, entry: str = "{log: june.adi}") -> Any:
        if log is not None:
            (tmp_path / "june.adi").write_bytes(log.encode() if isinstance(log, str) else log)
        world = world_of("program.minimum_contacts: 10", f"contacts: {{earlier: [{entry}]}}\n")
        return world.value("trip", "contacts.rate")

    return made


def test_a_log_and_a_count_make_the_rate(rate: Callable[..., Any]) -> None:
    found = rate(
        RUN + record("1820", call="Q1TEST") + record("1825", "CW"), "{log: june.adi}, {contacts: 23, time: 2 h}"
    )
    assert found.value["basis"] == "own counts: 26 contacts in 2 h 30 min of 2 outings; Jeffreys prior"
    assert found.notes == (
        "june.adi: 3 contacts in 1 run, 30 min in SSB. Starts at most 30 minutes apart make a run (common practice, "
        "no source); its time takes in one mean gap more.",
        "june.adi: 1 record left out that are not in SSB",
        "june.adi: 1 record left out that stood there, or in a log before, already",
    )


NOTHING = "{} counts nothing: it has no run of two or more contacts in {} that no earlier log holds"
USUAL = "No earlier log or count tells a rate: the usual one in SSB is taken."


@pytest.mark.parametrize(
    ("entry", "log", "notes"),
    [
        ("{log: june.adi, mode: CW}", RUN, (
            NOTHING.format("june.adi", "CW"), "june.adi: 3 records left out that are not in CW", USUAL)),
        ("{log: june.adi}", record("1800"), (
            NOTHING.format("june.adi", "SSB"),
            "june.adi: 1 contact left out that tell no time (alone, or all begun in one minute)", USUAL)),
    ],
)  # fmt: skip
def test_where_no_log_tells_a_rate_the_usual_one_is_taken_and_it_is_said(
    rate: Callable[..., Any], entry: str, log: str, notes: tuple[str, ...]
) -> None:
    found = rate(log, entry)
    assert (found.value["per_h"], found.value["basis"]) == (20, "common practice, no source")
    assert found.notes == notes
    assert [one["file"] for one in found.detail["logs"]] == ["june.adi"]


def test_a_log_that_an_earlier_one_holds_counts_nothing(rate: Callable[..., Any], tmp_path: Path) -> None:
    (tmp_path / "small.adi").write_text(record("1810") + record("1820", call="Q1TEST"))
    found = rate(RUN, "{log: june.adi}, {log: small.adi}, {log: june.adi}")
    assert found.value["basis"] == "own counts: 3 contacts in 30 min of 1 outing; Jeffreys prior"
    assert found.notes[1:] == (
        NOTHING.format("small.adi", "SSB"),
        "small.adi: 2 records left out that stood there, or in a log before, already",
        NOTHING.format("june.adi", "SSB"),
        "june.adi: 3 records left out that stood there, or in a log before, already",
    )
    assert [one["file"] for one in found.detail["logs"]] == ["june.adi", "small.adi", "june.adi"]


def test_without_a_mode_the_logs_that_tell_nothing_are_named(tmp_path: Path, world_of: Callable[..., Any]) -> None:
    (tmp_path / "june.adi").write_text(record("1800"))
    bare = 'on_air: ["15:30", "20:30"], zone: America/Los_Angeles'
    world = world_of("program.minimum_contacts: 10", "contacts: {earlier: [{log: june.adi}]}\n", schedule=bare)
    reason = world.value("trip", "contacts.rate").reason
    assert (reason.text, reason.settle) == (
        "june.adi counts nothing: it has no run of two or more contacts that no earlier log holds, and no mode is "
        "stated",
        "schedule.mode",
    )


def on(date: str, time: str, mode: str = "SSB") -> str:
    return record(time, mode).replace("20260601", date)


def test_what_is_later_than_the_outing_is_no_earlier_contact(rate: Callable[..., Any]) -> None:
    # The plan is of 27 June 2026.
    found = rate(RUN + on("20260627", "2000") + on("20260628", "0100") + on("20270612", "1800"))
    assert found.value["basis"] == "own counts: 3 contacts in 30 min of 1 outing; Jeffreys prior"
    assert "june.adi: 2 records left out that are later than the day of the outing, 2026-06-27" in found.notes
    all_later = rate(on("20270612", "1800") + on("20270612", "1810"))
    assert all_later.notes == (
        NOTHING.format("june.adi", "SSB"),
        "june.adi: 2 records left out that are later than the day of the outing, 2026-06-27",
        USUAL,
    )
    assert "june.adi: 1 record left out that is later than the day of the outing, 2026-06-27" in rate(
        RUN + on("20270612", "1800")
    ).notes  # fmt: skip


def test_rtty_and_digital_are_modes_of_a_log(rate: Callable[..., Any]) -> None:
    log = "".join(record(f"18{minute:02}", mode) for mode in ("RTTY", "FT8") for minute in (0, 5, 10))
    rtty = rate(log, "{log: june.adi, mode: rtty}")
    assert rtty.notes[0].startswith("june.adi: 3 contacts in 1 run, 15 min in RTTY. Starts")
    digital = rate(log, "{log: june.adi, mode: DIGITAL}")
    assert digital.notes[0].startswith("june.adi: 3 contacts in 1 run, 15 min in digital (FT8, FT4, JS8). Starts")
    assert digital.notes[1] == "june.adi: 3 records left out that are not in digital (FT8, FT4, JS8)"


def test_lengths_in_bytes_and_latin_1_are_said(rate: Callable[..., Any]) -> None:
    name = "<NAME:5>J\u00f6rg"
    assert rate(name + RUN).notes[-1] == "june.adi: 1 length counted in bytes; the standard has characters"
    latin = rate(("<NAME:4>J\u00f6rg" + RUN).encode("latin-1"))
    assert latin.notes[-1] == "june.adi: is not UTF-8 and was read as Latin-1"


@pytest.mark.parametrize(
    ("log", "message"),
    [
        (
            RUN + "<CALL:x>",
            "june.adi:4:1: this is no tag of an ADI file\n"
            "    | <CALL:x>\n"
            "    = A tag is <NAME:LENGTH>, such as <MODE:3>, or <EOR>.",
        ),
        (
            "<TIME_ON:4>1800<EOR>",
            "june.adi:1:1: the record has no QSO_DATE\n"
            "    | <TIME_ON:4>1800<EOR>\n"
            "    = Add it, such as <QSO_DATE:8>20260627, or remove the record.",
        ),
        (
            "<QSO_DATE:8>20260601<EOR>",
            "june.adi:1:1: the record has no TIME_ON\n"
            "    | <QSO_DATE:8>20260601<EOR>\n"
            "    = Add it, such as <TIME_ON:4>1830, or remove the record.",
        ),
        (
            RUN + record("2460"),
            'june.adi:4:35: TIME_ON "2460" is no time of day\n'
            "    | <CALL:6>Q0TEST<QSO_DATE:8>20260601<TIME_ON:4>2460<MODE:3>SSB<EOR>\n"
            "    = Write hours and minutes in UTC: 1830.",
        ),
        (
            "<QSO_DATE:8>20260231<TIME_ON:4>1800<EOR>",
            'june.adi:1:1: QSO_DATE "20260231" is no date\n'
            "    | <QSO_DATE:8>20260231<TIME_ON:4>1800<EOR>\n"
            "    = Write year, month and day: 20260627.",
        ),
        (HEAD, "june.adi:1:1: the log holds no record\n    = Name a log with contacts, or remove the entry."),
        (
            RUN + "<CALL:9>Q0T",
            "june.adi:4:1: the file ends in the middle of a record: of CALL 9 characters are due, 3 are there\n"
            "    | <CALL:9>Q0T\n"
            "    = Delete the record that is not whole, or copy the file again.",
        ),
        (
            RUN + "<CALL:9",
            "june.adi:4:1: the file ends in the middle of a record, within the tag that begins here\n"
            "    | <CALL:9\n"
            "    = Delete the record that is not whole, or copy the file again.",
        ),
        (
            None,
            "trip.yaml:5:28: there is no file june.adi\n"
            "    | contacts: {earlier: [{log: june.adi}]}\n"
            "    = Check the name and the folder.",
        ),
    ],
)
def test_what_is_broken_is_refused(rate: Callable[..., Any], log: str | None, message: str) -> None:
    with pytest.raises(InputError) as refused:
        rate(log)
    assert refused.value.text() == message


ONE = "<CALL:6>Q0TEST<QSO_DATE:8>20260601"


@pytest.mark.parametrize(
    ("log", "place", "what", "advice"),
    [
        ("a header\n" + RUN, "1:1", "the header has no <EOH>", "Begin with a tag, or end the header with <EOH>."),
        (RUN + ONE + "<TIME_ON:4>1830", "4:1", "the file ends in the middle of the record that begins here",
         "Delete the record that is not whole, or copy the file again."),
        (RUN + ONE + "<", "4:35", "the file ends in the middle of a record, within the tag that begins here",
         "Delete the record that is not whole, or copy the file again."),
        (ONE + "<TIME_ON:4>1800<CALL:6>Q1TEST<EOR>", "1:50", "CALL stands twice in one record",
         "Remove one, or add the missing <EOR>."),
        (ONE + "<TIME_ON:40>1830<EOR>", "1:35", "the length of TIME_ON reaches past an <EOR>",
         "Mend the length, or export the file again."),
        (ONE + "<TIME_ON:4>183055<EOR>", "1:35", "the length of TIME_ON, 4, does not lead to the next tag",
         "Mend the length, or export the file again."),
        (ONE + "<TIME_ON:4>1800<QSO_DATE_OFF:8>20260531<TIME_OFF:4>1900<EOR>", "1:74",
         "the contact ends before it begins", "Mend the times, or remove the end."),
    ],
)  # fmt: skip
def test_a_broken_log_is_refused_at_its_place(
    rate: Callable[..., Any], log: str, place: str, what: str, advice: str
) -> None:
    with pytest.raises(InputError) as refused:
        rate(log)
    line = log.splitlines()[int(place.split(":")[0]) - 1]
    assert refused.value.text() == f"june.adi:{place}: {what}\n    | {line}\n    = {advice}"


@pytest.mark.parametrize(
    ("entry", "column", "what", "advice"),
    [
        ("{log: june.adi, contacts: 3, time: 1 h}", 22, "this entry has a log and a count of its own",
         "Write two entries."),
        ("{log: june.adi, mode: SBB}", 44, 'the mode "SBB" is not known', 'Did you mean "USB"?'),
        ("{log: june.txt}", 28, '"june.txt" is not named as an ADI file', "Export the log as ADIF with tags (.adi)."),
    ],
)  # fmt: skip
def test_an_entry_that_does_not_say_what_it_means_is_refused(
    rate: Callable[..., Any], entry: str, column: int, what: str, advice: str
) -> None:
    with pytest.raises(InputError) as refused:
        rate(RUN, entry)
    said = f"trip.yaml:5:{column}: {what}\n    | contacts: {{earlier: [{entry}]}}\n    = {advice}"
    assert refused.value.text() == said


def test_a_log_that_is_too_large_is_refused(rate: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("afield.plugins.contacts.earlier_logs.MOST_BYTES", 10)
    with pytest.raises(InputError, match=r"june\.adi is larger than 0 MiB"):
        rate(RUN)


def ended(start: str, off: str, off_date: str = "", date: str = "20260601") -> str:
    day = f"<QSO_DATE_OFF:8>{off_date}" if off_date else ""
    return f"<QSO_DATE:8>{date}<TIME_ON:4>{start}<MODE:3>SSB{day}<TIME_OFF:4>{off}<EOR>\n"


@pytest.mark.parametrize(
    ("log", "hours"),
    [
        # Two starts 15 min apart over midnight; the last ends 5 min after its start: 20 min and one gap of 15 more.
        (ended("2350", "2355") + ended("0005", "0010", date="20260602"), "35 min"),
        (ended("2350", "0002") + ended("0005", "0010", date="20260602"), "35 min"),
        (ended("2350", "0002", "20260602") + ended("0005", "0010", date="20260602"), "35 min"),
        # An end an hour after its start says when the log was closed, not how long the contact took.
        (ended("1800", "1802") + ended("1815", "1915"), "30 min"),
    ],
)
def test_ends_and_midnight(rate: Callable[..., Any], log: str, hours: str) -> None:
    assert rate(log).notes[0].startswith(f"june.adi: 2 contacts in 1 run, {hours} in SSB.")


def test_contacts_that_tell_no_time_are_counted_and_what_that_does_is_said(rate: Callable[..., Any]) -> None:
    assert rate(RUN + record("2100")).notes[1] == (
        "june.adi: 1 contact left out that tell no time (alone, or all begun in one minute); the rate comes out the "
        "higher for it"
    )
