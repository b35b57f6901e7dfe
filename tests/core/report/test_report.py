"""The report: closed, the same bytes for the same inputs, and enough to judge its facts again."""

import json
import os
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from afield.core.facts.measured import Measured
from afield.core.host.composition import shipped_schema
from afield.core.report.formats.text import report_text
from afield.core.report.formats.why import why_text
from afield.core.report.rejudging import NotRejudgeable, rejudged


def text_of(report: Any) -> str:
    return json.dumps(report, ensure_ascii=False, allow_nan=False)


def schema_errors(report: Any) -> list[str]:
    validator = jsonschema.Draft202012Validator(shipped_schema("report"))
    return [f"{error.json_path}: {error.message}" for error in validator.iter_errors(json.loads(text_of(report)))]


@pytest.mark.parametrize("variant", [None, "long-ladder"])
def test_the_report_keeps_to_its_schema(full: Any, variant: Any) -> None:
    assert schema_errors(full.report(variant, date(2026, 6, 1), **full.plan_data)) == []


def test_a_report_of_failures_keeps_to_its_schema(toys: Any, gap_limit: Any) -> None:
    def boom(**_: Any) -> Any:
        raise RuntimeError("the shelf fell")

    toys.house(subjects=boom).pack(
        {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}},
        {"id": "few", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": 3}},
        {"id": "cut", "for_each": "hedge", "require": {"fact": "hedge.height", "below": "2 m"}},
        limits=gap_limit, needs=["house", "yard"],
    )  # fmt: skip
    report = toys.report(shelves=[{"name": "a"}])
    assert schema_errors(report) == []
    assert [entry["kind"] for entry in report["run"]["failed_kinds"]] == ["box", "shelf"]


def objects(schema: Any, path: str = "$") -> Any:
    if isinstance(schema, dict):
        if schema.get("type") == "object" or "properties" in schema:
            yield path, schema
        for key, inner in schema.items():
            yield from objects(inner, f"{path}.{key}")
    elif isinstance(schema, list):
        for index, inner in enumerate(schema):
            yield from objects(inner, f"{path}[{index}]")


def test_every_object_of_the_schema_is_closed_but_the_free_ones() -> None:
    schema = shipped_schema("report")
    assert schema["$id"] == "urn:afield:schema:report:1"
    open_ones = [path for path, found in objects(schema) if "additionalProperties" not in found]
    assert [path for path in open_ones if not path.endswith(".detail")] == []
    lax = [
        path for path, found in objects(schema) if "properties" in found and found["additionalProperties"] is not False
    ]
    assert lax == []


def test_a_key_that_the_schema_does_not_know_is_refused(full: Any) -> None:
    report = full.report(**full.plan_data)
    for place in (
        report,
        report["run"],
        report["verdicts"][0],
        report["facts"][0],
        report["rules"][0],
        report["summary"],
    ):
        place["surprise"] = 1
        assert len(schema_errors(report)) == 1
        del place["surprise"]


def test_two_runs_give_the_same_bytes(full: Any) -> None:
    assert text_of(full.report(**full.plan_data)) == text_of(full.report(**full.plan_data))


SCRIPT = """
import hashlib, importlib.util, json, sys
from pathlib import Path
spec = importlib.util.spec_from_file_location("toys", sys.argv[1])
toys = importlib.util.module_from_spec(spec)
spec.loader.exec_module(toys)
house = toys.Toys(Path(sys.argv[2])).house()
plan = json.loads(Path(sys.argv[2], "plan.yaml").read_text())
print(json.dumps(house.report(**plan), ensure_ascii=True, allow_nan=False))
"""


