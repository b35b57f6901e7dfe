"""Waivers on the screen, in the briefing, in the comparison and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from afield.core.host.composition import shipped_schema

from .conftest import Run

WAIVERS = """\
waivers:
  - rule: my-road/in-corridor
    of: "claim:my-road/cinder-crossing"
    reason: The road is closed for repair.
    granted_by: award office
    until: 2026-12-31
  - {rule: my-list/papers, reason: They hang in the van., granted_by: club secretary, until: 2027-01-01}
  - {rule: my-list/fuse, reason: The van has some, granted_by: club secretary, until: 2026-06-01}
  - {rule: my-road/company, reason: Both are old hands., granted_by: award office, until: 2026-12-31}
"""
CLOSED = "waived until 2026-12-31 by award office: The road is closed for repair. The award's manager must confirm it."
PAPERS = "waived until 2027-01-01 by club secretary: They hang in the van."
HEADLINE = "counts only by waiver, which the award's manager must confirm"
CHECK = f"""\
Cinder Wash, 2026-06-27

my-road / cinder-crossing (Cinder Crossing): {HEADLINE}
  failed          The whole station stays inside the corridor
                  {CLOSED}
                  156 ft ± 25 ft (95 %; 47 m ± 8 m), due at most 80 ft (24.4 m): 76 ft (24 m) short
                  Move the wire 76 ft (24 m) nearer.
                  note: 0.75 m are taken off: half the width of what the line means.
                  my-road/in-corridor, required; Rules, section 4.2 (invented, last checked 2026-05-02)
  passed          Two operators go together
                  2, due at least 2: exactly at the limit
                  my-road/company, advised; Rules, section 7.1 (invented, last checked 2026-05-02)

my-basin / juniper-basin (Juniper Basin): counts
  passed          The whole station stands inside
                  457 m ± 8 m (95 %; 1501 ft ± 25 ft), due at least 0 m: 457 m (1500 ft) of room
                  note: The pack does not say which roles count: every part does.
                  my-basin/inside, required; Rules, section 2 (invented, last checked 2026-05-02)

1 of 2 claims counts; my-road / cinder-crossing {HEADLINE} (The whole station stays inside the corridor).
failed, waived: The whole station stays inside the corridor (my-road / cinder-crossing, 76 ft (24 m) short): {CLOSED}
cannot tell, waived: The papers are in the bag: {PAPERS}
3 verdicts: 2 passed, 1 failed, 0 cannot tell, 0 not applicable; 1 waived; checklist: 0 of 2 confirmed
  2 checklist items are open; `afield brief` prints them as boxes

