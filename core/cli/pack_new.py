"""`afield pack new`."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from afield.core.authoring.scaffold import Answers, Starter, new_pack, offered_starters, prove
from afield.core.authoring.scaffold.answers import name_of
from afield.core.cli.options import Force
from afield.core.cli.pack_questions import Asking, asked_answers
from afield.core.documents import did_you_mean
from afield.core.documents.writing import UsageError, refuse_standing, write_all
from afield.core.engine import Engine

FILES = ("pack.yaml", "rules.yaml", "cases.yaml", "references.yaml", "places.geojson")


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    # The starters bring flags of their own, so unknown ones are looked at here.
    settings = {"allow_extra_args": True, "ignore_unknown_options": True}
    app.command("new", context_settings=settings)(new)


def _flag(name: str, help: str) -> typer.models.OptionInfo:
    found: typer.models.OptionInfo = typer.Option(f"--{name}", help=help, show_default=False)
    return found


def new(
    context: typer.Context,
    folder: Annotated[
        Path, typer.Argument(metavar="NAME", help="The pack's name, or the path of its folder.", show_default=False)
    ],
    kind: Annotated[str | None, _flag("kind", "award or checklist.")] = None,
    title: Annotated[str | None, _flag("title", "Name of the award or checklist.")] = None,
    publisher: Annotated[str | None, _flag("publisher", "Who keeps the rules.")] = None,
    document: Annotated[str | None, _flag("document", "Title of the document that the rules stand in.")] = None,
    edition: Annotated[str | None, _flag("edition", "Its edition, version or year.")] = None,
    section: Annotated[str | None, _flag("section", "Section of it.")] = None,
    since: Annotated[str | None, _flag("since", "First day on which the rules hold.")] = None,
    checked: Annotated[str | None, _flag("checked", "Day on which you last read the document.")] = None,
    date_basis: Annotated[str | None, _flag("date-basis", "utc or local.")] = None,
    item: Annotated[
        list[str] | None, _flag("item", "A checklist item, as STAGE: TEXT; may be given several times.")
    ] = None,
    force: Force = False,
) -> int:
    """Write a new rule pack, ready to be tested; asks what no flag tells.

    Its rules are chosen by flags of their own, such as `--line 80 ft`; a wrong one names them all.
    """
    name = name_of(folder.resolve().name)
    registry = Engine().registry
    given = {
        "kind": kind, "title": title, "publisher": publisher, "document": document, "edition": edition,
        "section": section, "since": since, "checked": checked, "date-basis": date_basis,
    }  # fmt: skip
    starters = offered_starters(registry)
    figures = _figures(context.args, starters)
    # Said before the questions, not after them.
    refuse_standing([folder / inner for inner in FILES], force)
    asking = Asking({flag: text for flag, text in given.items() if text is not None}, sys.stdin.isatty())
    answers = asked_answers(name, asking, figures, item, starters, registry)
    files = new_pack(answers, registry)
    cases = prove(name, files, registry)
    write_all({folder / inner: text for inner, text in files.items()}, force)
    typer.echo("\n".join(_told(folder, answers, cases)))
    return 0


def _figures(extra: Sequence[str], starters: Sequence[Starter]) -> dict[str, str]:
    """The starters' flags among what typer did not know: a figure may have its unit behind a blank, unquoted.

    Raises:
        UsageError: one that no starter has, or one without a figure.

    """
    known = [starter.id for starter in starters]
    found: dict[str, str] = {}
    waiting = list(extra)
    while waiting:
        flag = waiting.pop(0)
        name, equals, value = flag.removeprefix("--").partition("=")
        if not flag.startswith("--") or name not in known:
            raise _unknown_flag(flag, name, known)
        words = [value] if equals else []
        while waiting and not waiting[0].startswith("--"):
            words.append(waiting.pop(0))
        found[name] = " ".join(words)
    return found


def _unknown_flag(flag: str, name: str, known: Sequence[str]) -> UsageError:
    guess = did_you_mean(name, known)
    advice = f"Did you mean --{guess}?" if guess else f"Rules are chosen by --{', --'.join(known)}."
    return UsageError(f"{flag} is not known\n    = {advice}")


def _told(folder: Path, answers: Answers, cases: int) -> Sequence[str]:
    path = folder.as_posix() if "/" in folder.as_posix() else f"./{folder.as_posix()}"
    lines = [f"{folder} is written; `afield pack test {path}` runs its {cases} cases."]
    place = next((each.starter.reference for each in answers.chosen if each.starter.reference), None)
    if answers.judges == "trip":
        lines.append(f"A plan beside it names it under `packs: [{answers.id}]`.")
    elif place:
        lines.append(f"A plan beside it claims `{{program: {answers.id}, reference: {place['id']}}}`.")
    return lines
