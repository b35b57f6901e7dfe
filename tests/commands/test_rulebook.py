"""`afield pack rulebook`: as text, as a page, of packs that extend others, of zip files."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from pypdf import PdfReader

from afield.core.packs.finding import installed_packs

from .conftest import Run

if TYPE_CHECKING:
    from playwright.sync_api import Browser


WHOLE = """\
My Road: rulebook
Version 1.0.0, kept by nobody; licence MIT
Judges the claims of the award my-road.

REQUIRED
Each of these decides.

For each claim

* The whole station stays inside the corridor [in-corridor]
  The award is for operating on the road.
  The distance of the farthest part from the line must be at most 80 ft (24.4 m), from 2024-01-01
  on.
  It applies where the kind of the reference is line.
    Passes: distance of the farthest part from the line 80 ft
  If it fails: Move the [part] [what is lacking] nearer.
  Rules, section 4.2; invented, last checked 2026-05-02

ADVISED
Good practice: what fails here is told, and decides nothing.

For each claim

* Two operators go together [company]
  Help is far away.
  The number of operators must be at least 2.
  It applies where the kind of the reference is line or area.
    Fails: number of operators 1
  Rules, section 7.1; invented, last checked 2026-05-02

LIMITS
corridor, used by: The whole station stays inside the corridor; half width of the corridor
  60 ft (18.3 m), from 2020-01-01 until 2024-01-01: Rules, section 4.2; invented, last checked
  2026-05-02.
  80 ft (24.4 m), from 2024-01-01 on: Rules, section 4.2; invented, last checked 2026-05-02.

WHAT HOLDS FOR THE WHOLE AWARD
half width of the corridor: the limit corridor
roles that count: operating position, antenna
roles that must be in the plan: operating position, antenna
what the line means: centre line (from 2020-01-01 until 2024-01-01)
what the line means: tread (from 2024-01-01 on)
width of the thing that the line stands for: 1.5 m

PLACES
Cinder Crossing [cinder-crossing], from 2021-01-01 on

"""


def test_a_pack_is_told_whole(base: Path, run: Run) -> None:
    status, out, err = run("pack", "rulebook", "./my-road")
    assert (status, out[: out.index("HOW IT IS JUDGED")], err) == (0, WHOLE, "")
    assert "The examples are among the pack's 2 cases, all of which come out as they say.\n" in out
    assert "\nMADE FROM\n- Pack: my-road 1.0.0, sha256 " in out


def test_a_day_without_a_limit_is_told_with_its_reason(base: Path, run: Run) -> None:
    words = " ".join(run("pack", "rulebook", "freight-road")[1].split())
    assert "no limit, from 2021-01-01 until 2025-01-01: Freight Road award rules (second, 2021), section 7;" in words
    assert "last checked 2026-05-02. The rules said nothing of company before 2025." in words
    assert "last checked 2026-05-02. Announced 2023-10-01." in words


@pytest.mark.parametrize("pack", sorted(installed_packs()))
def test_every_shipped_pack_is_told_in_both_forms(pack: str, base: Path, run: Run) -> None:
    text = run("pack", "rulebook", pack)
    page = run("pack", "rulebook", pack, "--format", "html")
    assert text[0] == page[0] == 0
    assert (
        page[1].startswith("<!DOCTYPE html>")
        and "<script" not in page[1]
        and "http" not in page[1].split("</style>")[1]
    )
    assert {max(map(len, text[1].splitlines())) <= 100, "{{" in text[1], "{{" in page[1]} == {True, False}


def test_the_form_goes_by_the_ending_of_the_file(base: Path, run: Run) -> None:
    assert run("pack", "rulebook", "./my-road", "-o", "rules.html") == (
        0, "rules.html is written; print it, or pass it on.\n", "",
    )  # fmt: skip
    assert (base / "rules.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert run("pack", "rulebook", "./my-road", "-o", "rules.txt")[0] == 0
    assert (base / "rules.txt").read_text(encoding="utf-8") == run("pack", "rulebook", "./my-road")[1]
    assert run("pack", "rulebook", "./my-road", "-o", "rules.html") == (
        2, "", "rules.html stands already; nothing was written\n    = Name another place, or add --force.\n",
    )  # fmt: skip
    assert run("pack", "rulebook", "./my-road", "-o", "rules.html", "--force")[0] == 0


def test_a_zip_file_is_told_like_its_folder(base: Path, run: Run) -> None:
    folder = run("pack", "rulebook", "./my-road")
    shutil.make_archive(str(base / "my-road"), "zip", base, "my-road")
    shutil.rmtree(base / "my-road")
    assert run("pack", "rulebook", "my-road.zip") == folder
    assert run("pack", "rulebook", "my-road") == folder


CLUB = """\
id: club-gear
version: "1.0.0"
title: Gear of the club
publisher: the club
licence: MIT
judges: trip
extends: gear
needs: []
date_basis: local
review_every: 365 days
sources: [{document: Club handbook, edition: "2025", grade: published}]
"""
CHANGES = """\
changes:
  - {rule: tape-measure, severity: required, reason: We measure every station.}