def test_two_processes_with_other_hash_seeds_give_the_same_bytes(full: Any) -> None:
    here = text_of(full.report(**full.plan_data))
    conftest = Path(__file__).parents[1] / "conftest.py"
    found = [
        subprocess.run(
            [sys.executable, "-c", SCRIPT, str(conftest), str(full.folder)], check=True, capture_output=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    ]  # fmt: skip
    assert found[0] == found[1]
    assert json.loads(found[0]) == json.loads(here)


@pytest.mark.parametrize("variant", [None, "long-ladder"])
def test_the_reports_facts_judged_again_by_its_own_rules_give_the_same_verdicts(full: Any, variant: Any) -> None:
    report = json.loads(text_of(full.report(variant, **full.plan_data)))
    again = rejudged(report, full.engine.registry)
    assert [(v.rule.key, v.subject.key, v.word, v.reason and v.reason.code) for v in again] == [
        (v["rule"], v["subject"], v["outcome"], v["reason"] and v["reason"]["code"]) for v in report["verdicts"]
    ]
    for verdict, before in zip(again, report["verdicts"], strict=True):
        margin = verdict.explanation.margin if verdict.explanation else None
        assert (margin is None) == (before["margin"] is None)
        assert margin is None or margin == pytest.approx(before["margin"]["value"], rel=1e-9)


def test_what_a_failing_plugin_left_out_stays_left_out(toys: Any) -> None:
    def boom(**_: Any) -> Any:
        raise RuntimeError("the shelf fell")

    toys.house(subjects=boom).pack(
        {"id": "few", "for_each": "shelf", "require": {"fact": "shelf.books", "at_most": 3}},
        {"id": "none", "require": {"count": "shelf", "at_most": 3}},
    )
    report = toys.report(shelves=[{"name": "a", "books": 1}])
    assert [(v.subject.key, v.word) for v in rejudged(report, toys.engine.registry)] == [("trip", "cannot tell")] * 2


def test_a_logged_value_is_judged_by_the_reports_rules(full: Any) -> None:
    report = full.report(**full.plan_data)
    logged = {("trip", "wall.gap"): [Measured(0.6, "m", 0.59, 0.61, rank="logged")]}
    again = {v.rule.key: v for v in rejudged(report, full.engine.registry, logged)}
    assert again["tidy/gap"].word == "passed"
    weaker = {("shelf:a", "shelf.spare"): [Measured(9.0, "m", 9.0, 9.0, rank="logged")]}
    spare = next(v for v in rejudged(report, full.engine.registry, weaker) if v.rule.key == "tidy/spare")
    assert spare.word == "passed"


def test_all_dated_values_of_a_limit_are_there(full: Any) -> None:
    report = full.report(**full.plan_data)
    gap = next(rule for rule in report["rules"] if rule["key"] == "tidy/gap")
    assert gap["require"] == {"fact": "wall.gap", "at_least": {"limit": "gap"}}
    ((first, second),) = [limit["versions"] for limit in gap["limits"]]
    assert (first["none"], first["until"], first["value"], first["corrects"]) == (
        "There was no rule.",
        "2024-01-01",
        None,
        "A slip.",
    )
    assert (second["value"], second["unit"], second["also_printed"]) == ("20", "in", [{"value": "50.8", "unit": "cm"}])
    most = next(rule for rule in report["rules"] if rule["key"] == "tidy/spare")["limits"][0]["versions"][0]
    assert most["value"] == "8.0"


def test_an_older_day_is_judged_by_the_limits_of_that_day(full: Any) -> None:
    report = full.report(**full.plan_data)
    report["trip"]["date"] = "2023-12-31"
    for pack in report["run"]["packs"]:
        pack["days"] = ["2023-12-31"]
    gap = next(v for v in rejudged(report, full.engine.registry) if v.rule.key == "tidy/gap")
    assert (gap.word, gap.reason and gap.reason.text) == ("not applicable", "There was no rule.")


def test_a_report_whose_facts_no_plugin_declares_is_refused(full: Any, tmp_path: Path) -> None:
    report = full.report(**full.plan_data)
    bare = type(full)(tmp_path).add("house")
    report["run"]["packs"] = [entry for entry in report["run"]["packs"] if entry["id"] == "tidy"]
    with pytest.raises(NotRejudgeable, match=r"tidy/gap: no plugin declares a fact wall\.gap"):
        rejudged(report, bare.engine.registry)


def test_texts_are_made_from_the_json_alone(full: Any) -> None:
    report = full.report(**full.plan_data)
    again = json.loads(text_of(report))
    assert report_text(again) == report_text(report)
    whys = [why_text(report, verdict) for verdict in report["verdicts"]]
    assert [why_text(again, verdict) for verdict in again["verdicts"]] == whys
    assert all(why.endswith("\n") and "None" not in why for why in whys)


def test_no_path_of_this_machine_is_in_the_report(full: Any) -> None:
    report = text_of(full.report(**full.plan_data))
    assert str(full.folder) not in report
    assert '"plan.yaml:' in report and '"pack:tidy/rules.yaml:' in report


def test_an_encoder_that_fails_is_named_and_the_report_still_made(toys: Any) -> None:
    from dataclasses import replace

    def boom(value: Any) -> Any:
        raise RuntimeError("no picture")

    facts = [replace(fact, encode=boom) if fact.name == "wall.fits" else fact for fact in toys.FACTS]
    toys.house(facts=lambda: facts).pack({"id": "fits", "require": {"fact": "wall.fits", "is": True}})
    report = toys.report(wall={"height": "3 m"}, ladder={"length": "1 m"})
    assert report["verdicts"][0]["outcome"] == "passed"
    assert [warning["what"] for warning in report["warnings"]] == [
        "plugin house (toys 1.0) failed at the encoding of wall.fits of trip: RuntimeError: no picture"
    ]
    assert report["exit_status"] == 4
    assert schema_errors(report) == []
