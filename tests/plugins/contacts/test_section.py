"""The section on contacts: its words, its drawing, and what it says where nothing can be told."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.contacts.chances_figure import chances_figure
from afield.plugins.contacts.due import Need, headline, tally
from afield.plugins.contacts.found import PROGRAM
from afield.plugins.contacts.plain import contacts_text
from afield.plugins.contacts.section import sections
from afield.plugins.contacts.section_data import WANTS, contacts_data
from afield.plugins.contacts.section_words import percent_words

WorldOf = Callable[..., Any]
TWO = "{program: hilltop, reference: one}, {program: hilltop, reference: two}"
BARE = 'arrive: "14:45", on_air: ["15:30", "20:30"], leave: "21:15", zone: America/Los_Angeles'


def data_of(world: Any) -> Any:
    """The section's data, its facts asked as a report asks them."""
    from jsonschema import Draft202012Validator

    from afield.core.report.records import fact_records

    for name in WANTS:
        for subject in [one for one in world.subjects.values() if one.kind == world.facts[name].kind]:
            world.value(subject.key, name)
    facts: dict[str, dict[str, Any]] = {name: {} for name in WANTS}
    for record in fact_records(world):
        if record["fact"] in facts:
            facts[record["fact"]][record["subject"]] = record
    data = contacts_data(facts)
    if data is not None:
        Draft202012Validator(dict(sections()[0].schema)).validate(data)
    return data


def test_a_row_for_each_utc_day_that_is_touched(world_of: WorldOf) -> None:
    program = "program.minimum_contacts: 14, program.period: UTC day, program.counted_for: station call"
    data = data_of(world_of(program))
    (claim,) = data["claims"]
    assert claim["wants"] == "14 contacts in one UTC day, of the station call."
    assert [(row["period"], row["minutes"]) for row in claim["rows"]] == [
        ("27 June UTC", "90 min"), ("28 June UTC", "210 min"),
    ]  # fmt: skip
    assert claim["rows"][1]["chance"] == "94 % (17 % to above 99 %)"
    assert claim["rows"][1]["needed"] == "161 min (17 to 380)"
    assert claim["division"] == (
        "To make it on both UTC days with the same time: 150 min before 00:00 UTC and 150 min after it, with chances "
        "of 89 % and 89 %, of both 79 %. That is on the air, without a pause, from 14:30 to 19:30 local time (21:30Z "
        "to 02:30Z). It does not fit the plan: the arrival is at 14:45 (21:45Z) and the departure is at 21:15 "
        "(04:15Z). All of it in one UTC day would give that day 97 %, and the other no contact."
    )
    assert data["rate"] == "20 contacts an hour are expected, 3 to 70 (95 %); common practice, no source."


def test_over_the_outing_there_is_one_row(world_of: WorldOf) -> None:
    more = ", program.one_contact_counts_for: one reference, program.through_repeaters: false"
    data = data_of(world_of(f"program.minimum_contacts: 17, program.period: outing{more}", claims=TWO))
    (claim,) = data["claims"]
    assert claim["title"] == "hilltop / one, hilltop / two"
    assert [(row["period"], row["minutes"]) for row in claim["rows"]] == [("the outing", "150 min")]
    assert claim["division"] is None
    assert claim["notes"] == ["The time that counts: all time on the air, divided equally among 2 references."]
    assert claim["rules"] == [
        "A contact counts for one reference only.", "A contact through a repeater does not count.",
    ]  # fmt: skip


def test_what_is_left_of_the_year_is_said(world_of: WorldOf) -> None:
    program = "program.minimum_contacts: 23, program.period: calendar year, program.counted_for: operator"
    claims = "{program: hilltop, reference: one, contacts_this_year: 9}, {program: hilltop, reference: two}"
    first, second = data_of(world_of(program, claims=claims))["claims"]
    assert first["wants"] == "23 contacts in the calendar year, of each operator; 14 of them are still wanted."
    assert first["notes"] == []
    assert second["wants"] == "23 contacts in the calendar year, of each operator."
    assert second["notes"] == ["No contacts of earlier outings of this year are stated for the claim: none are taken."]


def test_without_a_minimum_there_is_no_section(world_of: WorldOf) -> None:
    assert data_of(world_of("program.period: outing")) is None


