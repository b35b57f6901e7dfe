"""The commands of core and of plugins, and that only what is asked for is imported."""

from __future__ import annotations

import subprocess
import sys
from types import SimpleNamespace

import pytest

from afield.core.cli.app import COMMANDS, command
from afield.core.cli.running import status_of
from afield.core.host.hookspecs import Command, hookimpl
from afield.core.host.loading import Host, PluginInfo, new_host


def plugin(*commands: Command) -> SimpleNamespace:
    @hookimpl
    def afield_commands() -> tuple[Command, ...]:
        return commands

    return SimpleNamespace(afield_commands=afield_commands)


def shelve(books: int) -> int:
    """Say how many books stand."""
    print(f"{books} books stand")
    return 3


def house(*commands: Command) -> Host:
    host = new_host()
    host.add(plugin(*commands), PluginInfo("house", "house-things", "1.0"))
    return host


@pytest.fixture
def installed(monkeypatch: pytest.MonkeyPatch) -> None:
    host = house(Command("shelve", shelve, "Say how many books stand."))
    monkeypatch.setattr("afield.core.host.loading.installed_host", lambda: host)


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_alone_is_the_command_among_all(name: str) -> None:
    alone, among = command(name).commands[name], command().commands[name]
    assert [parameter.name for parameter in alone.params] == [parameter.name for parameter in among.params]
    assert (alone.name, alone.help) == (among.name, among.help) == (name, alone.help)


def test_all_commands_are_listed_in_their_order() -> None:
    listed = list(command().commands)
    brought = [name for name in listed if name not in COMMANDS]
    assert [name for name in listed if name in COMMANDS] == list(COMMANDS)
    assert brought == sorted(brought)
    assert "place" in brought


def test_a_command_given_by_its_address_is_imported_when_a_plugins_is_asked_for(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found = house(Command("shelve", f"{__name__}:shelve", "Say how many books stand."))
    monkeypatch.setitem(sys.modules, __name__, SimpleNamespace(shelve=shelve))
    monkeypatch.setattr("afield.core.host.loading.installed_host", lambda: found)
    assert status_of(["shelve", "4"]) == 3
    assert capsys.readouterr().out == "4 books stand\n"


def test_a_command_imports_no_module_of_another() -> None:
    code = "import sys; from afield.core.cli.app import command; command('check'); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = {
        name.removeprefix("afield.core.cli.") for name in done.stdout.split() if name.startswith("afield.core.cli.")
    }
    assert loaded & set(COMMANDS.values()) == {"checks"}


@pytest.mark.usefixtures("installed")
def test_a_plugin_brings_a_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["shelve", "4"]) == 3
    assert capsys.readouterr().out == "4 books stand\n"


@pytest.mark.usefixtures("installed")
def test_a_plugins_command_is_listed_with_the_others(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["--help"]) == 0
    assert "  shelve   Say how many books stand.\n" in capsys.readouterr().out


def test_a_plugins_command_may_not_take_the_place_of_another(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    host = house(Command("check", shelve, "Say how many books stand."))
    monkeypatch.setattr("afield.core.host.loading.installed_host", lambda: host)
    assert status_of(["--help"]) == 2
    assert capsys.readouterr().err == (
        "afield: the installed plugins do not fit together: the command check is brought by core and by plugin house "
        "(house-things 1.0)\n    = Uninstall or rename one of them.\n"
    )


def test_a_plugin_that_fails_to_bring_its_commands_is_named(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    @hookimpl
    def afield_commands() -> list[Command]:
        raise RuntimeError("no shelf")

    host = new_host()
    host.add(SimpleNamespace(afield_commands=afield_commands), PluginInfo("house", "house-things", "1.0"))
    monkeypatch.setattr("afield.core.host.loading.installed_host", lambda: host)
    assert status_of(["--help"]) == 0
    assert capsys.readouterr().err == (
        "failed: plugin house (house-things 1.0) failed in afield_commands: RuntimeError: no shelf\n"
    )


def test_the_version_is_printed_without_a_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert status_of(["--version"]) == 0
    assert capsys.readouterr().out == "0.1.0\n"
