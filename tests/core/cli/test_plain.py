"""A plain command line gives what typer gives; whatever is not plain is left to typer."""

from __future__ import annotations

import contextlib
import io
import os
from pathlib import Path
from types import SimpleNamespace
from typing import Annotated, Any

import pytest
import typer
from hypothesis import example, given, settings
from hypothesis import strategies as st

from afield.core.api import Argument, Option
from afield.core.cli.marked import for_typer
from afield.core.cli.plain import plain_result, plain_values
from afield.core.cli.running import status_of
from afield.core.host.hookspecs import Command, hookimpl
from afield.core.host.loading import Host, PluginInfo, new_host

Found = dict[str, Any]


def shelve(
    shelf: Annotated[str, Argument(metavar="SHELF", help="Which shelf.", show_default=False)],
    second: Annotated[Path | None, Argument(help="Another one.")] = None,
    books: Annotated[str, Option("--books", "-b", help="How many.")] = "3",
    into: Annotated[Path | None, Option("--into", help="Where to.")] = None,
    dry: Annotated[bool, Option("--dry", help="Only say so.")] = False,
) -> Found:
    """Put books on a shelf."""
    return {"shelf": shelf, "second": second, "books": books, "into": into, "dry": dry}


def by_typer(words: list[str]) -> Found | None:
    """What typer makes of the words; None where it prints help or an error."""
    app = typer.Typer(add_completion=False, rich_markup_mode=None)
    app.command()(for_typer(shelve))
    with contextlib.redirect_stdout(io.StringIO()):
        try:
            found = typer.main.get_command(app).main(args=list(words), prog_name="toy", standalone_mode=False)
        except Exception as error:
            if not hasattr(error, "format_message"):
                raise
            return None
    return found if isinstance(found, dict) else None


PIECES = ["--books", "-b", "--into", "--dry", "--help", "--", "-", "-x", "--book", "a", "b.txt", "", "-3", "--books=4",
          "--into=there", "--dry=yes", "--books=", "-b5", "é", "\udcff", "a b", "=", "a=b", "--=", "."]  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=6))
@example(["a", "--books", "--dry"])
@example(["--books", "1", "a", "--books", "2"])
@example(["--into=there=here", "a"])
def test_what_is_read_plainly_is_what_typer_reads(words: list[str]) -> None:
    plain = plain_values(shelve, words)
    assert plain is None or shelve(**plain) == by_typer(words)


@pytest.mark.parametrize(
    ("words", "given_so"),
    [
        (["low"], {"shelf": "low"}),
        (["low", "high"], {"shelf": "low", "second": Path("high")}),
        (["--dry", "low", "--into", "box"], {"shelf": "low", "into": Path("box"), "dry": True}),
        (["--books=4", "low"], {"shelf": "low", "books": "4"}),
        (["low", "--books", "-3"], {"shelf": "low", "books": "-3"}),
    ],
)
def test_plain_words_are_read_without_typer(words: list[str], given_so: Found) -> None:
    plain = plain_values(shelve, words)
    assert plain is not None
    assert shelve(**plain) == shelve(**given_so) == by_typer(words)


NOT_PLAIN = [
    [], ["--help"], ["low", "--book", "3"], ["low", "--books"], ["a", "b", "c"], ["--", "low"], ["-b", "4", "low"],
    ["low", ""],
]  # fmt: skip


@pytest.mark.parametrize("words", NOT_PLAIN)
def test_what_is_not_plain_is_left_to_typer(words: list[str]) -> None:
    assert plain_values(shelve, words) is None


def test_a_file_that_may_not_be_read_is_left_to_typer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "box").write_text("")
    assert plain_values(shelve, ["low", "--into", str(tmp_path / "box")]) is not None
    monkeypatch.setattr(os, "access", lambda path, mode: False)
    assert plain_values(shelve, ["low", "--into", str(tmp_path / "box")]) is None
    assert plain_values(shelve, ["low", "--into", str(tmp_path / "none")]) is not None


def of_typer(shelf: Annotated[str, typer.Argument()]) -> None:
    """Bears a mark of typer."""


def of_many(shelves: Annotated[list[str], Argument(help="Which.")]) -> None:
    """Takes several words."""


def of_numbers(count: Annotated[int, Option("--count", help="How many.")] = 3) -> None:
    """Takes a number."""


def unmarked(shelf: str) -> None:
    """Bears no mark."""


@pytest.mark.parametrize("function", [of_typer, of_many, of_numbers, unmarked])
def test_a_function_of_other_parameters_is_left_to_typer(function: Any) -> None:
    assert plain_values(function, ["low"]) is None


def test_marks_of_typer_stay_as_they_are() -> None:
    assert for_typer(of_typer) is of_typer


def stopping(error: BaseException) -> Any:
    def stop() -> None:
        raise error

    return stop


def test_a_command_that_is_interrupted_or_read_no_more_ends_as_by_typer(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    assert plain_result(stopping(KeyboardInterrupt()), {}) == 130
    with (tmp_path / "out").open("w") as stream:
        monkeypatch.setattr("sys.stdout", stream)
        assert plain_result(stopping(BrokenPipeError()), {}) == 1
        print("nobody reads this")
    assert (tmp_path / "out").read_text() == ""


def test_a_command_whose_input_ends_is_stopped(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(typer.Abort):
        plain_result(stopping(EOFError()), {})
    assert capsys.readouterr().err == "\n"


def shelve_by_typer(
    shelf: Annotated[str, typer.Argument(metavar="SHELF", help="Which shelf.", show_default=False)],
    second: Annotated[Path | None, typer.Argument(help="Another one.")] = None,
    books: Annotated[str, typer.Option("--books", "-b", help="How many.")] = "3",
    into: Annotated[Path | None, typer.Option("--into", help="Where to.")] = None,
    dry: Annotated[bool, typer.Option("--dry", help="Only say so.")] = False,
) -> int:
    """Put books on a shelf."""
    return 3


@pytest.mark.parametrize("words", [["--help"], [], ["low", "--book"], ["low", "--books"], ["a", "b", "c"]])
def test_help_and_errors_are_those_of_a_command_with_marks_of_typer(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    told = []
    for function in (shelve, shelve_by_typer):
        host = house(Command("shelve", function, "Put books on a shelf."))
        monkeypatch.setattr("afield.core.host.loading.installed_host", lambda host=host: host)
        told.append((status_of(["shelve", *words]), *capsys.readouterr()))
    assert told[0] == told[1]
    assert told[0][0] == (0 if words == ["--help"] else 2)
    assert "".join(told[0][1:])


def house(command: Command) -> Host:
    @hookimpl
    def afield_commands() -> list[Command]:
        return [command]

    host = new_host()
    host.add(SimpleNamespace(afield_commands=afield_commands), PluginInfo("house", "toys", "1.0"))
    return host


@pytest.mark.parametrize("words", [["shelve", "low"], ["shelve", "-b", "4", "low"]])
def test_it_is_called_with_what_is_given(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    def said(
        shelf: Annotated[str, Argument(help="Which.")], books: Annotated[str, Option("-b", help="How many.")] = "3"
    ) -> int:
        """Say it."""
        print(f"{books} on {shelf}")
        return 3

    host = house(Command("shelve", said, "Say it."))
    monkeypatch.setattr("afield.core.host.loading.installed_host", lambda: host)
    assert status_of(words) == 3
    assert capsys.readouterr().out == f"{'4' if '-b' in words else '3'} on low\n"
