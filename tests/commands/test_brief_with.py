"""`afield brief --with place`: the placement as a section of the briefing, where it is asked for and only there."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from afield.core.briefing import briefing_html, briefing_text
from afield.core.briefing.files import section_files
from afield.core.engine import Engine
from afield.core.host.composition import shipped_schema

from .conftest import Run
from .test_place import claim_own_area

TITLE = "Where the station can stand"
BESIDE = {"placement.geojson", "placement.gpx", "placement.kml"}
ALWAYS = {"briefing.html", "briefing.txt", "report.json"}
WRITTEN = "briefing/briefing.html is written; print it, or open it on the phone.\n"
NARROW = ("--set", "place.within=60 m")


def tree(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def read(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def reported(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(read(folder / "report.json"))
    Draft202012Validator(shipped_schema("report")).validate(found)
    return found


def section_of(page: str) -> str:
    (found,) = re.findall(r'<section class="plugin" id="section-place">.*?</section>', page, re.DOTALL)
    return str(found)


def words_of(part: str) -> str:
    """A part of a page as it is read."""
    words = unescape(re.sub(r"<svg.*?</svg>|<[^>]+>", " ", part, flags=re.DOTALL))
    return " ".join(words.replace("\u00a0", " ").split()).replace(" :", ":")


def test_the_section_stands_in_page_text_and_report_with_files_beside_it(base: Path, run: Run) -> None:
    assert run("brief", "trip.yaml", "--with", "place", *NARROW) == (0, WRITTEN, "")
    assert tree(base / "briefing").keys() >= ALWAYS | BESIDE
    page, text = read(base / "briefing" / "briefing.html"), read(base / "briefing" / "briefing.txt")
    words = words_of(section_of(page))
    assert words.startswith(f"{TITLE} Here all 2 claims count. ")
    for told in ("laid as planned", "by compass", "What is drawn all claims count: with the", "Bearings The wire fits",
                 "Each claim alone, laid as planned my-road / cinder-crossing:", "judge them when you stand there",
                 "Looked at 60 m (197 ft) to each side of 39.90412, -117.30288"):  # fmt: skip
        assert told in words
    assert f"\n{TITLE}\n{'-' * len(TITLE)}\nHere all 2 claims count.\n\n" in text
    assert section_of(page).count("<svg") == section_of(page).count("</svg>") > 8
    assert max(map(len, text.split(TITLE)[1].split("\nThe outing")[0].splitlines())) <= 78


def test_the_report_says_who_solved_it_and_holds_what_afield_place_prints(base: Path, run: Run) -> None:
    assert run("brief", "trip.yaml", "--with", "place", *NARROW)[0] == 0
    alone = json.loads(run("place", "trip.yaml", "--within", "60 m", "--format", "json", "-o", "out")[1])
    report = reported(base / "briefing")
    (solved,) = report["solutions"]
    Draft202012Validator(shipped_schema("placement")).validate(solved["found"])
    assert solved["found"] == alone
    assert {**solved, "plugin": solved["plugin"]["name"], "found": None} == {
        "name": "place", "plugin": "geometry", "command": "place", "settings": {"within": "60 m"}, "found": None,
        "crashes": [],
    }  # fmt: skip
    written = tree(base / "briefing")
    assert {name: written[name] for name in BESIDE} == {name: tree(base / "out")[name] for name in BESIDE}


def test_all_can_be_made_again_from_the_report_alone(base: Path, run: Run) -> None:
    assert run("brief", "trip.yaml", "--with", "place", *NARROW)[0] == 0
    report, written, sections = reported(base / "briefing"), tree(base / "briefing"), Engine().sections
    assert briefing_html(report, sections).encode() == written["briefing.html"]
    assert briefing_text(report, sections).encode() == written["briefing.txt"]
    files, troubles = section_files(report, sections)
    assert ({name: files[name].encode() for name in BESIDE}, troubles) == ({name: written[name] for name in BESIDE}, [])


def test_two_runs_give_the_same_bytes(base: Path, run: Run) -> None:
    for folder in ("one", "two"):
        assert run("brief", "trip.yaml", "--with", "place", *NARROW, "-o", folder)[0] == 0
    assert tree(base / "one") == tree(base / "two")


def test_without_it_the_briefing_has_no_such_section(base: Path, run: Run) -> None:
    assert run("brief", "trip.yaml", "-o", "plain") == (0, WRITTEN.replace("briefing/", "plain/", 1), "")
    assert run("brief", "trip.yaml", "--with", "place", *NARROW, "-o", "more")[0] == 0
    plain, more = tree(base / "plain"), tree(base / "more")
    assert more.keys() - plain.keys() == BESIDE
    assert TITLE not in plain["briefing.html"].decode() + plain["briefing.txt"].decode()
    page, text = more["briefing.html"].decode(), more["briefing.txt"].decode()
    assert page.replace(section_of(page), "") == plain["briefing.html"].decode()
    assert text.replace(f"{TITLE}{text.split(TITLE)[1].split('The outing as planned')[0]}", "") == (
        plain["briefing.txt"].decode()
    )
    without, with_it = reported(base / "plain"), reported(base / "more")
    assert without["solutions"] == []
    sections = [section for section in with_it["sections"] if section["name"] != "place"]
    assert {**with_it, "solutions": [], "sections": sections} == without


def test_without_it_nothing_of_the_search_is_imported(base: Path) -> None:
    code = (
        "import sys; from afield.core.cli.running import status_of; status_of(['brief', 'trip.yaml']);"
        "print([name for name in sys.modules if '.placement' in name or 'core.placing' in name])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    package = "afield.plugins.geometry.placement"
    assert done.stdout.splitlines()[-1] == str([package, f"{package}.section"])


def test_where_nothing_fits_it_says_by_how_much_and_what_can_be_had_together(base: Path, run: Run) -> None:
    west, east, south, north = -117.30308, -117.30268, 39.90402, 39.90427
    claim_own_area(base, "yard", [[west, south], [east, south], [east, north], [west, north], [west, south]])
    plan = base / "trip.yaml"
    plan.write_text(read(plan).replace("distance: 15 m", "distance: 100 m"), encoding="utf-8")
    assert run("brief", "trip.yaml", "--with", "place", "--set", "place.within=100 m") == (0, WRITTEN, "")
    told = (
        "No place and bearing was found at which all 3 claims count. Nearest miss 39.904435, -117.303328",
        "too little by 40 m (131 ft), limits and uncertainty together",
        "What can be had together my-basin/juniper-basin, my-road/cinder-crossing",
    )
    page, text = read(base / "briefing" / "briefing.html"), read(base / "briefing" / "briefing.txt")
    assert all(words in words_of(section_of(page)) for words in told)
    assert all(words in " ".join(text.split()) for words in told)
    assert "<wpt" not in read(base / "briefing" / "placement.gpx")


def test_a_variant_is_placed(base: Path, run: Run) -> None:
    assert run("brief", "trip.yaml", "--variant", "next-day", "--with", "place", *NARROW)[0] == 0
    (solved,) = reported(base / "briefing")["solutions"]
    assert (solved["found"]["variant"], solved["found"]["trip"]["date"]) == ("next-day", "2026-06-28")


REFUSED = {
    "no such section": (
        ["--with", "plcae"],
        "--with plcae: there is no section plcae to be asked for\n"
        "    = Did you mean place? These can be asked for: place (Where the station can stand).\n",
    ),
    "a section that is always there": (
        ["--with", "map"],
        "--with map: every briefing has the section map where there is something to show in it\n"
        "    = Leave this option out.\n",
    ),
    "a setting without its section": (
        ["--set", "place.within=60 m"],
        "--set place.within=60 m: the section place is not asked for\n    = Add --with place.\n",
    ),
    "no such setting": (
        ["--with", "place", "--set", "place.wihtin=60 m"],
        "--set place.wihtin=60 m: the section place has no setting wihtin\n"
        "    = Did you mean within? It has within, around, from, accuracy.\n",
    ),
    "a setting that is none": (
        ["--with", "place", "--set", "place.within=0 m"],
        "--set place.within=0 m: it must be more than 0\n    = Write for example --set place.within='500 m'.\n",
    ),
}


@pytest.mark.parametrize(("options", "said"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_asked_for_is_refused_and_nothing_written(
    base: Path, run: Run, options: list[str], said: str
) -> None:
    assert run("brief", "trip.yaml", *options) == (2, "", said)
    assert not (base / "briefing").exists()


def test_a_plan_that_claims_nothing_has_nothing_to_place(base: Path, run: Run) -> None:
    plan = base / "trip.yaml"
    claims = read(plan)[read(plan).index("claims:") : read(plan).index("packs:")]
    plan.write_text(read(plan).replace(claims, ""), encoding="utf-8")
    assert run("brief", "trip.yaml", "--with", "place") == (2, "", (
        "the plan claims nothing, so any place will do\n"
        "    = Name under `claims:` what is to count, with its program and reference.\n"
    ))  # fmt: skip
    assert not (base / "briefing").exists()
    assert run("brief", "trip.yaml")[0] == 0


def test_a_plan_that_stands_nowhere_needs_a_middle(base: Path, run: Run) -> None:
    plan = base / "trip.yaml"
    at = "  at: {lat: 39.90412, lon: -117.30288, accuracy: 5 m, level: 68 %}\n"
    plan.write_text(read(plan).replace(at, ""), encoding="utf-8")
    assert run("brief", "trip.yaml", "--with", "place") == (2, "", (
        "cannot tell: position of the station is not stated\n"
        "    = Write `station.at` in the plan, or name the middle of the window with --set place.around=LAT,LON.\n"
    ))  # fmt: skip
    more = ("--set", "place.around=39.90412,-117.30288", "--set", "place.accuracy=5 m", "--set", "place.within=200 m")
    assert run("brief", "trip.yaml", "--with", "place", *more) == (0, WRITTEN, "")


def test_files_that_stand_are_written_over_only_where_they_are_asked_for(base: Path, run: Run) -> None:
    (base / "briefing").mkdir()
    mine = base / "briefing" / "placement.gpx"
    mine.write_text("mine\n", encoding="utf-8")
    assert run("brief", "trip.yaml", "--with", "place") == (
        2, "",
        "briefing/placement.gpx stands already; nothing was written\n    = Name another place, or add --force.\n",
    )  # fmt: skip
    assert tree(base / "briefing") == {"placement.gpx": b"mine\n"}
    assert run("brief", "trip.yaml")[0] == 0
    assert read(mine) == "mine\n"


def test_a_search_that_fails_is_named_and_the_rest_stands(
    base: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*asked: Any) -> Any:
        raise RuntimeError("no map")

    monkeypatch.setattr("afield.plugins.geometry.placement.solution.solution", broken)
    status, out, err = run("brief", "trip.yaml", "--with", "place")
    assert (status, out) == (4, WRITTEN)
    assert re.fullmatch(r"plugin geometry \(afield [^)]*\) failed at solving place: RuntimeError: no map\n", err)
    page, text = read(base / "briefing" / "briefing.html"), read(base / "briefing" / "briefing.txt")
    assert (TITLE in page, err.strip() in page, err.strip() in " ".join(text.split())) == (False, True, True)
    assert not (base / "briefing" / "placement.gpx").exists()
    (solved,) = reported(base / "briefing")["solutions"]
    assert (solved["found"], solved["crashes"]) == (None, [err.strip()])


def test_what_fails_on_the_way_is_told_beside_the_answer(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*asked: Any) -> Any:
        raise RuntimeError("no map")

    monkeypatch.setattr("afield.plugins.geometry.placement.inverses.inside_area", broken)
    status, out, err = run("brief", "trip.yaml", "--with", "place", *NARROW)
    assert (status, out) == (4, WRITTEN)
    assert re.search(r"^while place was solved: plugin geometry \(afield [^)]*\) failed at turning ", err)
    assert "place.margin_inside_area round: RuntimeError: no map\n" in err
    assert TITLE in read(base / "briefing" / "briefing.html")


def test_a_section_that_cannot_be_made_of_the_answer_is_named(
    base: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(found: Any) -> Any:
        raise RuntimeError("no words")

    monkeypatch.setattr("afield.plugins.geometry.placement.section_data.section_data", broken)
    status, _, err = run("brief", "trip.yaml", "--with", "place", *NARROW)
    assert (status, err) == (4, "the section place is missing: the warnings in briefing.txt say why\n")
    told = "the section place failed: RuntimeError: no words"
    assert told in " ".join(read(base / "briefing" / "briefing.txt").split())
