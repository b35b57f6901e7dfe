from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from afield.core.cli.running import status_of

BASE = Path(__file__).parent / "base"
Outcome = tuple[int, str, str]
Run = Callable[..., Outcome]


@pytest.fixture
def base(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the base plan with its packs, as the current folder."""
    folder = tmp_path / "trip"
    shutil.copytree(BASE, folder)
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a command in this process: exit status, standard output, standard error."""

    def outcome(*arguments: str) -> Outcome:
        capsys.readouterr()
        status = status_of(list(arguments))
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return outcome