def test_without_a_mode_it_says_what_to_state(world_of: WorldOf) -> None:
    data = data_of(world_of("program.minimum_contacts: 17, program.period: outing", schedule=BARE))
    told = "Cannot tell: neither earlier counts nor the mode is stated. State `schedule.mode`."
    assert (data["rate"], data["trouble"]) == (None, told)
    assert [row["trouble"] for row in data["claims"][0]["rows"]] == [told]
    assert chances_figure(data) == ""
    assert f"  the outing: {told}" in contacts_text(data)


def test_what_is_stated_and_does_not_do_is_to_be_changed(world_of: WorldOf) -> None:
    data = data_of(world_of("program.minimum_contacts: 17, program.period: outing", schedule=f"{BARE}, mode: phone"))
    assert data["trouble"] == (
        "Cannot tell: how many contacts to expect in phone is not known, without own counts (contacts.earlier); known: "
        '"CW", "SSB", "USB", "LSB", "FM", "FT8", "FT4", "JS8", "DIGITAL". Change `schedule.mode`.'
    )
    year = "program.minimum_contacts: 23, program.period: calendar year"
    over = 'on_air: ["10:00", "17:00"], zone: America/Los_Angeles, mode: SSB'
    (row,) = data_of(world_of(year, date="2026-12-31", schedule=over))["claims"][0]["rows"]
    assert row["trouble"] == (
        "Cannot tell: the time on the air lies in 2026 and 2027, by UTC or by the local clock; plan what lies in each "
        "by itself. Change `schedule.on_air`."
    )


def test_what_the_logs_tell_stands_below_the_rate(world_of: WorldOf, tmp_path: Path) -> None:
    times = "".join(f"<QSO_DATE:8>20260601<TIME_ON:4>{time}<MODE:3>SSB<EOR>" for time in (1800, 1810))
    (tmp_path / "june.adi").write_text(times)
    twice = "contacts: {earlier: [{log: june.adi}, {log: june.adi}]}\n"
    data = data_of(world_of("program.minimum_contacts: 14, program.period: outing", twice))
    assert data["rate"].endswith("own counts: 2 contacts in 20 min of 1 outing; Jeffreys prior.")
    assert data["rate_notes"] == [
        "june.adi: 2 contacts in 1 run, 20 min in SSB. Starts at most 30 minutes apart make a run (common practice, no "
        "source); its time takes in one mean gap more.",
        "june.adi counts nothing: it has no run of two or more contacts in SSB that no earlier log holds",
        "june.adi: 2 records left out that stood there, or in a log before, already",
    ]
    assert data["rate_notes"][1] in contacts_text(data)


def test_the_drawing_says_the_chances(world_of: WorldOf) -> None:
    data = data_of(world_of("program.minimum_contacts: 14, program.period: UTC day"))
    drawn = chances_figure(data)
    ElementTree.fromstring(drawn)
    chances = [float(found) for found in re.findall(r'data-chance="([0-9.]+)"', drawn)]
    assert chances == pytest.approx([row["percent"][1] for row in data["claims"][0]["rows"]], abs=0.06)
    assert not re.search(r"#(?!000|fff|c4c4c4)[0-9a-f]{3,6}", drawn)


def test_the_text_has_every_row(world_of: WorldOf) -> None:
    text = contacts_text(data_of(world_of("program.minimum_contacts: 14, program.period: UTC day")))
    assert "  28 June UTC: 210 min that count, chance 94 % (17 % to above 99 %); 161 min (17 to 380) for a" in text
    assert "The log counts." in text


@given(st.floats(0, 100))
def test_no_chance_is_printed_as_certain(percent: float) -> None:
    assert percent_words(percent) not in ("0 %", "100 %")


def test_what_is_due_stands_in_the_title_block_and_has_boxes_for_each_utc_day(world_of: WorldOf) -> None:
    data = data_of(world_of("program.minimum_contacts: 14, program.period: UTC day"))
    assert data["headline"] == "Contacts due: Hilltop 14 in one UTC day"
    assert data["claims"][0]["tally"] == [
        {"label": "To mark, 27 June UTC: 14 contacts.", "groups": [5, 5, 4], "words": None},
        {"label": "To mark, 28 June UTC: 14 contacts.", "groups": [5, 5, 4], "words": None},
    ]
    assert "  To mark, 28 June UTC: 14 contacts.\n    |_|_|_|_|_| |_|_|_|_|_| |_|_|_|_|\n" in contacts_text(data)


