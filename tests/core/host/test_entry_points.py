"""The entry points of plain folders are those that the standard library finds."""

from __future__ import annotations

import sys
import zipfile
from collections.abc import Callable
from importlib import metadata
from pathlib import Path
from typing import Any

import pytest

from afield.core.host.entry_points import InstalledPoint, entry_points

Added = Callable[..., Path]

ENTRIES = """\
[console_scripts]
toy = toy.main:run

# kept apart
[toys.group]
first = toy.first
second=toy.second:plugin
third = toy.third
  fourth = toy.inner.fourth : plugin [extra]
# fifth = toy.fifth
[toys.group.more]
sixth = toy.sixth
"""


@pytest.fixture
def added(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Added:
    """Puts a distribution into a folder of its own, the first that is looked in."""

    def put(
        folder: str, about: str = "toy_things-1.0.dist-info", entries: str = ENTRIES, said: str = "METADATA"
    ) -> Path:
        place = tmp_path / folder / about
        place.mkdir(parents=True)
        (place / said).write_text("Metadata-Version: 2.1\nName: Toy.Things\nVersion: 1.0\n\nName: not this\n")
        (place / "entry_points.txt").write_text(entries)
        if sys.path[0] != str(tmp_path / folder):
            monkeypatch.syspath_prepend(str(tmp_path / folder))
        return place

    return put


def told(points: Any) -> list[tuple[str, str, str, str]]:
    return sorted((point.name, point.module, point.dist.name, point.dist.version) for point in points)


@pytest.mark.parametrize("group", ["afield.plugins", "afield.packs", "console_scripts", "pytest11", "no.such.group"])
def test_what_is_installed_here_is_found_alike(group: str) -> None:
    assert told(entry_points(group)) == told(metadata.entry_points(group=group))


@pytest.mark.parametrize(
    ("about", "said"), [("toy_things-1.0.dist-info", "METADATA"), ("Toy.Things-1.0.egg-info", "PKG-INFO")]
)
def test_a_distribution_is_read_as_the_standard_library_reads_it(added: Added, about: str, said: str) -> None:
    added("house", about, ENTRIES, said)
    found = entry_points("toys.group")
    assert all(isinstance(point, InstalledPoint) for point in found)
    assert told(found) == told(metadata.entry_points(group="toys.group"))
    assert told(found) == [
        ("first", "toy.first", "Toy.Things", "1.0"),
        ("fourth", "toy.inner.fourth", "Toy.Things", "1.0"),
        ("second", "toy.second", "Toy.Things", "1.0"),
        ("third", "toy.third", "Toy.Things", "1.0"),
    ]


def test_of_two_of_one_name_the_first_on_the_path_counts(added: Added) -> None:
    added("yard", "Toy.Things-2.0.dist-info", "[toys.group]\nold = toy.old\n")
    added("house", "toy_things-1.0.dist-info", "[toys.group]\nnew = toy.new\n")
    assert [point.name for point in entry_points("toys.group")] == ["new"]
    assert told(entry_points("toys.group")) == told(metadata.entry_points(group="toys.group"))


def test_of_two_in_one_folder_one_counts(added: Added) -> None:
    added("house", "toy_things-2.0.dist-info", "[toys.group]\nold = toy.old\n")
    added("house", "toy_things-1.0.dist-info", "[toys.group]\nnew = toy.new\n")
    assert told(entry_points("toys.group")) == told(metadata.entry_points(group="toys.group"))


def test_what_is_no_folder_or_not_there_is_passed_over(
    added: Added, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    added("house")
    (tmp_path / "house" / "flat_things-1.0.egg-info").write_text("Name: flat\n")
    (tmp_path / "house" / "bare_things-1.0.dist-info").mkdir()
    monkeypatch.syspath_prepend(str(tmp_path / "no such folder"))
    assert told(entry_points("toys.group")) == told(metadata.entry_points(group="toys.group"))
    assert len(entry_points("toys.group")) == 4


def test_a_distribution_that_says_nothing_of_itself(added: Added) -> None:
    place = added("house")
    (place / "METADATA").unlink()
    assert {(point.dist.name, point.dist.version) for point in entry_points("toys.group")} == {("?", "?")}  # type: ignore[union-attr]


def test_nothing_is_kept_from_one_time_to_the_next(added: Added) -> None:
    place = added("house")
    before = told(entry_points("toys.group"))
    (place / "entry_points.txt").write_text("[toys.group]\nlate = toy.late\n")
    assert before != told(entry_points("toys.group")) == [("late", "toy.late", "Toy.Things", "1.0")]


def test_an_archive_on_the_path_is_left_to_the_standard_library(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with zipfile.ZipFile(tmp_path / "toys.zip", "w") as archive:
        archive.writestr("toy_things-1.0.dist-info/METADATA", "Name: zipped\nVersion: 3.0\n")
        archive.writestr("toy_things-1.0.dist-info/entry_points.txt", "[toys.group]\nzipped = toy.zipped\n")
    monkeypatch.syspath_prepend(str(tmp_path / "toys.zip"))
    assert told(entry_points("toys.group")) == [("zipped", "toy.zipped", "zipped", "3.0")]


def test_a_finder_of_its_own_is_asked(monkeypatch: pytest.MonkeyPatch, added: Added) -> None:
    place = added("house")
    monkeypatch.setattr(sys, "path", [entry for entry in sys.path if entry != str(place.parent)])
    assert not entry_points("toys.group")

    class Finder:
        @staticmethod
        def find_distributions(context: Any = None) -> list[metadata.Distribution]:
            return [metadata.PathDistribution(place)]

        @staticmethod
        def find_spec(*_: Any) -> None:
            return None

    monkeypatch.setattr(sys, "meta_path", [*sys.meta_path, Finder])
    assert {point.name for point in entry_points("toys.group")} >= {"first", "second"}
