"""`afield new`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from afield.core.cli.options import Force
from afield.core.cli.output import write_all
from afield.core.cli.running import UsageError
from afield.core.documents import did_you_mean
from afield.core.engine import Engine, load
from afield.core.packs.planning import Answers, copied_plan, needed_questions, new_plan


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    # The plugins' questions bring flags of their own, so unknown ones are looked at here.
    app.command("new", context_settings={"allow_extra_args": True, "ignore_unknown_options": True})(new)


def new(
    context: typer.Context,
    file: Annotated[Path, typer.Argument(help="File to write.")] = Path("trip.yaml"),
    trip: Annotated[str | None, typer.Option("--trip", help="Name of the trip.", show_default=False)] = None,
    date: Annotated[str | None, typer.Option("--date", help="Local date of arrival.", show_default=False)] = None,
    claims: Annotated[
        str | None, typer.Option("--claims", help="References claimed, as program/reference, ...", show_default=False)
    ] = None,
    source: Annotated[
        Path | None, typer.Option("--from", help="Begin with this plan; only the trip and its date are asked.")
    ] = None,
    force: Force = False,
) -> int:
    """Write a new plan; asks what the rules in play need, unless flags tell it (also --position, --antenna)."""
    engine = Engine()
    title = _answer(trip, "What is the trip called?", "Cinder Wash, Saturday evening")
    day = _answer(date, "On which local date do you arrive?", "2026-06-27")
    if source is not None:
        text = copied_plan(source, title, day)
    else:
        claimed = _answer(claims, "Which references do you claim?", "freight-road/cinder-crossing, none")
        text = _planned(context.args, Answers.of(title, day, claimed), engine)
    write_all({file: text}, force)
    load(file, engine)
    typer.echo(f"{file} is written; `afield check {file}` judges it.")
    return 0


def _planned(extra: list[str], answers: Answers, engine: Engine) -> str:
    questions = needed_questions(answers, engine.host, engine.registry)
    given = _flags(extra, [question.name for question in questions])
    lines: list[str] = []
    for question in questions:
        answer = _answer(given.get(question.name), question.ask, question.example)
        try:
            lines.extend(question.lines(answer))
        except ValueError as error:
            raise UsageError(f"--{question.name}: {error}\n    = Nothing was written.") from error
    return new_plan(answers, lines)


def _flags(extra: list[str], known: list[str]) -> dict[str, str]:
    """The plugins' flags among what typer did not know.

    Raises:
        UsageError: one that no question in play has.

    """
    found: dict[str, str] = {}
    waiting = list(extra)
    while waiting:
        flag = waiting.pop(0)
        name, equals, value = flag.removeprefix("--").partition("=")
        if not flag.startswith("--") or name not in known:
            guess = did_you_mean(name, known)
            asked = f"asked for here are --{', --'.join(known)}" if known else "nothing more is asked for here"
            raise UsageError(f"{flag} is not asked for\n    = {f'Did you mean --{guess}?' if guess else asked}")
        found[name] = value if equals else (waiting.pop(0) if waiting else "")
    return found


def _answer(given: str | None, ask: str, example: str) -> str:
    if given is not None:
        return given
    answer: str = typer.prompt(f"{ask} (for example {example})", prompt_suffix="\n> ")
    return answer.strip()
