from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

from afield.core.briefing import briefing_html, briefing_text
from afield.core.host.hookspecs import Section

Report = dict[str, Any]


def joined(text: str) -> str:
    return " ".join(text.split())


def test_the_text_begins_with_trip_position_and_outcomes(report: Report, sections: list[Section]) -> None:
    assert briefing_text(report, sections).startswith(
        "Cinder Wash, Saturday evening\n"
        "2026-06-27\n"
        "39.90412, -117.30288 (WGS 84), within 8.1 m (26.5 ft) (95 %), grid locator\n"
        "DM19iv\n"
        "[CANNOT TELL] Cinder Crossing stretch, Freight Road: cannot tell\n"
        "[PASSED] Juniper Basin, Basin Preserves: counts\n"
        "[FAILED] Saltgrass Meadow, Basin Preserves: does not count\n"
    )


def test_the_first_thing_to_settle_has_its_readings_and_a_blank(report: Report, sections: list[Section]) -> None:
    text = briefing_text(report, sections)
    assert (
        "Settle at the position\n"
        "----------------------\n"
        "[ ] Cinder Crossing stretch, Freight Road: The whole station stays inside the\n"
        "    road's corridor\n"
        "    Measure the distance of the farthest part from the line with a tape\n"
        "    measure; the limit is 80 ft (24.4 m). The tape measure is taken as good to\n"
        "    ± 0.1 m (95 %).\n"
        "    Counts if it reads 24.28 m (79.6 ft) or less\n"
        "    Fails if it reads 24.49 m (80.4 ft) or more\n"
        "    Reading: ______________\n" in text
    )


def test_every_settle_line_and_checklist_item_is_there(report: Report, sections: list[Section]) -> None:
    text = joined(briefing_text(report, sections))
    settles = [verdict["settle"] for verdict in report["verdicts"] if verdict["settle"] and verdict["kind"] == "judge"]
    lines = [settle[key] for settle in settles for key in ("words", "counts_if", "fails_if") if settle[key]]
    lines += [verdict["confirm"] for verdict in report["verdicts"] if verdict["kind"] == "confirm"]
    assert len(lines) == 19
    assert [line for line in lines if line not in text] == []


def test_the_sections_stand_in_their_order(report: Report, sections: list[Section]) -> None:
    lines = briefing_text(report, sections).splitlines()
    heads = [
        "Settle at the position",
        "Not met",
        "Open until the plan says more",
        "Warnings",
        "Map",
        "Coordinates",
        "Checklist",
        "Not computed: cautions",
        "Assumptions",
        "Sources",
        "Made from",
    ]
    found = [line for line, below in pairwise(lines) if line in heads and below == "-" * len(line)]
    assert found == heads


def test_no_line_is_wider_than_a_page(report: Report, sections: list[Section]) -> None:
    lines = [line for line in briefing_text(report, sections).splitlines() if len(line) > 78]
    assert all("sha256" in line for line in lines)


def test_a_section_without_a_text_is_named(report: Report) -> None:
    text = briefing_text(report, [])
    assert "Map\n---\nNo installed plugin draws the section map. Its data is in report.json.\n" in text


def test_a_section_that_fails_is_named(report: Report, sections: list[Section]) -> None:
    report["sections"][1]["data"] = {"headline": "here"}
    text = joined(briefing_text(report, sections))
    assert "afield.plugins.geometry could not draw the section coordinates: KeyError: 'rows'." in text


def test_a_report_without_sections_or_verdicts(report: Report) -> None:
    emptied = {**report, "verdicts": [], "claims": [], "sections": [], "assumptions": [], "sources": [], "warnings": []}
    emptied["summary"] = {**report["summary"], "beside_claims": []}
    assert briefing_text(emptied, []).splitlines()[2:4] == ["", "Made from"]


def test_what_is_not_met_is_a_box_with_what_to_do(report: Report, sections: list[Section]) -> None:
    text = briefing_text(report, sections)
    told = "[ ] Move the wire 15.3 m (50 ft) to the south, or turn it to run along the\n"
    assert f"{told}    road. Saltgrass Meadow, Basin Preserves: " in text


def test_a_variant_stands_in_the_header(report: Report, sections: list[Section]) -> None:
    report["run"]["variant"] = "with-amplifier"
    assert briefing_text(report, sections).splitlines()[1] == "2026-06-27 (variant with-amplifier)"


def test_an_assumption_of_facts_names_them(report: Report, sections: list[Section]) -> None:
    report["assumptions"] = [
        {"text": "All is flat.", "rules": [], "facts": ["part.outline of part:a", "part.outline of part:b"]},
        {"text": "All is dry.", "rules": ["road/stay"], "facts": ["station.at of trip"]},
    ]
    assert "- All is flat. (part.outline)\n- All is dry. (road/stay)\n" in briefing_text(report, sections)
    page = briefing_html(report, sections)
    assert '<li>All is flat. <span class="aside">part.outline</span></li>' in page


def test_how_the_pack_says_to_measure_stands_in_the_box(report: Report, sections: list[Section]) -> None:
    first = next(v for v in report["verdicts"] if v["settle"] and v["settle"]["kind"] == "measure")
    first["text"] = "Measure from the tread to the wire."
    box = "    ± 0.1 m (95 %).\n    Measure from the tread to the wire.\n    Counts if"
    assert box in briefing_text(report, sections)
    assert '<p class="do">Measure from the tread to the wire.</p>' in briefing_html(report, sections)


def test_what_fails_beside_the_claims_stands_at_the_top(report: Report) -> None:
    top = briefing_text(report, []).split("Settle at the position")[0]
    assert "[FAILED] Every chain of leads is complete (RF from radio to an antenna)" in top


def test_a_long_line_that_is_set_in_goes_on_under_itself(report: Report, sections: list[Section]) -> None:
    words = " ".join(["word"] * 30)
    drawn = [replace(section, text=lambda data: f"Head\n    {words}") for section in sections]
    lines = briefing_text(report, drawn).splitlines()
    first = lines.index("Head") + 1
    assert [line[:9] for line in lines[first : first + 2]] == ["    word ", "    word "]
