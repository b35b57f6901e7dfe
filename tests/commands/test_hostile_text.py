"""Names that look like markup, templates or code are data: nothing in them is run, and nothing is lost."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from .conftest import Run

NAMES = (
    "<script>alert(1)</script>",
    "{{ 7 * 7 }}",
    "{% for x in [] %}{% endfor %}",
    "{{ detail.__class__ }}",
    "'; drop table claims; --",
    "${HOME} $(id) `id`",
    "%s %(a)s {0} {a}",
    "\u202dnevele",
)


def _named(base: Path, name: str) -> None:
    text = (base / "trip.yaml").read_text()
    text = text.replace("name: wire", f"name: {json.dumps(name)}").replace(
        "trip: Cinder Wash", f"trip: {json.dumps(name)}"
    )
    (base / "trip.yaml").write_text(text.replace("distance: 15 m", "distance: 90 m"))


@pytest.mark.parametrize("name", NAMES[:-1])
def test_a_name_is_printed_as_it_is_written(base: Path, run: Run, name: str) -> None:
    _named(base, name)
    status, out, err = run("check", "trip.yaml")
    assert (status, err) == (1, "")
    assert out.startswith(f"{name}, 2026-06-27\n")
    assert f"Move the {name} " in out


@pytest.mark.parametrize("name", NAMES[:-1])
def test_the_report_holds_it_unchanged(base: Path, run: Run, name: str) -> None:
    _named(base, name)
    report = json.loads(run("check", "trip.yaml", "--format", "json")[1])
    assert report["trip"]["title"] == name


def test_the_page_escapes_it_once(base: Path, run: Run) -> None:
    _named(base, NAMES[0])
    assert run("brief", "trip.yaml")[0] == 0
    page = (base / "briefing" / "briefing.html").read_text()
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert "&amp;lt;script" not in page


def test_the_page_fills_in_no_braces(base: Path, run: Run) -> None:
    _named(base, NAMES[1])
    assert run("brief", "trip.yaml")[0] == 0
    assert "{{ 7 * 7 }}" in (base / "briefing" / "briefing.html").read_text()


def test_text_that_runs_backwards_is_refused(base: Path, run: Run) -> None:
    _named(base, NAMES[-1])
    status, out, err = run("check", "trip.yaml")
    assert (status, out) == (2, "")
    assert err.startswith("trip.yaml:2:7: the escape for the character U+202D is not allowed\n")


def test_a_message_cannot_be_broken_into_two(base: Path, run: Run) -> None:
    text = (base / "trip.yaml").read_text().replace("role: antenna", 'role: "x\\n\\nAll claims count."')
    (base / "trip.yaml").write_text(text)
    status, _, err = run("check", "trip.yaml")
    assert (status, len(err.splitlines())) == (2, 3)
