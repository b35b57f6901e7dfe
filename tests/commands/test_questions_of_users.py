"""`check --format json`, `why`, `facts`, `schema`, `compute`, `plugin`: what they answer when all is well."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest
from ruamel.yaml import YAML

from .conftest import Run

CHECKS = Path(__file__).parents[1] / "checks"


def test_json_and_text_tell_the_same(base: Path, run: Run) -> None:
    status, out, err = run("check", "trip.yaml", "--format", "json")
    report = json.loads(out)
    assert (status, err, report["exit_status"]) == (0, "", 0)
    assert {verdict["rule"]: verdict["outcome"] for verdict in report["verdicts"] if verdict["kind"] == "judge"} == {
        "my-road/in-corridor": "passed",
        "my-road/company": "passed",
        "my-basin/inside": "passed",
    }
    assert report["summary"]["words"] in run("check", "trip.yaml")[1]


def test_two_runs_print_the_same(base: Path, run: Run) -> None:
    assert run("check", "trip.yaml", "--format", "json") == run("check", "trip.yaml", "--format", "json")


def test_a_plan_is_named_in_the_report_without_its_path(base: Path, run: Run) -> None:
    assert run("check", "../trip/trip.yaml", "--format", "json") == run("check", "trip.yaml", "--format", "json")


def test_a_variant_is_judged_as_changed(base: Path, run: Run) -> None:
    status, out, _ = run("check", "trip.yaml", "--variant", "next-day")
    assert (status, out.splitlines()[0]) == (0, "Cinder Wash, 2026-06-28 (variant next-day)")


@pytest.mark.parametrize("rule", ["in-corridor", "my-road/in-corridor"])
@pytest.mark.parametrize("claim", [[], ["cinder-crossing"], ["claim:my-road/cinder-crossing"]])
def test_why_takes_short_and_long_names(base: Path, run: Run, rule: str, claim: list[str]) -> None:
    status, out, err = run("why", "trip.yaml", rule, *claim)
    assert (status, err) == (0, "")
    assert out == run("why", "trip.yaml", "in-corridor")[1]
    assert "place.farthest_part_from_line" in out and "Rules, section 4.2" in out


def test_facts_lists_them_by_kind_and_shows_one(base: Path, run: Run) -> None:
    status, out, _ = run("facts")
    assert status == 0
    assert {"trip:", "claim:", "part:", "operator:"} <= set(out.splitlines())
    status, out, _ = run("facts", "place.margin_inside_area")
    assert status == 0
    assert out.splitlines()[0] == "place.margin_inside_area: margin of the whole station inside the boundary"
    assert "  measured in the field with: tape measure, ± 0.1 m (95 %)" in out.splitlines()


@pytest.mark.parametrize("name", ["plan", "pack", "rules", "cases", "references"])
def test_schema_is_valid_and_needs_no_other_file(base: Path, run: Run, name: str) -> None:
    schema = json.loads(run("schema", name)[1])
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    validator = jsonschema.Draft202012Validator(schema)
    with pytest.raises(jsonschema.ValidationError):
        validator.validate({"no such key": 1})


def test_schema_accepts_the_demo_and_the_base_plan(base: Path, run: Run) -> None:
    validator = jsonschema.Draft202012Validator(json.loads(run("schema", "plan")[1]))
    demo = Path(__file__).parents[2] / "programs" / "demo" / "trip.yaml"
    for path in (demo, base / "trip.yaml"):
        assert list(validator.iter_errors(_strings(YAML(typ="safe", pure=True).load(path)))) == []


def _strings(data: object) -> object:
    """The data with dates as they are written, which is how plans are read here."""
    if isinstance(data, dict):
        return {key: _strings(value) for key, value in data.items()}
    if isinstance(data, list):
        return [_strings(value) for value in data]
    return data if isinstance(data, str | int | float | bool) else str(data)


def test_compute_runs_lists_and_explains(base: Path, run: Run) -> None:
    assert run("compute", "maidenhead_encode", "lat_deg=48.14666", "lon_deg=11.60833") == (0, '"JN58td"\n', "")
    assert "maidenhead_encode" in run("compute")[1]
    status, out, _ = run("compute", "maidenhead_encode")
    assert status == 0
    assert out.startswith("maidenhead_encode(") and "Source: " in out


def test_plugins_are_listed_with_their_hooks(base: Path, run: Run) -> None:
    status, out, err = run("plugin", "list")
    assert (status, err) == (0, "")
    names = [line.split()[0] for line in out.splitlines()]
    assert names == sorted(names) and {"geometry", "outing"} <= set(names)
    assert "afield_facts" in out


def test_published_check_values_come_out_right(base: Path, run: Run) -> None:
    status, out, err = run(
        "plugin", "check", str(CHECKS / "geometry_time.yaml"), "--bindings", str(CHECKS / "bindings")
    )
    assert (status, err) == (0, "")
    counts = {words.split(" ", 1)[1]: int(words.split()[0]) for words in out.splitlines()[-1].split(", ")}
    assert counts["right"] > 50
    assert counts["wrong"] == counts["unbound input"] == 0


def test_help_and_version(base: Path, run: Run) -> None:
    from afield.core import __version__

    assert run("--version") == (0, f"{__version__}\n", "")
    assert run("--help")[0] == 0
    for command in ("demo", "new", "check", "why", "brief", "compute", "facts", "schema", "pack", "plugin"):
        status, out, err = run(command, "--help")
        assert (status, err) == (0, "")
        assert out.startswith(f"Usage: afield {command} ")


def test_a_pack_may_name_just_the_roles_that_a_part_may_have() -> None:
    from afield.core.engine import Engine

    facts = Engine().registry.facts
    assert facts["part.role"].choices
    assert facts["program.counted_roles"].choices == facts["part.role"].choices
    assert facts["program.required_roles"].choices == facts["part.role"].choices
