"""`afield new`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Annotated, TypeVar

import typer

from afield.core.cli.options import Force, refuse_no_date
from afield.core.cli.running import problems_in_words
from afield.core.documents import InputError, did_you_mean, read_text
from afield.core.documents.writing import UsageError, refuse_standing, write_all
from afield.core.engine import Engine, judge
from afield.core.host.hookspecs import Question
from afield.core.host.loading import installed_host
from afield.core.packs.planning import Answers, claims_of, copied_plan, needed_questions, new_plan, trip_packs
from afield.core.packs.trip import trip_of

Read = TypeVar("Read")


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    # The plugins' questions bring flags of their own, so unknown ones are looked at here.
    settings = {"allow_extra_args": True, "ignore_unknown_options": True}
    app.command("new", help=_help(), context_settings=settings)(new)


def _help() -> str:
    offered = [question for _, questions in installed_host().results("afield_questions") for question in questions]
    flags = ", ".join(f"--{question.name}" for question in sorted(offered, key=lambda each: (each.order, each.name)))
    return f"Write a new plan; asks what the rules in play need, unless flags tell it (also {flags or 'none more'})."


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
    """Write a new plan; asks what the rules in play need, unless flags tell it."""
    refuse_standing([file], force)
    engine = Engine()
    if source is not None:
        _refuse_with_from(claims, context.args)
    title = _answered(trip, "What is the trip called?", "Cinder Wash, Saturday evening", _title)
    day = _answered(date, "On which local date do you arrive?", "2026-06-27", _date)
    if source is not None:
        text = copied_plan(source, title, day)
    else:
        ask, example = "Which references do you claim?", "PROGRAM/REFERENCE, PROGRAM/REFERENCE, or none"
        claimed = _answered(claims, ask, example, lambda answer: claims_of(answer, engine.registry))
        text = _planned(context.args, Answers(title, day, claimed), engine)
    _refuse_unusable(text, file, engine)
    write_all({file: text}, force)
    typer.echo(f"{file} is written; `afield check {file}` judges it.")
    return 0


def _refuse_with_from(claims: str | None, extra: list[str]) -> None:
    given = ["--claims"] if claims is not None else extra
    if given:
        raise UsageError(f"{given[0]} does not go with --from\n    = Leave it out, and change the new plan afterwards.")


def _planned(extra: list[str], answers: Answers, engine: Engine) -> str:
    questions = needed_questions(answers, engine.host, engine.registry)
    given = _flags(extra, [question.name for question in questions])
    lines: list[str] = []
    for question in questions:
        read = partial(_lines_of, question)
        lines += _answered(given.get(question.name), question.ask, question.example, read)
    return new_plan(answers, lines, trip_packs())


def _lines_of(question: Question, answer: str) -> list[str]:
    try:
        return list(question.lines(answer))
    except ValueError as error:
        what, advice = (*error.args, "Nothing was written.")[:2]
        raise UsageError(f"--{question.name}: {what}\n    = {advice}") from error


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
            asked = f"Asked for here are --{', --'.join(known)}." if known else "Leave it out: no rule needs it."
            raise UsageError(f"{flag} is not asked for\n    = {f'Did you mean --{guess}?' if guess else asked}")
        found[name] = value if equals else (waiting.pop(0) if waiting else "")
    return found


def _answered(given: str | None, ask: str, example: str, read: Callable[[str], Read]) -> Read:
    """What the flag says, or else the answer to the question, which is asked again until it can be read."""
    if given is not None:
        return read(given)
    while True:
        answer: str = typer.prompt(f"{ask} (for example {example})", prompt_suffix="\n> ")
        try:
            return read(answer.strip())
        except (UsageError, InputError) as error:
            typer.echo(problems_in_words(error) if isinstance(error, InputError) else str(error), err=True)


def _title(answer: str) -> str:
    if not answer.strip() or not answer.isprintable():
        raise UsageError("--trip: a name is due\n    = Write one line of text, such as Cinder Wash, Saturday evening.")
    return answer.strip()


def _date(answer: str) -> str:
    refuse_no_date("--date", answer)
    return answer


def _refuse_unusable(text: str, file: Path, engine: Engine) -> None:
    """Refuse a plan that `check` would not accept, before it is written."""
    try:
        judge(trip_of(read_text(text, file.name, folder=file.parent), file.parent, engine.registry), engine)
    except InputError as error:
        first, *others = error.problems
        raise InputError([replace(first, advice=f"{first.advice} Nothing was written."), *others]) from error
