"""Sections that are made only where they are asked for: by their names, with their settings, or not at all."""

from __future__ import annotations

import pytest

from afield.core.api import Section, Solver, UsageError
from afield.core.briefing.asking import asked_sections, can_be_asked


def section(name: str, title: str, *settings: str, asked: bool = True) -> Section:
    solver = Solver("nowhere:solve", name, {}, settings) if asked else None
    return Section(name, title, 1, (), lambda facts: {}, {}, "none.html", "nowhere", solver=solver)


WALK = section("walk", "The way on foot", "pace", "start")
DRIVE = section("drive", "The way by car")
MAP = section("map", "Map", asked=False)
SECTIONS = [WALK, MAP, DRIVE]


def test_what_is_asked_for_by_name_and_setting() -> None:
    assert asked_sections(SECTIONS, ["walk"]) == {"walk": {}}
    assert asked_sections(SECTIONS, ["drive", "walk", "drive"], ["walk.pace = 4 km/h", "walk.start=a=b, c"]) == {
        "drive": {}, "walk": {"pace": "4 km/h", "start": "a=b, c"},
    }  # fmt: skip
    assert asked_sections(SECTIONS, []) == {}


def test_what_can_be_asked_for_stands_in_order() -> None:
    assert can_be_asked(SECTIONS) == [DRIVE, WALK]


WRONG = {
    "a name near one": (
        ["wakl"], [],
        "--with wakl: there is no section wakl to be asked for\n"
        "    = Did you mean walk? These can be asked for: drive (The way by car), walk (The way on foot).",
    ),
    "a name like none": (
        ["tide"], [],
        "--with tide: there is no section tide to be asked for\n"
        "    = These can be asked for: drive (The way by car), walk (The way on foot).",
    ),
    "no name": (
        [""], [],
        "--with : there is no section '' to be asked for\n"
        "    = These can be asked for: drive (The way by car), walk (The way on foot).",
    ),
    "a section of every briefing": (
        ["map"], [],
        "--with map: every briefing has the section map where there is something to show in it\n"
        "    = Leave this option out.",
    ),
    "a setting of what is not asked for": (
        ["drive"], ["walk.pace=4 km/h"],
        "--set walk.pace=4 km/h: the section walk is not asked for\n    = Add --with walk.",
    ),
    "a setting of no section": (
        ["walk"], ["wakl.pace=1"],
        "--set wakl.pace=1: there is no section wakl to be asked for\n"
        "    = Did you mean walk? These can be asked for: drive (The way by car), walk (The way on foot).",
    ),
    "a setting near one": (
        ["walk"], ["walk.pcae=1"],
        "--set walk.pcae=1: the section walk has no setting pcae\n    = Did you mean pace? It has pace, start.",
    ),
    "a setting like none": (
        ["walk"], ["walk.zzz=1"], "--set walk.zzz=1: the section walk has no setting zzz\n    = It has pace, start.",
    ),
    "a setting where there are none": (
        ["drive"], ["drive.pace=1"], "--set drive.pace=1: the section drive has no setting pace\n    = It has none.",
    ),
    "no setting": (
        ["walk"], ["pace=4 km/h"],
        "--set pace=4 km/h: it sets nothing\n    = Write --set NAME.SETTING=VALUE, for example --set walk.pace=VALUE.",
    ),
    "no value": (
        ["walk"], ["walk.pace"],
        "--set walk.pace: it sets nothing\n    = Write --set NAME.SETTING=VALUE, for example --set walk.pace=VALUE.",
    ),
    "twice": (
        ["walk"], ["walk.pace=1", "walk.pace=2"],
        "--set walk.pace=2: walk.pace is set twice\n    = Leave one of the two out.",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("names", "settings", "said"), WRONG.values(), ids=WRONG)
def test_what_is_no_name_or_no_setting_is_refused(names: list[str], settings: list[str], said: str) -> None:
    with pytest.raises(UsageError) as caught:
        asked_sections(SECTIONS, names, settings)
    assert str(caught.value) == said


def test_where_nothing_can_be_asked_for_it_is_said() -> None:
    with pytest.raises(UsageError) as caught:
        asked_sections([MAP], ["walk"])
    assert str(caught.value) == (
        "--with walk: there is no section walk to be asked for\n"
        "    = No installed plugin brings a section that is made only where it is asked for."
    )
    with pytest.raises(UsageError) as caught:
        asked_sections([DRIVE], ["drive"], ["pace"])
    assert str(caught.value) == "--set pace: it sets nothing\n    = Write --set NAME.SETTING=VALUE."