def test_a_utc_day_without_time_on_the_air_has_no_boxes(world_of: WorldOf) -> None:
    early = 'arrive: "14:45", on_air: ["15:00", "16:30"], leave: "21:15", zone: America/Los_Angeles, mode: SSB'
    (claim,) = data_of(world_of("program.minimum_contacts: 1, program.period: UTC day", schedule=early))["claims"]
    assert [row["minutes"] for row in claim["rows"]] == ["90 min"]
    assert [line["label"] for line in claim["tally"]] == ["To mark, 27 June UTC: 1 contact."]


def test_references_that_share_no_contact_have_boxes_of_their_own(world_of: WorldOf) -> None:
    outing = "program.minimum_contacts: 6, program.period: outing"
    one = data_of(world_of(f"{outing}, program.one_contact_counts_for: one reference", claims=TWO))
    assert one["headline"] == "Contacts due: Hilltop 6 over the outing, for each of 2 references"
    assert [line["label"] for line in one["claims"][0]["tally"]] == [
        "To mark, one, the outing: 6 contacts.", "To mark, two, the outing: 6 contacts.",
    ]  # fmt: skip
    both = data_of(world_of(f"{outing}, program.one_contact_counts_for: all claimed", claims=TWO))
    assert both["headline"] == "Contacts due: Hilltop 6 over the outing"
    assert [line["label"] for line in both["claims"][0]["tally"]] == ["To mark, the outing: 6 contacts."]


def test_several_operators_have_boxes_each_where_the_minimum_is_an_operator_s(world_of: WorldOf) -> None:
    program, two = "program.minimum_contacts: 6, program.period: outing", "operators: [{name: Ann}, {name: Ben}]\n"
    each = data_of(world_of(f"{program}, program.counted_for: operator", two))
    assert each["headline"] == "Contacts due: Hilltop 6 over the outing, for each operator"
    assert [line["label"] for line in each["claims"][0]["tally"]] == [
        "To mark, Ann, the outing: 6 contacts.", "To mark, Ben, the outing: 6 contacts.",
    ]  # fmt: skip
    shared = data_of(world_of(f"{program}, program.counted_for: party", two))
    assert [line["label"] for line in shared["claims"][0]["tally"]] == ["To mark, the outing: 6 contacts."]


def test_of_a_year_only_what_is_still_wanted_is_due(world_of: WorldOf) -> None:
    year = "program.minimum_contacts: 23, program.period: calendar year"
    claim = "{program: hilltop, reference: one, contacts_this_year: %d}"
    data = data_of(world_of(year, claims=claim % 9))
    assert data["headline"] == "Contacts due: Hilltop 23 in the calendar year, of which 14 are still wanted"
    assert data["claims"][0]["tally"][0]["groups"] == [5, 5, 4]
    done = data_of(world_of(year, claims=claim % 30))
    assert done["headline"].endswith(", of which 0 are still wanted")
    assert done["claims"][0]["tally"] == []
    two = data_of(world_of(year, claims=f"{claim % 9}, {{program: hilltop, reference: two}}"))
    assert two["headline"].endswith("Hilltop 23 in the calendar year, of which 14 to 23 are still wanted")


@pytest.mark.parametrize(("count", "groups"), [(1, [1]), (5, [5]), (30, [5] * 6)])
def test_boxes_stand_in_fives(count: int, groups: list[int]) -> None:
    (line,) = tally(["the outing"], count)
    assert (line["groups"], line["words"]) == (groups, None)


def test_more_than_30_contacts_have_words_in_place_of_boxes(world_of: WorldOf) -> None:
    data = data_of(world_of("program.minimum_contacts: 31, program.period: outing"))
    assert data["claims"][0]["tally"] == [
        {
            "label": "To mark, the outing: 31 contacts.",
            "groups": [],
            "words": "More than 30 boxes would hold: count them in the log.",
        }
    ]
    assert "  To mark, the outing: 31 contacts. More than 30 boxes would hold: count them in the log." in (
        contacts_text(data)
    )


def test_the_page_has_a_blank_box_for_each_contact(world_of: WorldOf) -> None:
    from afield.core.briefing.page import _section_html

    data = data_of(world_of("program.minimum_contacts: 14, program.period: UTC day"))
    assert _section_html(sections()[0], data).count("border: 1.5px solid #000") == 28


def test_programs_that_state_a_minimum_are_named_in_one_line() -> None:
    nothing = dict.fromkeys(PROGRAM)
    road, hills = (Need(name, 14, nothing, 1, []) for name in ("Freight Road", "Lantern Hills"))
    assert headline([road, hills]) == ("Contacts due: Freight Road 14 in one UTC day; Lantern Hills 14 in one UTC day")
