"""Files that sections offer beside the page: by a plain name of their own, whole, and named where they fail."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from afield.core.api import Section
from afield.core.briefing.files import offered_files, section_files

Files = Mapping[str, Callable[[Mapping[str, Any]], str | None]]
REPORT = {"sections": [{"name": "walk", "title": "Walk", "data": {"steps": 3}}]}


def section(name: str, files: Files) -> Section:
    return Section(
        name=name, title=name, order=1, wants=(), data=lambda facts: {}, schema={}, template="t.html",
        package=f"plug.{name}", files=files,
    )  # fmt: skip


def test_a_file_is_made_from_the_data_of_its_section() -> None:
    files: Files = {"steps.txt": lambda data: f"{data['steps']} steps\n", "none.txt": lambda data: None}
    assert section_files(REPORT, [section("walk", files)]) == ({"steps.txt": "3 steps\n"}, [])


def test_a_section_that_was_left_out_has_no_file() -> None:
    assert section_files(REPORT, [section("drive", {"drive.txt": lambda data: "here"})]) == ({}, [])


def test_a_failing_file_is_named_and_the_others_stand() -> None:
    def broken(data: Mapping[str, Any]) -> str:
        raise KeyError("miles")

    found = section_files(REPORT, [section("walk", {"bad.txt": broken, "good.txt": lambda data: "good"})])
    assert found == ({"good.txt": "good"}, ["plug.walk could not write bad.txt: KeyError: 'miles'"])


@pytest.mark.parametrize("name", ["", ".", "..", "a/b.txt", "..\\b", "c:x", ".hidden."])
def test_a_name_that_leaves_the_folder_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="which is no plain file name"):
        offered_files([section("walk", {name: lambda data: "x"})])


@pytest.mark.parametrize("name", ["report.json", "Briefing.HTML", "walk.txt"])
def test_a_name_that_is_taken_is_refused(name: str) -> None:
    first = section("first", {"walk.txt": lambda data: "x"})
    with pytest.raises(ValueError, match="which is taken already"):
        offered_files([first, section("walk", {name: lambda data: "x"})])
