"""What the plugin says in German; what is data stays as it is."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from afield.core.language import _, day_in_words, in_context, missing, speaking
from afield.plugins.timing.section import timeline_text
from afield.plugins.timing.timeline_figure import timeline_figure
from afield.plugins.timing.timeline_marks import GATES, SKY
from afield.plugins.timing.timeline_outing import DRAWN
from afield.plugins.timing.timeline_words import LABEL

EVENING = (
    'zone: America/Los_Angeles, arrive: "14:45", on_air: ["15:30", "20:30"], set_up: 30 min, pack_up: 30 min, '
    'leave: "21:15"'
)
TEXT = """\
Ortszeit  UTC                was
14:35     21:35Z             Hinweg zu Fuß
14:45     21:45Z             Ankunft, Aufbau
15:30     22:30Z             auf Sendung bis 20:30
17:00     00:00Z (28. Juni)  00:00 UTC: der 28. Juni beginnt
20:22     03:22Z (28. Juni)  Sonnenuntergang
20:30     03:30Z (28. Juni)  Abbau
20:44     03:44Z (28. Juni)  spätestens umkehren, um bei Licht zu gehen
20:55     03:55Z (28. Juni)  Ende der bürgerlichen Dämmerung
21:15     04:15Z (28. Juni)  Aufbruch, Rückweg zu Fuß
21:25     04:25Z (28. Juni)  Ende Fußweg
Der Aufbau endet 5 h 40 min vor dem Ende der bürgerlichen Dämmerung.
Der Abbau endet 5 min nach dem Ende der bürgerlichen Dämmerung.
Der Rückweg zu Fuß endet 30 min nach dem Ende der bürgerlichen Dämmerung.
"""


@pytest.fixture
def data(outing_of: Any, german: None) -> Any:
    return outing_of.section(outing_of.plan("desert", "2026-06-27", EVENING, "travel: {walk: 10 min}"))


def test_the_timeline(data: Any) -> None:
    assert timeline_text(data).startswith(TEXT)
    assert data["headline"] == (
        "Auf Sendung 15:30 bis 20:30 Ortszeit, 22:30Z bis 03:30Z (28. Juni); 00:00 UTC ist um 17:00 Ortszeit."
    )


def test_the_drawing_has_its_heads_and_labels(data: Any) -> None:
    figure = timeline_figure(data)
    assert 'aria-label="Zeitplan in Ortszeit und UTC"' in figure
    assert all(f">{word}</text>" in figure for word in ("Ort", "UTC", "Licht", "Plan", "27. Juni", "20:22 Sonne unter"))


def test_a_calendar_in_another_language_replaces_the_same_events(outing_of: Any, data: Any) -> None:
    with speaking("en"):
        english = outing_of.section(outing_of.plan("desert", "2026-06-27", EVENING, "travel: {walk: 10 min}"))
    assert [event["key"] for event in data["calendar"]] == [event["key"] for event in english["calendar"]]
    assert [event["summary"] for event in data["calendar"]] == [
        "An outing: Ankunft", "An outing: auf Sendung", "An outing: 00:00 UTC, der 28. Juni beginnt",
        "An outing: spätestens umkehren, um bei Licht zu gehen", "An outing: Aufbruch",
    ]  # fmt: skip
    assert data["calendar"][1]["description"] == (
        "15:30 bis 20:30 Ortszeit in America/Los_Angeles, 22:30Z bis 03:30Z (28. Juni)."
    )


def test_kinds_and_phases_are_data(outing_of: Any, data: Any) -> None:
    with speaking("en"):
        english = outing_of.section(outing_of.plan("desert", "2026-06-27", EVENING, "travel: {walk: 10 min}"))
    for key in ("phases", "stages"):
        assert data[key] == english[key]
    assert [mark["kind"] for mark in data["marks"]] == [mark["kind"] for mark in english["marks"]]


def test_a_slot_keeps_its_name(outing_of: Any, german: None) -> None:
    slots = ', slots: [{name: leave, from: "15:30", to: "17:00"}, {name: on the air, from: "18:00", to: "20:30"}]'
    data = outing_of.section(outing_of.plan("desert", "2026-06-27", EVENING + slots))
    words = [row["words"] for row in data["rows"] if row["kind"] == "plan"]
    assert words == [
        "Ankunft, Aufbau", "leave bis 17:00", "leave endet", "on the air bis 20:30", "Abbau, on the air endet",
        "Aufbruch",
    ]  # fmt: skip


def test_a_passage_through_a_repeated_hour(outing_of: Any, german: None) -> None:
    times = 'zone: Europe/Berlin, repeated_hour: second, arrive: "21:45", on_air: ["22:30", "02:30"], leave: "03:15"'
    data = outing_of.section(outing_of.plan("berlin", "2026-10-24", times))
    rows = {row["words"]: row["local"] for row in data["rows"]}
    assert rows["die Uhren werden um 1 h zurückgestellt"] == "02:00 (zweites Mal, 25. Oktober)"
    assert rows["nach Ortszeit beginnt der 25. Oktober"] == "00:00 (25. Oktober)"
    assert (
        data["zone"]
        == "Die Ortszeit ist die von Europe/Berlin (UTC+02:00, dann UTC+01:00), nach tzdata "
        + (data["zone"].split("tzdata ")[1])
    )


def test_a_doubted_zone_has_a_decimal_comma_and_the_times_cannot_be_told_at_sea(outing_of: Any, german: None) -> None:
    times = 'arrive: "12:45", on_air: ["13:30", "14:30"], leave: "15:15"'
    doubted = outing_of.section(outing_of.plan("berlin", "2026-09-19", f"zone: America/Denver, {times}"))
    assert "der Ort liegt auf 13,4 Grad Ost, wo die Sonnenzeit UTC+00:54 ist: 6 h 54 min Unterschied" in (
        timeline_text(doubted)
    )
    at_sea = outing_of.section(outing_of.plan("ocean", "2026-09-19", times))
    assert at_sea["trouble"] == (
        "Nicht entscheidbar: die Position liegt auf See, wo keine Zeitzone eines Landes gilt. `schedule.zone` angeben."
    )


def test_a_reason_keeps_its_code_and_what_settles_it(outing_of: Any, german: None) -> None:
    facts = outing_of.facts(outing_of.plan("berlin", "2026-06-27", 'zone: Europe/Berlin, arrive: "12:00"'))
    assert facts.reason("schedule.minutes_there") == (
        "missing input", "der Aufbruch ist nicht angegeben", "schedule.leave",
    )  # fmt: skip


def test_every_label_of_its_own_has_room_beside_the_drawing(german: None) -> None:
    labels = [
        *map(in_context, DRAWN.values()),
        *(in_context(label) for _words, label in SKY.values()),
        *map(_, GATES.values()),
    ]
    for shift in range(366):
        day = day_in_words(date(2028, 1, 1) + timedelta(days=shift), short=True)
        labels.append(in_context("drawing|{day}, local").format(day=day))
        assert len(f"00:00 UTC, {day}") <= LABEL
    assert [label for label in labels if len(f"00:00 {label}") > LABEL] == []
    assert missing() == frozenset()
