"""The report and all that is printed from it say whose limit and whose severity a verdict has."""

import json
from datetime import date
from typing import Any

import jsonschema
import pytest

from afield.core.briefing import briefing_html, briefing_text
from afield.core.host.composition import shipped_schema
from afield.core.report.formats.text import report_text
from afield.core.report.formats.why import why_text
from afield.core.report.overrides import override_words
from afield.core.report.rejudging import rejudged

MINUTES = {"document": "Minutes", "section": "7", "grade": "invented", "last_checked": "2026-02-03"}
GAP = {
    "id": "gap", "title": "The ladder fits", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}},
    "if_failed": "Shorten it by {{ short_by }} to {{ limit }}.",
}  # fmt: skip
DAMP = {"id": "dry", "title": "The wall is dry", "require": {"fact": "wall.damp", "is": False}}
FEW = {"id": "few", "title": "Few books", "for_each": "shelf",
       "require": {"fact": "shelf.books", "at_most": {"limit": "few"}}}  # fmt: skip
BOX = {"id": "box", "title": "The box is closed", "confirm": "Close the box.", "when": "pack"}
PLAN = {"wall": {"height": "3 m", "damp": True}, "ladder": {"length": "2.6 m"}, "shelves": [{"name": "a", "books": 4}]}
LIMIT_WORDS = "limit gap of 0.3 m set by tidy 2.0.0 in place of 0.5 m of base 1.2.0"
SEVERITY_WORDS = "severity note set by tidy 2.0.0 in place of required of base 1.2.0: The attic leaks."
BOX_WORDS = "severity advised set by tidy 2.0.0 in place of required of base 1.2.0: It has no lid."


@pytest.fixture
def club(house: Any) -> Any:
    """Toys whose plan is judged by the pack tidy, which extends the pack base."""
    few = [{"from": "2024-01-01", "value": "10"}]
    gap = [{"from": "2020-01-01", "until": "2024-01-01", "none": "No rule."},
           {"from": "2024-01-01", "value": "0.5", "unit": "m"}]  # fmt: skip
    house.pack(GAP, DAMP, FEW, BOX, name="base", version="1.2.0", limits={"gap": gap, "few": few})
    more = {"extends": "base", "version": "2.0.0", "publisher": "the club", "needs": [], "review_every": "30 days"}
    own = {"gap": [{"from": "2024-01-01", "value": "0.3", "unit": "m", "source": MINUTES}]}
    path = house.pack(limits=own, **more) / "rules.yaml"
    changes = [
        {"rule": "dry", "severity": "note", "reason": "The attic leaks."},
        {"rule": "box", "severity": "advised", "reason": "It has no lid."},
    ]
    house.write(path, {**json.loads(path.read_text()), "changes": changes})
    return house


@pytest.fixture
def report(club: Any) -> Any:
    return json.loads(json.dumps(club.report(**PLAN), allow_nan=False))


def rule_of(report: Any, name: str) -> Any:
    return next(rule for rule in report["rules"] if rule["id"] == name)


def verdict_of(report: Any, name: str) -> Any:
    return next(verdict for verdict in report["verdicts"] if verdict["rule"] == f"tidy/{name}")


def test_the_report_keeps_to_its_schema(report: Any) -> None:
    assert list(jsonschema.Draft202012Validator(shipped_schema("report")).iter_errors(report)) == []


def test_a_rule_record_says_which_pack_writes_it_and_who_changed_it(report: Any) -> None:
    rule = rule_of(report, "dry")
    base, tidy = {"id": "base", "version": "1.2.0"}, {"id": "tidy", "version": "2.0.0"}
    assert (rule["key"], rule["pack"], rule["written_by"], rule["severity"]) == ("tidy/dry", "tidy", base, "note")
    assert rule["place"].startswith("pack:base/rules.yaml:")
    change = rule["change"]
    assert change.pop("place").startswith("pack:tidy/rules.yaml:")
    assert change == {"severity": "note", "reason": "The attic leaks.", "by": tidy, "was": "required", "set_by": base}
    assert rule_of(report, "gap")["change"] is None


