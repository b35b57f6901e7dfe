"""Runs the command line and turns every failure into a message and an exit status."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from io import TextIOWrapper
from typing import TYPE_CHECKING, Any

from afield.core import __version__
from afield.core.cli.commands import COMMANDS, commands_of_plugins, function_of
from afield.core.cli.languages import asked_language
from afield.core.facts.time_limit import seconds
from afield.core.host.tracing import OPTION, Trace
from afield.core.language import speaking
from afield.core.report.statuses import EXIT_CRASH, EXIT_OK, EXIT_USAGE

if TYPE_CHECKING:
    from afield.core.documents import InputError

MOST_SHOWN = 10
"""Problems of one input that are printed; the rest is counted."""


def run(arguments: Sequence[str] | None = None) -> None:
    """Run a command and leave with its exit status."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    for stream in (sys.stdout, sys.stderr):
        # A terminal that knows no "±" is no reason to stop.
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    # Both hold from the first moment on, before the command line is read, and may stand anywhere in it.
    if OPTION in given:
        Trace.start(sys.stderr)
    sys.exit(status_of([argument for argument in given if argument not in ("--debug", OPTION)], "--debug" in given))


def status_of(arguments: Sequence[str], debug: bool = False) -> int:
    """The exit status of a command; its messages go to standard error."""
    try:
        _refuse_bad_time_limit()
        language, arguments = asked_language(arguments)
        with speaking(language):
            return _called(arguments)
    except SystemExit as leaving:
        if debug:
            raise
        return _left(arguments, leaving)
    except Exception as error:
        if debug:
            raise
        print(message_of(error), file=sys.stderr)
        return EXIT_USAGE if _is_ones_own(error) else EXIT_CRASH


def _is_ones_own(error: Exception) -> bool:
    """Whether what was given, or what is installed, is wrong, and not the program."""
    from afield.core.documents.places import InputError
    from afield.core.documents.writing import UsageError
    from afield.core.host.loading import SetupError

    return isinstance(error, InputError | SetupError | UsageError)


def _left(arguments: Sequence[str], leaving: SystemExit) -> int:
    """The status of a plugin's own command; the commands of afield end by themselves, and nothing else may end them."""
    if next(iter(arguments), "") not in COMMANDS:
        return leaving.code if isinstance(leaving.code, int) else EXIT_CRASH
    print(
        f"afield: internal error: something ended the program with {leaving.code!r} before its work was done\n"
        "    = A plugin may do so. Run the command again with --debug and see which.",
        file=sys.stderr,
    )
    return EXIT_CRASH


def _refuse_bad_time_limit() -> None:
    try:
        seconds()
    except ValueError as error:
        from afield.core.documents.writing import UsageError

        raise UsageError(f"{error}\n    = Give a number such as 60, or 0 for no limit.") from error


def _called(arguments: Sequence[str]) -> int:
    try:
        found = _result(list(arguments))
    except Exception as error:
        import typer

        if isinstance(error, typer.Exit):
            return int(error.exit_code)
        if isinstance(error, typer.Abort):
            print("stopped; nothing was written", file=sys.stderr)
            return EXIT_USAGE
        # Typer's own usage errors have no public class that all its versions share, but all can format themselves.
        if not hasattr(error, "format_message"):
            raise
        print(_usage(error.format_message()), file=sys.stderr)
        return EXIT_USAGE
    return found if isinstance(found, int) else 0


def _result(arguments: list[str]) -> Any:
    """What the command returns. One of a plugin is called at once if its words are plain, else by typer."""
    asked = arguments[0] if arguments else ""
    brought = commands_of_plugins(asked)
    if arguments == ["--version"]:
        print(__version__)
        return EXIT_OK
    for command in brought:
        if command.name == asked:
            from afield.core.cli.plain import plain_result, plain_values

            function = function_of(command)
            values = plain_values(function, arguments[1:])
            if values is not None:
                return plain_result(function, values)
    from afield.core.cli.app import command as all_of

    return all_of(asked, brought).main(args=arguments, prog_name="afield", standalone_mode=False)


def _usage(said: str) -> str:
    """Typer's message; where it is the help itself, as it is."""
    if said.startswith("Usage:"):
        return said
    return f"afield: {said.rstrip('.')}\n    = `afield --help` lists the commands and their options."


def message_of(error: Exception) -> str:
    """An error in words."""
    from afield.core.documents.places import InputError
    from afield.core.documents.writing import UsageError
    from afield.core.engine import PluginTrouble
    from afield.core.host.loading import SetupError

    if isinstance(error, InputError):
        return problems_in_words(error)
    if isinstance(error, UsageError | PluginTrouble):
        return str(error)
    if isinstance(error, SetupError):
        return f"afield: the installed plugins do not fit together: {error}"
    return (
        f"afield: internal error: {type(error).__name__}: {error}\n"
        "    = This is a fault of the program. Run the command again with --debug and report what it prints."
    )


def problems_in_words(error: InputError) -> str:
    """Every problem, the first MOST_SHOWN of them in full."""
    shown = [problem.text() for problem in error.problems[:MOST_SHOWN]]
    rest = len(error.problems) - len(shown)
    more = [f"and {rest} more problem{'s' if rest > 1 else ''}"] if rest else []
    return "\n".join([*shown, *more])
