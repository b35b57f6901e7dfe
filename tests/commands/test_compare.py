"""`afield compare`: what it prints and writes, and with which status it ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from afield.core.api import Comparison, Engine, Fact, hookimpl
from afield.core.host.loading import Host, PluginInfo, installed_host

from .conftest import Run

KIT = """\
kit: small bag
items:
  - {name: radio, is: hf-radio-10-w, price: 700}
  - {name: wire, is: end-fed-wire-20-m, price: 60}
  - {name: lead, is: coax-bnc-bnc-10-m, mass: 600 g, price: 30}
"""
VARIANTS = """\
variants:
  bigger: {kit: [bigger.yaml]}
  nameless: {kit: [nameless.yaml]}
kit: [kit.yaml]
"""


@pytest.fixture
def plan(base: Path) -> Path:
    """The base plan with a kit, and two variants with another each."""
    text = (base / "trip.yaml").read_text(encoding="utf-8")
    (base / "trip.yaml").write_text(text.partition("variants:")[0] + VARIANTS, encoding="utf-8")
    (base / "kit.yaml").write_text(KIT, encoding="utf-8")
    pencil = "  - {name: pencil, mass: 10 g, price: 1}\n"
    (base / "bigger.yaml").write_text(KIT.replace("hf-radio-10-w, price: 700", "hf-radio-100-w, price: 1100") + pencil)
    (base / "nameless.yaml").write_text(KIT + "  - pencil\n", encoding="utf-8")
    return base / "trip.yaml"


def test_the_kits_are_set_side_by_side(run: Run, plan: Path) -> None:
    status, out, err = run("compare", "trip.yaml")
    assert (status, err) == (0, "")
    lines = out.splitlines()
    assert lines[:2] == ["Cinder Wash, 2026-06-27", "Compared with the plan: bigger, nameless"]
    price = lines.index("Price of the kit")
    assert lines[price : price + 5] == [
        "Price of the kit",
        "  the plan  790",
        "  bigger    1191",
        "            +401: differs",
        "  nameless  cannot tell: the price of pencil is not stated",
    ]


def test_masses_of_the_same_things_cancel(run: Run, plan: Path) -> None:
    # The rest is in both bags: of what is uncertain in it, nothing is left in the difference.
    (plan.parent / "bigger.yaml").write_text(KIT + "  - {name: pencil, mass: 10 g, price: 1}\n", encoding="utf-8")
    found = json.loads(run("compare", "trip.yaml", "--format", "json", "--variant", "bigger")[1])
    row = next(row for row in found["rows"] if row["fact"] == "kit.mass")
    (difference,) = row["differences"]
    assert difference["value"] == pytest.approx(0.01)
    assert 0 < difference["uncertainty"] < 0.01 < min(value["uncertainty"] for value in row["values"])
    assert difference["finding"] == "differs"


def test_a_failed_verdict_is_no_failed_comparison(run: Run, plan: Path) -> None:
    text = plan.read_text(encoding="utf-8").replace("packs: [my-list]", "packs: [my-list, gear]")
    plan.write_text(text, encoding="utf-8")
    assert run("check", "trip.yaml", "--variant", "bigger")[0] == 1
    status, out, _ = run("compare", "trip.yaml")
    assert status == 0
    assert "bigger:\n  a required rule failed\n" in out


def test_json_is_json_alone(run: Run, plan: Path) -> None:
    status, out, err = run("compare", "trip.yaml", "--format", "json", "--html", "page.html")
    assert (status, json.loads(out)["schema"]) == (0, "urn:afield:schema:comparison:1")
    assert err == "page.html is written; print it, or open it on the phone.\n"
    assert (plan.parent / "page.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_a_page_is_written_beside_the_text(run: Run, plan: Path) -> None:
    status, out, err = run("compare", "trip.yaml", "-o", "pages/page.html")
    assert (status, err) == (0, "")
    assert out.startswith("Cinder Wash, 2026-06-27\n")
    assert out.endswith("\npages/page.html is written; print it, or open it on the phone.\n")
    page = (plan.parent / "pages" / "page.html").read_text(encoding="utf-8")
    assert "Mass of the kit" in page


def test_a_page_that_stands_is_left_alone_but_with_force(run: Run, plan: Path) -> None:
    page = plan.parent / "page.html"
    page.write_text("mine", encoding="utf-8")
    assert run("compare", "trip.yaml", "-o", "page.html") == (
        2, "", "page.html stands already; nothing was written\n    = Name another place, or add --force.\n",
    )  # fmt: skip
    assert page.read_text(encoding="utf-8") == "mine"
    assert run("compare", "trip.yaml", "-o", "page.html", "--force")[0] == 0
    assert page.read_text(encoding="utf-8") != "mine"


def test_nothing_is_left_behind_where_the_plan_is_wrong(run: Run, plan: Path) -> None:
    (plan.parent / "bigger.yaml").write_text("kit: 5\nitems: [pencil]\n", encoding="utf-8")
    status, out, err = run("compare", "trip.yaml", "-o", "page.html")
    assert (status, out) == (2, "")
    assert err.startswith("bigger.yaml:1:6: ")
    assert not (plan.parent / "page.html").exists()


def broken_host() -> Host:
    """The installed plugins, and one whose own words fail."""

    class Plugin:
        @hookimpl
        def afield_facts(self) -> list[Fact]:
            return [Fact("trip.luck", "trip", "number", "", "luck", function=lambda: 1.0, exact=True)]

        @hookimpl
        def afield_comparisons(self) -> list[Comparison]:
            return [Comparison("trip.luck", "Luck", 1, words=lambda record: str(record["no such"]))]

    host = installed_host()
    host.add(Plugin(), PluginInfo("luck", "luck-things", "1"))
    return host


def test_a_plugin_that_fails_is_named_and_the_rest_is_printed(
    run: Run, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("afield.core.cli.comparisons.Engine", lambda: Engine(broken_host()))
    status, out, err = run("compare", "trip.yaml", "-o", "page.html")
    assert (status, err) == (4, "")
    assert "Luck\n  the plan  cannot tell: plugin failed\n" in out
    assert "Price of the kit\n  the plan  790\n" in out
    failure = "plugin luck (luck-things 1) failed at comparing trip.luck: KeyError: 'no such'"
    assert f"\nwarning: {failure}; report it to the plugin's maker\n" in out
    assert (plan.parent / "page.html").exists()


def test_another_base(run: Run, plan: Path) -> None:
    out = run("compare", "trip.yaml", "--base", "bigger", "--variant", "nameless")[1]
    assert out.splitlines()[1] == "Compared with bigger: nameless"
    assert "Verdicts: nameless against bigger" in out


def test_its_schema_is_printed(run: Run) -> None:
    status, out, err = run("schema", "comparison")
    assert (status, err) == (0, "")
    assert json.loads(out)["$id"] == "urn:afield:schema:comparison:1"