warning: trip.yaml:31:5: the waiver of my-list/fuse has ended on 2026-06-01, and does not apply on 2026-06-27; \
have it renewed by club secretary, or keep the rule
note: trip.yaml:32:5: the waiver of my-road/company is not needed: nothing of it failed, or is open
"""


@pytest.fixture
def waived(base: Path) -> Path:
    """The base plan with a wire that is too long, waivers of that and of others."""
    plan = base / "trip.yaml"
    text = plan.read_text(encoding="utf-8").replace("distance: 15 m", "distance: 60 m")
    plan.write_text(text.replace("confirmed: [my-list/papers]\n", "") + WAIVERS, encoding="utf-8")
    return base


def test_check_says_all_of_it_and_ends_well(waived: Path, run: Run) -> None:
    assert run("check", "trip.yaml") == (0, CHECK, "")
    assert run("check", "trip.yaml", "--strict")[0] == 0


def test_without_the_waivers_it_fails(waived: Path, run: Run) -> None:
    plan = waived / "trip.yaml"
    plan.write_text(plan.read_text(encoding="utf-8").replace(WAIVERS, ""), encoding="utf-8")
    status, out, _ = run("check", "trip.yaml")
    assert status == 1
    assert "my-road / cinder-crossing (Cinder Crossing): does not count" in out


def test_why_begins_with_the_waiver_and_where_it_is_written(waived: Path, run: Run) -> None:
    status, out, _ = run("why", "trip.yaml", "in-corridor")
    assert status == 0
    assert out.splitlines()[:3] == [
        "failed: The whole station stays inside the corridor (my-road/in-corridor, for my-road / cinder-crossing)",
        f"├─ {CLOSED}",
        "│  └─ written at trip.yaml:25:5",
    ]


def test_the_report_has_outcome_and_waiver_side_by_side(waived: Path, run: Run) -> None:
    status, out, _ = run("check", "trip.yaml", "--format", "json")
    report = json.loads(out)
    assert (status, report["exit_status"]) == (0, 0)
    found = {verdict["rule"]: verdict for verdict in report["verdicts"]}
    assert found["my-road/in-corridor"]["outcome"] == "failed"
    assert found["my-road/in-corridor"]["waived"] == {
        "reason": "The road is closed for repair.", "granted_by": "award office", "from": None, "until": "2026-12-31",
        "where": "trip.yaml:25:5", "by": None, "confirm": "The award's manager must confirm it.", "words": CLOSED,
    }  # fmt: skip
    assert (found["my-list/papers"]["outcome"], found["my-list/papers"]["waived"]["words"]) == ("cannot tell", PAPERS)
    assert found["my-list/fuse"]["waived"] is found["my-road/company"]["waived"] is None
    assert [(entry["rule"], entry["standing"]) for entry in report["waivers"]] == [
        ("my-road/in-corridor", "applies"), ("my-list/papers", "applies"), ("my-list/fuse", "not in force"),
        ("my-road/company", "not needed"),
    ]  # fmt: skip
    assert [claim["outcome"] for claim in report["claims"]] == ["waived", "passed"]


def test_the_briefing_says_it_on_its_first_page_beside_the_verdict_and_in_a_list(waived: Path, run: Run) -> None:
    assert run("brief", "trip.yaml")[0] == 0
    page = (waived / "briefing" / "briefing.html").read_text(encoding="utf-8").replace("\u00a0", " ")
    title = page[: page.index("</header>")].replace("&#39;", "'")
    assert HEADLINE in title
    assert f"<b>Waived.</b> The papers are in the bag: {PAPERS}" in title
    assert title.count("<b>Waived.</b>") == 2
    text = (waived / "briefing" / "briefing.txt").read_text(encoding="utf-8")
    assert (
        "[WAIVED] Cinder Crossing, My Road: counts only by waiver, which the award's\n    manager must confirm" in text
    )
    assert "[FAILED, WAIVED] The whole station stays inside the corridor (my-road /\n" in text
    assert "[CANNOT TELL, WAIVED] The papers are in the bag: waived until 2027-01-01 by\n" in text
    assert "[ ] Put the licence in the bag. waived until 2027-01-01 by club secretary:\n" in text
    assert (
        "- my-list/fuse: not in force. The van has some. Granted by club secretary, in\n  force until 2026-06-01."
        in text
    )
    whole = page.replace("&#39;", "'")
    assert whole.count(CLOSED) == 2
    assert '<section id="waivers">' in whole


def test_the_comparison_says_it_of_each_side(waived: Path, run: Run) -> None:
    plan = waived / "trip.yaml"
    variant = "  later: {date: 2027-06-28}\n"
    text = plan.read_text(encoding="utf-8").replace("variants:\n", f"variants:\n{variant}")
    plan.write_text(text, encoding="utf-8")
    status, out, err = run("compare", "trip.yaml")
    assert (status, err) == (0, "")
    assert "the plan:\n  every required rule passed, is waived, or does not apply\n" in out
    lack = "my-road / cinder-crossing, 76 ft (24 m) short"
    assert f"  failed, waived: The whole station stays inside the corridor ({lack}): {CLOSED}\n" in out
    assert "later:\n  Cinder Wash, 2027-06-28\n  a required rule failed\n" in out
    assert "next-day:\n" in out
    assert "  waived as with the plan\n" in out
    assert "failed with the plan, failed with later\n" in out
    assert json.loads(run("compare", "trip.yaml", "--format", "json")[1])["sides"][0]["standing"]["waived"] != []


def test_report_and_comparison_fit_their_schemas(waived: Path, run: Run) -> None:
    for arguments, name in ((("check",), "report"), (("compare",), "comparison")):
        out = run(*arguments, "trip.yaml", "--format", "json")[1]
        assert list(Draft202012Validator(shipped_schema(name)).iter_errors(json.loads(out))) == []


def test_a_waived_plan_is_no_other_plan_to_its_schema(waived: Path, run: Run) -> None:
    schema = json.loads(run("schema", "plan")[1])
    entry = schema["properties"]["waivers"]["items"]
    assert entry["required"] == ["rule", "reason", "granted_by", "until"]
    assert set(entry["properties"]) == {"rule", "of", "reason", "granted_by", "from", "until"}
