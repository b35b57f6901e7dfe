"""`afield plugin new`: what it writes installs, passes at once, and is enough for a stranger to build on."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from afield.core.cli.running import status_of

EXTENSION = Path(__file__).parent / "stranger"
"""What a stranger writes into the scaffold: files that are added, and that take the place of written ones."""


class Elsewhere:
    """A folder into which distributions are installed, and a process that finds them there."""

    def __init__(self, folder: Path) -> None:
        self.site, self.work = folder / "site", folder / "work"
        self.site.mkdir()
        self.work.mkdir()
        self.environment = {**os.environ, "PYTHONPATH": str(self.site), "PYTHONDONTWRITEBYTECODE": "1"}

    def python(self, *arguments: str, status: int = 0) -> str:
        done = subprocess.run(
            [sys.executable, *arguments],
            capture_output=True,
            text=True,
            cwd=self.work,
            env=self.environment,
            check=False,
        )  # fmt: skip
        assert done.returncode == status, done.stdout + done.stderr
        return done.stdout + done.stderr

    def afield(self, *arguments: str, status: int = 0) -> str:
        return self.python("-c", "from afield.core.cli import main; main()", *arguments, status=status)

    def install(self, folder: Path) -> None:
        self.python(
            "-m", "pip", "--quiet", "install", "--no-deps", "--no-build-isolation", "--no-index",
            "--target", str(self.site), str(folder),
        )  # fmt: skip


@pytest.fixture(scope="module")
def scaffold(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The distribution as it was written."""
    folder = tmp_path_factory.mktemp("new") / "afield-jetty"
    assert status_of(["plugin", "new", "jetty", "-o", str(folder)]) == 0
    return folder


@pytest.fixture(scope="module")
def elsewhere(scaffold: Path, tmp_path_factory: pytest.TempPathFactory) -> Elsewhere:
    """A place where it is installed."""
    place = Elsewhere(tmp_path_factory.mktemp("elsewhere"))
    place.install(scaffold)
    return place


def test_says_what_it_wrote_and_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert status_of(["plugin", "new", "jetty"]) == 0
    assert capsys.readouterr().out == (
        "afield-jetty\n    16 files of the plugin jetty; README.md says what is in each\n"
        "    install it with `pip install -e afield-jetty`, then run `afield plugin check jetty`\n"
    )
    assert len([path for path in (tmp_path / "afield-jetty").rglob("*") if path.is_file()]) == 16


