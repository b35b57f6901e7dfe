"""What can go wrong with the command line itself, and with what is installed."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from importlib.metadata import EntryPoint
from pathlib import Path

import pytest

from afield.core.api import Fact, fact, hookimpl
from afield.core.cli.running import status_of
from afield.core.host import loading

from .conftest import Run


@pytest.mark.parametrize(
    "arguments", [["chek"], ["check"], ["check", "a", "b"], ["check", "--frmat", "json", "a"], ["check", "--now"]]
)
def test_usage_that_typer_refuses(run: Run, arguments: list[str]) -> None:
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert err.startswith("afield: ")
    assert err.endswith("\n    = `afield --help` lists the commands and their options.\n")
    assert len(err.splitlines()) == 2


@pytest.mark.parametrize("arguments", [[], ["pack"], ["plugin"]])
def test_nothing_asked_for_gives_the_help(run: Run, arguments: list[str]) -> None:
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert err.startswith(" ".join(["Usage: afield", *arguments]))


def test_an_internal_error_is_said_to_be_ours(run: Run, base: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("afield.core.report.formats.text.report_text", lambda report: 1 / 0)
    assert run("check", "trip.yaml") == (
        4,
        "",
        "afield: internal error: ZeroDivisionError: division by zero\n"
        "    = This is a fault of the program. Run the command again with --debug and report what it prints.\n",
    )


def test_debug_shows_the_traceback(base: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("afield.core.report.formats.text.report_text", lambda report: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        status_of(["check", "trip.yaml"], debug=True)


def _process(*arguments: str, cwd: Path, **more: object) -> subprocess.CompletedProcess[str]:
    program = "from afield.core.cli import main; main()"
    return subprocess.run(
        [sys.executable, "-c", program, *arguments], cwd=cwd, capture_output=True, text=True, check=False, **more
    )  # type: ignore[call-overload, no-any-return]


def test_the_process_ends_with_the_status_of_the_command(base: Path) -> None:
    right = _process("check", "trip.yaml", cwd=base)
    assert (right.returncode, right.stderr) == (0, "")
    wrong = _process("check", "tripp.yaml", cwd=base)
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert wrong.stderr == 'tripp.yaml: there is no such file\n    = Did you mean "trip.yaml"?\n'


def test_a_process_shows_a_traceback_with_debug_alone(base: Path) -> None:
    (base / "trip.yaml").write_text("")
    assert "Traceback" not in _process("check", "trip.yaml", cwd=base).stderr
    debugged = _process("--debug", "check", "trip.yaml", cwd=base)
    assert debugged.returncode != 0
    assert debugged.stderr.startswith("Traceback") and "InputError" in debugged.stderr


def test_a_terminal_without_the_signs_is_no_reason_to_stop(base: Path) -> None:
    environment = {"PYTHONIOENCODING": "latin-1", "PATH": "/usr/bin"}
    found = _process("why", "trip.yaml", "in-corridor", cwd=base, env=environment, encoding="latin-1")
    assert (found.returncode, found.stderr) == (0, "")
    assert "?? rule at pack:my-road/rules.yaml:2:5" in found.stdout


class _Distribution:
    """What a plugin was installed with."""

    def __init__(self, name: str) -> None:
        self.name, self.version = name, "1"
        self.metadata = {"Name": name, "Version": "1"}


class _Entry:
    """An entry point that leads to an object instead of a module."""

    def __init__(self, name: str, module: str) -> None:
        self.name, self.module = name, module
        self.dist = _Distribution(f"dist-{name}")


def _plugins(monkeypatch: pytest.MonkeyPatch, **facts: Sequence[Fact]) -> None:
    for name, declared in facts.items():

        class Plugin:
            @hookimpl
            def afield_facts(self, found: Sequence[Fact] = declared) -> Sequence[Fact]:
                return found

        monkeypatch.setitem(sys.modules, f"fake_{name}", Plugin())  # type: ignore[arg-type]
    fakes: list[EntryPoint] = [_Entry(name, f"fake_{name}") for name in facts]  # type: ignore[misc]
    monkeypatch.setattr(loading, "entry_points", lambda group: fakes)


def _declared(name: str, *needs: str) -> Fact:
    parameters = {need.replace(".", "_"): need for need in needs}
    return Fact(name, "trip", "number", "m", name, function=lambda **given: 1.0, parameters=parameters)


FIT = "afield: the installed plugins do not fit together: "


def test_two_plugins_with_one_name_for_a_fact(run: Run, base: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _plugins(monkeypatch, one=[_declared("sea.depth")], two=[_declared("sea.depth")])
    assert run("check", "trip.yaml") == (
        2,
        "",
        f"{FIT}the fact sea.depth is declared by plugin one (dist-one 1) and by plugin two (dist-two 1)\n"
        "    = Uninstall one of the two plugins, or rename the fact in one of them.\n",
    )


def test_a_fact_declared_twice_by_one_plugin(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    _plugins(monkeypatch, one=[_declared("sea.depth"), _declared("sea.depth")])
    assert run("facts") == (
        2, "", f"{FIT}plugin one (dist-one 1) declares the fact sea.depth twice\n    = Remove one of the two.\n",
    )  # fmt: skip


def test_names_that_are_one_in_python(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    _plugins(monkeypatch, one=[_declared("sea.far_depth")], two=[_declared("sea_far.depth")])
    first, second = "sea.far_depth of plugin one (dist-one 1)", "sea_far.depth of plugin two (dist-two 1)"
    assert run("facts") == (
        2,
        "",
        f"{FIT}the facts {first} and {second} are both sea_far_depth in Python\n    = Rename one of them.\n",
    )


def test_cyclic_facts(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    _plugins(monkeypatch, one=[_declared("sea.depth", "sea.width"), _declared("sea.width", "sea.depth")])
    assert run("facts") == (
        2,
        "",
        f"{FIT}plugin one (dist-one 1): the facts form a cycle: sea.depth needs sea.width needs sea.depth\n"
        "    = One of them must not need the next.\n",
    )


def test_a_need_that_nothing_declares(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    _plugins(monkeypatch, one=[_declared("sea.depth"), _declared("sea.width", "sea.detph")])
    assert run("facts") == (
        2,
        "",
        f"{FIT}plugin one (dist-one 1): the fact sea.width asks for sea.detph, which nothing declares\n"
        "    = Did you mean sea_depth?\n",
    )


def test_two_plugins_of_one_name(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    _plugins(monkeypatch, one=[])
    twice = [*loading.entry_points(group=""), *loading.entry_points(group="")]
    monkeypatch.setattr(loading, "entry_points", lambda group: twice)
    assert run("plugin", "list") == (
        2,
        "",
        f"{FIT}two plugins are called one: plugin one (dist-one 1) and plugin one (dist-one 1)\n"
        "    = Uninstall one of them.\n",
    )


def test_a_fact_function_that_raises_is_a_crash_with_its_name(
    run: Run, base: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    @fact("trip.luck", kind="trip", type="number", unit="", title="luck", exact=True)
    def luck() -> float:
        raise KeyError("no luck")

    _plugins(monkeypatch, luck=[luck])
    rule = (
        (base / "my-list/rules.yaml")
        .read_text()
        .replace("confirm: Put the licence in the bag.\n    when: home", 'require: {fact: trip.luck, at_least: "1"}')
    )
    (base / "my-list/rules.yaml").write_text(rule)
    (base / "trip.yaml").write_text("trip: A day\ndate: 2026-06-27\npacks: [my-list]\n")
    pack = (base / "my-list/pack.yaml").read_text().replace("[outing]", "[luck]")
    (base / "my-list/pack.yaml").write_text(pack)
    status, out, err = run("check", "trip.yaml")
    assert (status, err) == (4, "")
    assert "plugin luck (dist-luck 1) failed at trip.luck of trip: KeyError: 'no luck'" in out
    assert "  cannot tell     The papers are in the bag" in out.splitlines()
