"""Files are written whole or not at all, and nothing is overwritten without --force."""

from __future__ import annotations

import errno
import os
from pathlib import Path
from typing import Any

import pytest

from afield.core.documents.writing import UsageError, write_all

from .conftest import Run


def _tree(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def test_demo_writes_a_plan_and_its_briefing(base: Path, run: Run) -> None:
    status, out, err = run("demo", "demo")
    assert (status, err) == (0, "")
    assert set(_tree(base / "demo")) >= {
        "trip.yaml", "briefing/briefing.html", "briefing/briefing.txt", "briefing/report.json",
    }  # fmt: skip
    assert "demo/trip.yaml" in out and "demo/briefing/briefing.html" in out
    assert run("check", "demo/trip.yaml")[0] == 1


def test_demo_twice_gives_the_same_bytes(base: Path, run: Run) -> None:
    run("demo", "one")
    run("demo", "two")
    assert _tree(base / "one") == _tree(base / "two")


def test_nothing_is_overwritten_without_force(base: Path, run: Run) -> None:
    run("demo", "demo")
    (base / "demo" / "trip.yaml").write_text("mine\n")
    before = _tree(base)
    status, out, err = run("demo", "demo")
    assert (status, out) == (2, "")
    assert err.endswith("stands already; nothing was written\n    = Name another place, or add --force.\n")
    assert _tree(base) == before
    assert run("demo", "demo", "--force")[0] == 0
    assert (base / "demo" / "trip.yaml").read_text() != "mine\n"


def test_a_briefing_that_stands_stops_the_demo_before_it_writes(base: Path, run: Run) -> None:
    (base / "demo" / "briefing").mkdir(parents=True)
    (base / "demo" / "briefing" / "report.json").write_text("mine\n")
    assert run("demo", "demo")[0] == 2
    assert _tree(base / "demo") == {"briefing/report.json": b"mine\n"}


def test_brief_into_a_file_and_over_a_folder(base: Path, run: Run) -> None:
    (base / "out").mkdir()
    (base / "out" / "briefing.html").mkdir()
    assert run("brief", "trip.yaml", "-o", "out", "--force") == (
        2, "", "out/briefing.html is a folder; nothing was written\n    = Name another place.\n",
    )  # fmt: skip


def test_a_plan_that_is_refused_writes_no_briefing(base: Path, run: Run) -> None:
    (base / "trip.yaml").write_text("trip: x\n")
    assert run("brief", "trip.yaml")[0] == 2
    assert not (base / "briefing").exists()


@pytest.mark.parametrize("failing", ["write", "put in place"])
def test_a_disk_that_fills_up_leaves_everything_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    (tmp_path / "b").write_text("old\n")
    before = _tree(tmp_path)
    real = os.chmod
    seen: list[Any] = []

    def full(name: Any, *rest: Any) -> None:
        seen.append(name)
        if failing == "put in place" or len(seen) == 2:
            raise OSError(errno.ENOSPC, "No space left on device")
        real(name, *rest)

    monkeypatch.setattr("os.replace" if failing == "put in place" else "os.chmod", full)
    with pytest.raises(UsageError) as caught:
        write_all({tmp_path / "a": "1\n", tmp_path / "b": "2\n"}, force=True)
    assert str(caught.value) == (
        f"{tmp_path / ('a' if failing == 'put in place' else 'b')} cannot be written: No space left on device\n"
        "    = Name another place, or make room there."
    )
    assert _tree(tmp_path) == before


def test_files_can_be_passed_on(tmp_path: Path) -> None:
    write_all({tmp_path / "deep" / "a": "ü\n"}, force=False)
    assert (tmp_path / "deep" / "a").read_bytes() == "ü\n".encode()
    assert (tmp_path / "deep" / "a").stat().st_mode & 0o777 == 0o644