def test_no_placeholder_is_left_and_its_readme_names_files_that_are_there(scaffold: Path) -> None:
    texts = {path: path.read_text(encoding="utf-8") for path in scaffold.rglob("*") if path.is_file()}
    assert [path for path, text in texts.items() if re.search("@[a-z]+@", text)] == []
    named = re.findall(r"^\| `(\S+)` \|", (scaffold / "README.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert len(named) == 8
    assert [name for name in named if not (scaffold / name).exists()] == []


def test_it_passes_the_conformance_kit_at_once_with_nothing_left_unlooked_at(elsewhere: Elsewhere) -> None:
    lines = elsewhere.afield("plugin", "check", "jetty").splitlines()
    assert lines[-1] == "plugin jetty (afield-jetty 0.1.0): 21 passed, 0 failed, 0 not looked at"
    assert "monotonic                           1 passed" in lines


def test_its_own_tests_pass_at_once(elsewhere: Elsewhere, scaffold: Path) -> None:
    assert "6 passed" in elsewhere.python("-m", "pytest", "-q", "-p", "no:cacheprovider", str(scaffold))


def test_its_pack_passes_its_cases_and_the_lint(elsewhere: Elsewhere) -> None:
    assert elsewhere.afield("pack", "test", "jetty-rules") == "jetty-rules 0.1.0: 4 cases right, 0 wrong\n"
    assert "0 errors, 0 warnings" in elsewhere.afield("pack", "lint", "jetty-rules")


def test_its_code_is_clean(scaffold: Path) -> None:
    line = ["--no-cache", "--isolated", "--line-length", "120", "--target-version", "py311"]
    check = ["check", "--select", "E,F,W,B,UP,C4,SIM,RET,PIE,N,D1", str(scaffold / "afield_jetty")]
    for arguments in (check, ["format", "--check", str(scaffold)]):
        command = [sys.executable, "-m", "ruff", *arguments, *line]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout


def test_a_plan_is_judged_with_it(elsewhere: Elsewhere) -> None:
    plan = elsewhere.work / "plan.yaml"
    plan.write_text("trip: Low\ndate: 2026-06-27\njetty: {eye_height: 3 m}\npacks: [jetty-rules]\n")
    assert "6.8 km ± 2.9 km" in elsewhere.afield("check", "plan.yaml")
    plan.write_text("trip: Low\ndate: 2026-06-27\njetty: {eye_hight: 3 m}\npacks: [jetty-rules]\n")
    assert 'Did you mean "eye_height"?' in elsewhere.afield("check", "plan.yaml", status=2)


@pytest.fixture(scope="module")
def stranger(tmp_path_factory: pytest.TempPathFactory) -> Elsewhere:
    """The scaffold with a stranger's own work in it, installed."""
    folder = tmp_path_factory.mktemp("stranger") / "afield-tides"
    assert status_of(["plugin", "new", "tides", "-o", str(folder)]) == 0
    for source in (path for path in EXTENSION.rglob("*") if path.is_file() and path.suffix != ".pyc"):
        target = folder / source.relative_to(EXTENSION).with_suffix("") if source.suffix == ".txt" else None
        target = target or folder / source.relative_to(EXTENSION)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(source.read_bytes())
    place = Elsewhere(tmp_path_factory.mktemp("away"))
    place.install(folder)
    plan = folder / "afield_tides" / "checks" / "plan.yaml"
    (place.work / "plan.yaml").write_text(plan.read_text(encoding="utf-8"), encoding="utf-8")
    return place


def test_a_stranger_adds_a_kind_a_computation_and_facts(stranger: Elsewhere) -> None:
    listed = stranger.afield("facts", "jetty.")
    assert listed.splitlines()[0] == "jetty:"
    assert "  jetty.free_hours" in listed
    assert '"hours"' in stranger.afield("compute", "tide_free_time", "range_m=4", "depth_m=2", "draught_m=1")


def test_a_strangers_rules_judge_each_jetty_of_the_plan(stranger: Elsewhere) -> None:
    told = stranger.afield("check", "plan.yaml", status=1)
    assert "passed          The jetty can be used long enough" in told
    assert "failed          The jetty can be used long enough" in told
    assert "plugin" not in told


def test_what_a_strangers_plugin_adds_to_the_plan_is_checked_like_our_own(stranger: Elsewhere) -> None:
    plan = stranger.work / "wrong.yaml"
    plan.write_text((stranger.work / "plan.yaml").read_text().replace("draught: 0.4 m", "draft: 0.4 m"))
    assert 'Did you mean "draught"?' in stranger.afield("check", "wrong.yaml", status=2)


def test_a_strangers_section_stands_in_the_briefing(stranger: Elsewhere) -> None:
    stranger.afield("brief", "plan.yaml", "-o", "bag")
    page = (stranger.work / "bag" / "briefing.html").read_text(encoding="utf-8")
    text = (stranger.work / "bag" / "briefing.txt").read_text(encoding="utf-8")
    assert "Hours at the jetties" in page
    assert "North steps" in page
    assert "North steps" in text


def test_a_strangers_command_runs(stranger: Elsewhere) -> None:
    assert stranger.afield("tides", "plan.yaml") == "North steps: 9.3 h of 12.4 h\nOld pier: 3.0 h of 12.4 h\n"


def test_a_strangers_plugin_keeps_what_every_plugin_promises(stranger: Elsewhere) -> None:
    told = stranger.afield("plugin", "check", "tides")
    assert re.search(r"plugin tides \(afield-tides 0.1.0\): \d\d passed, 0 failed, 0 not looked at\n$", told)


def test_a_strangers_pack_passes_its_cases(stranger: Elsewhere) -> None:
    assert stranger.afield("pack", "test", "tides-rules") == "tides-rules 0.1.0: 3 cases right, 0 wrong\n"


def test_a_strangers_work_stands_in_the_reference(stranger: Elsewhere) -> None:
    found = stranger.afield("plugin", "reference")
    for line in ("| `jetty` | jetty | trip | tides |", "### `tide_free_time`", "| `jetties[].draught` |"):
        assert line in found


def test_nothing_of_the_stranger_is_in_core(stranger: Elsewhere) -> None:
    assert "tides" not in subprocess.run(
        [sys.executable, "-c", "from afield.core.cli import main; main()", "plugin", "list"],
        capture_output=True, text=True, check=True, cwd=stranger.work,
    ).stdout  # fmt: skip
