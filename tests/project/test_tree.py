"""What stands in the repository: the fixed top level, licences and sources, and no word that has no business there."""

from __future__ import annotations

import hashlib
import re
import subprocess
import tomllib
from itertools import pairwise
from pathlib import Path

import pytest

TOP = {
    "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "core", "plugins", "programs", "schemas", "tests",
}  # fmt: skip

NO_TEXT = (".tif", ".mo")

MACHINE = {
    "a folder of one machine": re.compile(r"(?<![\w.])/(?:home|root|Users|opt|work|mnt)/\w"),
    "a drive of one machine": re.compile(r"\b[A-Z]:\\\w"),
    "a package index": re.compile(r"\b(?:pypi|npmjs|pythonhosted|anaconda|crates)\.(?:org|com|io)\b"),
    "a local host": re.compile(r"\b(?:127\.0\.0\.1|localhost):\d"),
}

BANNED = {
    "028cdc72b35c1bc2", "053ea4804ef1bb33", "1abfe47fba8056eb", "227163655c31c1e2", "3638a16ee0ebb8e5",
    "3c77230db4a080d1", "3ea125d0bff386e6", "435388c91464e6c7", "487b91042c7cf27a", "549eb0447cc9d1d1",
    "5cfa0da81d678685", "5d72436256ada538", "5eff592cc497fccb", "60965168ce762e94", "745943e47ca5b66c",
    "7a2cdf6959fba50c", "7d3194f79e645c42", "8c70b25cbbbe8e79", "94a168d2da574b00", "a29bff62bd4ac592",
    "a7d6d8cd884bf842", "ac7fc42159c97759", "c3c3fab5cc961dde", "c671bf36723a2b22", "c70eca6b0f88f44d",
    "c857d09db23e6822", "d298391b07433318", "d4f0bc5a29de06b5", "e7ecc58b3178e834", "fc18428716dc8946",
}  # fmt: skip
"""Words that must not stand here, by the beginnings of their SHA-256, so that they do not stand here either."""


def digest(word: str) -> str:
    """The beginning of the word's SHA-256."""
    return hashlib.sha256(word.encode()).hexdigest()[:16]


def words(text: str) -> set[str]:
    """The words of a text in lower case, with those that stand in pairs as one."""
    found = re.findall(r"[a-z0-9]+", text.lower())
    return {*found, *(" ".join(pair) for pair in pairwise(found))}


@pytest.fixture(scope="module")
def texts(all_files: list[Path], root: Path) -> dict[Path, str]:
    """Every text of ours; the open data are others' words, and grids of heights and compiled catalogues are none."""
    ours = [path for path in all_files if path.parts[:2] != ("tests", "data") or path.name == "SOURCE.md"]
    ours = [path for path in ours if path.suffix not in NO_TEXT]
    return {path: (root / path).read_text(encoding="utf-8") for path in ours}


def test_the_top_level_is_the_house(root: Path) -> None:
    listed = subprocess.run(["git", "-C", str(root), "ls-files"], capture_output=True, text=True, check=False)
    tracked = {line.split("/")[0] for line in listed.stdout.splitlines()} if not listed.returncode else TOP
    assert {name for name in tracked if not name.startswith(".")} <= TOP
    assert all((root / name).exists() for name in TOP)


def test_nothing_tracked_is_made_by_a_tool(root: Path) -> None:
    listed = subprocess.run(
        ["git", "-C", str(root), "ls-files", "-ci", "--exclude-standard"], capture_output=True, check=False
    )
    assert listed.stdout == b""


@pytest.mark.parametrize("what", MACHINE)
def test_no_text_names_something_of_one_machine(what: str, texts: dict[Path, str]) -> None:
    assert not {str(path): found.group() for path, text in texts.items() if (found := MACHINE[what].search(text))}


def test_no_banned_word_is_written(texts: dict[Path, str]) -> None:
    found = {str(path): sorted(word for word in words(text) if digest(word) in BANNED) for path, text in texts.items()}
    assert not {path: banned for path, banned in found.items() if banned}


def test_the_ban_finds_a_word_in_a_sentence() -> None:
    assert digest("brand" + "name") in BANNED
    assert [word for word in words("A (Brand" + "name)!") if digest(word) in BANNED] == ["brand" + "name"]


def test_every_text_is_utf_8_with_unix_line_ends_and_an_end(all_files: list[Path], root: Path) -> None:
    ours = [path for path in all_files if path.parts[:2] != ("tests", "data") and path.suffix not in NO_TEXT]
    contents = {path: (root / path).read_bytes() for path in ours}
    assert not [str(path) for path, content in contents.items() if b"\r" in content]
    assert not [str(path) for path, content in contents.items() if path.suffix != ".json" and content[-1:] not in b"\n"]


def test_licence_readme_and_project_agree(root: Path) -> None:
    project = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["license"] == "MIT"
    assert (root / "LICENSE").read_text(encoding="utf-8").startswith("MIT License\n")
    assert (root / "README.md").read_text(encoding="utf-8").startswith("# afield\n")


def test_the_readme_states_the_two_commands(root: Path) -> None:
    lines = (root / "README.md").read_text(encoding="utf-8").splitlines()
    assert "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/afield demo" in lines
    assert ".venv/bin/pip install '.[test]' && .venv/bin/python -m pytest" in lines


def test_what_the_readme_and_the_guide_link_to_is_there(root: Path) -> None:
    pages = {name: (root / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md")}
    links = [link for text in pages.values() for link in re.findall(r"\]\(([^)#:]+)\)", text)]
    assert links
    assert not [link for link in links if not (root / link).exists()]


def test_every_file_of_open_data_stands_beside_its_source_and_licence(all_files: list[Path], root: Path) -> None:
    data = [path for path in all_files if path.parts[:2] == ("tests", "data")]
    sources = {path.parent: (root / path).read_text(encoding="utf-8") for path in data if path.name == "SOURCE.md"}
    assert data
    assert not [str(path) for path in data if path.parent not in sources]
    assert all("- Source: " in text and "- Licence: " in text for text in sources.values())


def test_the_ci_is_one_executable_file(root: Path) -> None:
    assert (root / ".ci" / "run").stat().st_mode & 0o100
    assert (root / ".ci" / "run").read_text(encoding="utf-8").startswith("#!/usr/bin/env bash\nset -euo pipefail\n")