limits:
  usual-drop:
    - from: 2025-01-01
      value: "2"
      unit: "%"
      source: {document: Club handbook, section: "7", grade: published, last_checked: 2026-05-02}
"""


def test_a_pack_that_extends_another_says_whose_everything_is(base: Path, run: Run) -> None:
    (base / "club-gear").mkdir()
    (base / "club-gear" / "pack.yaml").write_text(CLUB, encoding="utf-8")
    (base / "club-gear" / "rules.yaml").write_text(CHANGES, encoding="utf-8")
    status, out, _ = run("pack", "rulebook", "./club-gear")
    words = " ".join(out.split())
    assert status == 0
    assert "Extends gear 1." in words and "and takes its rules over but for what is said here." in words
    assert "The share of the voltage lost in the wires must be at most 2 %." in words
    assert "Limit usual-drop of 2 % set by club-gear 1.0.0 in place of 3 % of gear 1." in words
    assert "Severity required set by club-gear 1.0.0 in place of advised of gear 1." in words
    assert "We measure every station." in words
    assert "share of the voltage lost in the wires 3 %" not in words


@pytest.fixture
def page(base: Path, run: Run, browser: Browser) -> Any:
    assert run("pack", "rulebook", "gear", "-o", "gear.html")[0] == 0
    found = browser.new_page(viewport={"width": 360, "height": 800})
    found.goto((base / "gear.html").as_uri())
    yield found
    found.close()


def test_the_page_fits_a_telephone(page: Any) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    wide = "[...document.querySelectorAll('main *')].filter(e => e.getBoundingClientRect().right > 361).length"
    assert page.evaluate(wide) == 0


def test_the_page_prints_in_black_on_a4_and_leaves_no_heading_alone(page: Any, base: Path) -> None:
    page.pdf(path="gear.pdf", prefer_css_page_size=True, format="A4")
    sheets = [sheet.extract_text() for sheet in PdfReader(base / "gear.pdf").pages]
    assert 5 < len(sheets) < 30
    headings = ("Required", "Advised", "Checklist", "Limits", "For each item of the kit", "Home", "Operate")
    ends = [[line for line in sheet.splitlines() if line.strip() and " / " not in line][-1].strip() for sheet in sheets]
    introductions = ("Each of these decides.", "Nothing is computed here: each is ticked off by somebody.")
    assert [end for end in ends if end in (*headings, *introductions)] == []
    colours = page.evaluate(
        "[...new Set([...document.querySelectorAll('*')].map(e => getComputedStyle(e).color))]"
        ".map(c => c.match(/\\d+/g).slice(0, 3)).filter(c => new Set(c).size > 1)"
    )
    assert colours == []