def test_a_limit_record_says_which_pack_writes_it_and_what_it_replaces(report: Any, club: Any) -> None:
    (own,), (few,) = (rule_of(report, name)["limits"] for name in ("gap", "few"))
    lines = (club.folder / "tidy" / "rules.yaml").read_text().splitlines()
    assert own["by"] == {"id": "tidy", "version": "2.0.0"}
    name, line = own["place"].rsplit(":", 2)[:2]
    assert (name, lines[int(line) - 1].strip()) == ("pack:tidy/rules.yaml", '"gap": [')
    assert [version["value"] for version in own["versions"]] == ["0.3"]
    assert own["in_place_of"]["by"] == {"id": "base", "version": "1.2.0"}
    assert own["in_place_of"]["place"].startswith("pack:base/rules.yaml:")
    assert [version["value"] for version in own["in_place_of"]["versions"]] == [None, "0.5"]
    assert (few["by"]["id"], few["in_place_of"]) == ("base", None)


def test_the_run_names_the_base_with_its_hash_and_its_files(report: Any, club: Any) -> None:
    (pack,) = report["run"]["packs"]
    alone = club.report(**PLAN, packs=["base"])["run"]["packs"][0]
    assert pack["extends"] == [
        {"id": "base", "version": "1.2.0", "publisher": "the household", "licence": "MIT", "sha256": alone["sha256"]}
    ]
    assert (alone["extends"], pack["sha256"] != alone["sha256"]) == ([], True)
    assert [file["file"] for file in report["run"]["files"]] == [
        "pack:tidy/pack.yaml", "pack:tidy/rules.yaml", "pack:base/pack.yaml", "pack:base/rules.yaml",
    ]  # fmt: skip


def test_a_change_in_the_base_changes_the_report_of_the_run(report: Any, club: Any) -> None:
    club.pack(GAP, DAMP, FEW, BOX, name="base", version="1.2.0", limits={
        "gap": [{"from": "2024-01-01", "value": "0.6", "unit": "m"}], "few": [{"from": "2024-01-01", "value": "10"}],
    })  # fmt: skip
    after = club.report(**PLAN)
    assert after["run"]["packs"][0]["sha256"] == report["run"]["packs"][0]["sha256"]
    assert after["run"]["packs"][0]["extends"][0]["sha256"] != report["run"]["packs"][0]["extends"][0]["sha256"]
    assert "in place of 0.6 m of base 1.2.0" in verdict_of(after, "gap")["warnings"][0]


def test_a_source_is_listed_under_the_pack_that_cites_it(report: Any) -> None:
    assert [(source["document"], source["pack"], source["used_by"]) for source in report["sources"]] == [
        ("House rules", "base", ["tidy/gap", "tidy/dry", "tidy/few", "tidy/box"]), ("Minutes", "tidy", ["tidy/gap"]),
    ]  # fmt: skip


def test_each_pack_is_reviewed_as_often_as_it_says_itself(club: Any) -> None:
    found = club.report(**PLAN, now=date(2026, 6, 1))["warnings"]
    assert [(warning["place"].split("/")[0], warning["what"]) for warning in found] == [
        ("pack:tidy", "the limit gap of tidy was last checked on 2026-02-03, 118 days before 2026-06-01")
    ]


def test_every_override_is_listed_once(report: Any) -> None:
    assert [(entry["pack"], entry["of"], entry["name"], entry["words"]) for entry in report["overrides"]] == [
        ("tidy", "limit", "gap", LIMIT_WORDS),
        ("tidy", "severity", "dry", f"The wall is dry: {SEVERITY_WORDS}"),
        ("tidy", "severity", "box", f"The box is closed: {BOX_WORDS}"),
    ]  # fmt: skip
    assert all(entry["place"].startswith("pack:tidy/rules.yaml:") for entry in report["overrides"])


def test_a_plan_judged_by_the_base_alone_overrides_nothing(club: Any) -> None:
    report = club.report(**PLAN, packs=["base"])
    assert (report["overrides"], [verdict["warnings"] for verdict in report["verdicts"]]) == ([], [[]] * 4)
    assert "in place of" not in report_text(report) + briefing_text(report, []) + briefing_html(report, [])


