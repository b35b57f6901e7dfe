from __future__ import annotations

import copy
import re
from html import unescape
from html.parser import HTMLParser
from typing import Any

import pytest

from afield.core.briefing import briefing_html, briefing_text
from afield.core.briefing.page import unbroken
from afield.core.host.hookspecs import Section

Report = dict[str, Any]
HOSTILE = '<script>alert(1)</script> {{ 7 * 7 }} {% raw %} " onload="x \' & </style>'
VOID = {"meta", "br", "link", "img", "input", "hr"}


class Balance(HTMLParser):
    """Collects the elements, and what is closed without having been opened."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.names: list[str] = []
        self.wrong: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.names.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.names.append(tag)
        self.attributes += attrs

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)


def parsed(page: str) -> Balance:
    balance = Balance()
    balance.feed(page)
    balance.close()
    return balance


def read(page: str) -> str:
    """The page as a reader reads it: no elements, one space between words."""
    text = re.sub(r"<style>.*?</style>|<[^>]+>", " ", page, flags=re.DOTALL)
    return " ".join(unescape(text).split())


def headings(page: str) -> list[str]:
    return [unescape(found) for found in re.findall(r"<h2>(.*?)</h2>", page)]


def test_the_order_of_the_page(page: str) -> None:
    assert headings(page) == [
        "Settle at the position",
        "Not met",
        "Open until the plan says more",
        "Warnings",
        "Map",
        "Coordinates",
        "Checklist",
        "Not computed: cautions",
        "Every rule, with its figures",
        "Assumptions",
        "Sources",
        "Made from",
    ]


def test_the_title_block_says_trip_day_position_and_each_outcome(page: str) -> None:
    block = read(page[: page.index('id="settle"')])
    assert "Cinder Wash, Saturday evening 2026-06-27" in block
    assert "39.90412, -117.30288 (WGS 84), within 8.1 m (26.5 ft) (95 %), grid locator DM19iv" in block
    assert "cannot tell Cinder Crossing stretch, Freight Road" in block
    assert "passed Juniper Basin, Basin Preserves counts" in block
    assert "failed Saltgrass Meadow, Basin Preserves does not count" in block


def test_every_settle_line_is_there(report: Report, page: str) -> None:
    text = read(page)
    settles = [verdict["settle"] for verdict in report["verdicts"] if verdict["settle"] and verdict["kind"] == "judge"]
    lines = [settle[key] for settle in settles for key in ("words", "counts_if", "fails_if") if settle[key]]
    assert len(lines) == 5
    assert [line for line in lines if line not in text] == []


def test_an_open_verdict_that_nothing_settles_is_named_with_its_reason(page: str) -> None:
    assert (
        "With nothing known that would settle it Cinder Wash, Saturday evening: The battery lasts until the end: "
        "The plugin power (afield 0.1.0) failed while it worked out kit.energy." in read(page)
    )


def test_each_verdict_on_a_claim_has_its_figures_reason_text_and_grade(page: str) -> None:
    text = read(page)
    assert (
        "failed The whole station is inside the preserve -15.3 m ± 8.1 m (95 %) (-50 ft), due above 0 m (0 ft): "
        "15.3 m (50 ft) short, ± 8.1 m (95 %) Move the wire 15.3 m (50 ft) to the south" in text
    )
    assert "A preserve counts from within. Basin Preserves Award rules, 2.1 (invented, last checked" in text


def test_the_margin_of_what_cannot_be_told_is_named_as_such(report: Report, sections: list[Section]) -> None:
    open_one = next(claim for claim in report["claims"] if claim["outcome"] == "cannot tell")
    open_one["worst_margin"] = "10 ft ± 23 ft (95 %)"
    page = briefing_html(report, sections)
    assert "margin 10 ft ± 23 ft (95 %)" in read(page[: page.index("<main>")])


def test_what_is_not_met_stands_in_front_with_what_to_do_the_required_first(report: Report, page: str) -> None:
    part = page[page.index('id="not-met"') : page.index('id="open"')]
    assert read(part[part.index("<h2>") :]).startswith(
        "Not met Move the wire 15.3 m (50 ft) to the south, or turn it to run along the road. Saltgrass Meadow, Basin "
        "Preserves: The whole station is inside the preserve 15.3 m (50 ft) short, ± 8.1 m (95 %)"
    )


def test_what_is_advised_stands_behind_what_is_required(report: Report, sections: list[Section]) -> None:
    missed = next(v for v in report["verdicts"] if v["outcome"] == "failed" and v["kind"] == "judge")
    report["verdicts"].insert(0, {**missed, "severity": "advised", "rule": "gear/other", "title": "A spare is there"})
    page = briefing_html(report, sections)
    part = page[page.index('id="not-met"') : page.index('id="open"')]
    assert part.count('aria-label="to do"') == 2
    assert part.index("inside the preserve") < part.index("A spare is there") < part.index(">advised</span>")


def test_the_sections_of_one_document_are_one_source(report: Report, sections: list[Section]) -> None:
    entry = {**report["sources"][0], "document": "House rules", "edition": "first"}
    report["sources"] = [{**entry, "section": section} for section in ("1.2", "3.4")]
    page = briefing_html(report, sections)
    assert "House rules, first: 1.2; 3.4" in read(page[page.index('id="sources"') :])


def test_each_outcome_has_its_word_and_its_own_shape(page: str) -> None:
    marks = dict(re.findall(r'<span class="outcome">(<svg.*?</svg>)<span class="word">(.*?)</span>', page, re.DOTALL))
    shapes: dict[str, set[str]] = {}
    for drawing, word in marks.items():
        shapes.setdefault(word, set()).add(drawing)
    assert set(shapes) == {"passed", "failed", "cannot tell", "not applicable"}
    assert {len(drawings) for drawings in shapes.values()} == {1}
    assert len(set.union(*shapes.values())) == 4


def test_the_checklist_is_grouped_by_when_with_a_box_for_each_item(page: str) -> None:
    part = page[page.index('id="checklist"') : page.index('id="section-cautions"')]
    assert re.findall(r"<h3>(.*?)</h3>", part) == ["Home", "Pack", "Travel", "Arrive", "Set up", "Operate", "Leave"]
    assert (part.count('aria-label="to do"'), part.count('aria-label="done"')) == (13, 1)
    assert "Bring: a photograph of the marker" in read(part)


def test_the_footer_allows_to_reproduce_the_page(report: Report, page: str) -> None:
    footer = read(page[page.index("<footer>") :])
    assert "Engine 0.1.0. Judged as of 2026-06-20." in footer
    assert report["run"]["plan"]["sha256"] in footer
    assert "Pack freight-road 1.2.0" in footer
    assert "geometry (afield 0.1.0), outing (afield 0.1.0)" in footer


def test_every_element_is_closed(page: str) -> None:
    balance = parsed(page)
    assert (balance.wrong, balance.open) == ([], [])


def test_the_page_fetches_nothing_and_runs_nothing(page: str) -> None:
    balance = parsed(page)
    assert {"script", "link", "img", "iframe", "object"}.isdisjoint(balance.names)
    assert [name for name, _ in balance.attributes if name.startswith("on") or name in ("src", "href")] == []
    assert set(re.findall(r"https?://[^\"' <]+", page)) <= {"http://www.w3.org/2000/svg"}
    assert set(re.findall(r"url\(([^)]*)\)", page)) == {
        "#map-frame",
        "#overview-frame",
        *(f"#{name}-hatch-{index}" for name in ("map", "overview") for index in (0, 1)),
        *(f"#key-hatch-{index}" for index in (0, 1)),
    }


def test_no_identifier_is_used_twice(page: str) -> None:
    names = [value for name, value in parsed(page).attributes if name == "id"]
    assert len(names) == len(set(names))


def with_hostile_texts(value: Any, key: str = "") -> Any:
    """The report with the hostile text put before every title, word, reason and name."""
    if isinstance(value, dict):
        return {name: with_hostile_texts(entry, name) for name, entry in value.items()}
    if isinstance(value, list):
        return [with_hostile_texts(entry, key) for entry in value]
    kept = ("outcome", "kind", "when", "subject", "key", "rule", "shape", "severity", "schema", "name", "fact")
    return f"{HOSTILE} {value}" if isinstance(value, str) and key not in kept else value


def test_hostile_text_stays_text(report: Report, sections: list[Section]) -> None:
    hostile = with_hostile_texts(report)
    for part in next(section for section in hostile["sections"] if section["name"] == "map")["data"]["parts"]:
        part["name"] = HOSTILE
    page = briefing_html(hostile, sections)
    balance = parsed(page)
    assert "script" not in balance.names
    assert [name for name, _ in balance.attributes if name.startswith("on")] == []
    assert (balance.wrong, balance.open) == ([], [])
    assert "{{ 7 * 7 }}" in page
    assert "<script>" not in page


def test_a_report_without_sections(report: Report, sections: list[Section]) -> None:
    report["sections"] = []
    page = briefing_html(report, sections)
    assert {"Map", "Coordinates", "Not computed: cautions"}.isdisjoint(headings(page))
    assert headings(page)[:3] == ["Settle at the position", "Not met", "Open until the plan says more"]


def test_a_section_that_nobody_draws_is_named(report: Report) -> None:
    text = read(briefing_html(report, []))
    assert "No installed plugin draws the section map. Its data is in report.json." in text


def test_a_section_that_fails_is_named_and_the_rest_stands(report: Report, sections: list[Section]) -> None:
    report["sections"][0]["data"] = {}
    text = read(briefing_html(report, sections))
    assert (
        "afield.plugins.geometry could not draw the section map: KeyError: 'close'. Its data is in report.json." in text
    )
    assert "Decimal degrees 39.90412, -117.30288" in text


def test_an_empty_report_still_makes_a_page(report: Report, sections: list[Section]) -> None:
    emptied = {**report, "verdicts": [], "claims": [], "sections": [], "assumptions": [], "sources": [], "warnings": []}
    page = briefing_html(emptied, sections)
    assert headings(page) == ["Every rule, with its figures", "Made from"]
    assert "No rule was judged." in page


@pytest.mark.parametrize("word", ["safe", "safely", "guaranteed"])
def test_the_page_never_claims_what_it_cannot(page: str, word: str) -> None:
    assert re.search(rf"\b{word}\b", read(page), re.IGNORECASE) is None


def test_the_same_report_gives_the_same_page(report: Report, sections: list[Section]) -> None:
    before = copy.deepcopy(report)
    assert briefing_html(report, sections) == briefing_html(report, sections)
    assert report == before


@pytest.mark.parametrize(
    ("printed", "tied"),
    [
        ("72 ft ± 24 ft (95 %)", "72_ft ±_24_ft (95_%)"),
        ("at most 80 ft (24.4 m)", "at most 80_ft (24.4_m)"),
        ("14.0 °C", "14.0_°C"),
        ("970 544 m² of it", "970_544_m² of it"),
        ("11S 474110 4417159", "11S 474110 4417159"),
        ("3", "3"),
        ("", ""),
    ],
)
def test_a_number_keeps_its_unit_at_the_end_of_a_line(printed: str, tied: str) -> None:
    assert unbroken(printed).replace("\u00a0", "_") == tied


def test_a_plan_without_claims_has_a_page_too(report: Report) -> None:
    bare = {**report, "claims": [], "together": None}
    assert "Trip briefing" in briefing_html(bare, [])
    assert str(report["trip"]["title"]) in briefing_text(bare, [])


def test_a_verdict_on_something_within_the_trip_names_it(report: Report) -> None:
    judged = next(verdict for verdict in report["verdicts"] if verdict["kind"] == "judge")
    inner = {
        "key": "lead:red",
        "kind": "lead",
        "label": "red lead",
        "parents": {"trip": "trip"},
        "dates": [],
        "place": None,
    }
    whole = {
        **report,
        "subjects": [*report["subjects"], inner],
        "verdicts": [
            {**judged, "subject": "lead:red", "program": None, "title": "The lead is whole", "severity": "required"}
        ],
    }
    assert "The lead is whole (red lead)" in unescape(re.sub(r"\s*<[^>]+>\s*", " ", briefing_html(whole, []))).replace(
        "  ", " "
    )
    assert "The lead is whole (red lead)" in briefing_text(whole, [])


def test_a_claim_without_a_title_is_called_by_its_reference(report: Report) -> None:
    claims = [{**claim, "title": None, "label": "freight-road / own-track"} for claim in report["claims"][:1]]
    whole = {**report, "claims": claims, "together": None}
    assert f"own-track, {claims[0]['program_title']}" in briefing_text(whole, [])


def test_rules_that_found_nothing_of_their_kind_stand_in_one_line(report: Report, sections: list[Section]) -> None:
    trips = [verdict for verdict in report["verdicts"] if verdict["subject"] == "trip" and verdict["kind"] == "judge"]
    report["rules"] = [*report["rules"], {"key": trips[0]["rule"], "for_each": "item"}]
    trips[0].update(
        outcome="not applicable", measured=None, margin=None, settle=None, reason=None, title="No thing here"
    )
    page = read(briefing_html(report, sections))
    assert "not applicable To anything here: No thing here" in page


def test_what_is_waived_is_not_to_be_settled(report: Report, sections: list[Section]) -> None:
    open_ones = [v for v in report["verdicts"] if v["outcome"] == "cannot tell" and v["kind"] == "judge"]
    for verdict in open_ones:
        verdict["waived"] = {"words": "Waived until 2026-12-31 by the club secretary: as said."}
    page = briefing_html(report, sections)
    assert open_ones
    assert {"Settle at the position", "Open until the plan says more"}.isdisjoint(headings(page))
    assert read(page).count("Waived until 2026-12-31") == len(open_ones)