def test_the_text_says_so_beneath_the_verdict(report: Any) -> None:
    lines = [line.strip() for line in report_text(report).splitlines()]
    at = lines.index("passed          The ladder fits")
    assert lines[at + 1 : at + 4] == [
        "0.40 m ± 0.05 m (95 %; 1.31 ft ± 0.16 ft), due at least 0.3 m (0.98 ft): 0.10 m (0.32 ft) of room",
        f"note: {LIMIT_WORDS}",
        "tidy/gap, required; House rules, section 1 (invented, last checked 2026-01-02); Minutes, section 7 (invented, "
        "last checked 2026-02-03)",
    ]
    assert f"note: {SEVERITY_WORDS}" in lines


def test_why_says_who_writes_the_limit_and_where(report: Any) -> None:
    gap = rule_of(report, "gap")
    (limit,) = gap["limits"]
    text = why_text(report, verdict_of(report, "gap"))
    assert (
        "│  └─ limit gap: 0.3 m, in force from 2024-01-01\n"
        f"│     ├─ written by tidy 2.0.0 at {limit['place']}\n"
        f"│     ├─ in place of the limit of base 1.2.0 at {limit['in_place_of']['place']}\n"
        "│     └─ source: Minutes, section 7 (invented, last checked 2026-02-03)\n"
        f"├─ rule of base 1.2.0 at {gap['place']}, required, decided guarded\n" in text
    )
    assert text.endswith(f"└─ note: {LIMIT_WORDS}\n")


def test_why_says_where_the_severity_is_set(report: Any) -> None:
    dry = rule_of(report, "dry")
    text = why_text(report, verdict_of(report, "dry"))
    assert f"rule of base 1.2.0 at {dry['place']}, note (set at {dry['change']['place']}), decided guarded\n" in text
    assert text.endswith(f"└─ note: {SEVERITY_WORDS}\n")


def test_why_says_so_of_a_limit_that_is_taken_over(report: Any) -> None:
    (limit,) = rule_of(report, "few")["limits"]
    assert f"written by base 1.2.0 at {limit['place']}\n" in why_text(report, verdict_of(report, "few"))
    assert "in place of" not in why_text(report, verdict_of(report, "few"))


def test_both_briefings_say_so(report: Any) -> None:
    text, page = briefing_text(report, []), briefing_html(report, [])
    unbroken = page.replace("\u00a0", " ")
    for words in (LIMIT_WORDS, SEVERITY_WORDS):
        assert words in " ".join(text.split())
        assert f'<p class="warn">{words}</p>' in page
        assert words in unbroken[unbroken.index('<section id="overrides">') :]
    digest = report["run"]["packs"][0]["extends"][0]["sha256"][:12]
    told = f"The pack tidy 2.0.0 extends base 1.2.0 (the household, MIT, <code>{digest}</code>)."
    assert told in page


def test_what_a_club_writes_cannot_pass_for_the_pages_own_elements(report: Any) -> None:
    report["overrides"][0]["words"] = "<script>alert(1)</script>"
    report["run"]["packs"][0]["extends"][0]["publisher"] = "<b>"
    page = briefing_html(report, [])
    assert "<script>" not in page
    assert "(&lt;b&gt;, MIT" in page


def test_the_reports_facts_judged_again_give_the_same_verdicts_and_words(report: Any, club: Any) -> None:
    again = rejudged(report, club.engine.registry)
    assert [(v.rule.key, v.subject.key, v.word, v.rule.severity, override_words(v)) for v in again] == [
        (v["rule"], v["subject"], v["outcome"], v["severity"], v["warnings"]) for v in report["verdicts"]
    ]
    assert override_words(again[0]) == [LIMIT_WORDS]


def test_a_report_from_before_packs_could_extend_each_other_is_judged_again(report: Any, club: Any) -> None:
    for rule in report["rules"]:
        del rule["written_by"], rule["change"]
        for limit in rule["limits"]:
            del limit["by"], limit["place"], limit["in_place_of"]
    again = rejudged(report, club.engine.registry)
    assert [(v.rule.key, v.word) for v in again] == [(v["rule"], v["outcome"]) for v in report["verdicts"]]
