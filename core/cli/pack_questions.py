"""The questions of `afield pack new`: each is answered by its flag, or else on the terminal."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import TypeVar

import typer

from afield.core.authoring.scaffold import Answers, Chosen, Starter
from afield.core.authoring.scaffold.answers import (
    KINDS,
    NONE,
    Item,
    choice_of,
    chosen_of,
    day_of,
    item_of,
    line_of,
    told_apart,
)
from afield.core.documents.writing import UsageError
from afield.core.facts.declarations import Fact
from afield.core.host.registry import Registry

Read = TypeVar("Read")
BASES = ("utc", "local")


class Asking:
    """Takes each answer from its flag, else from the terminal; without one, what is missing is said at once."""

    def __init__(self, given: Mapping[str, str], terminal: bool) -> None:
        self.given, self.terminal = given, terminal

    def answer(self, flag: str, ask: str, example: str, read: Callable[[str], Read]) -> Read:
        """What the flag says, or else the answer to the question, which is asked again until it can be read."""
        if flag in self.given:
            return read(self.given[flag])
        while True:
            answer: str = typer.prompt(f"{ask} (for example {example})", prompt_suffix="\n> ")
            try:
                return read(answer)
            except UsageError as error:
                typer.echo(str(error), err=True)

    def refuse_gaps(self, needed: Sequence[str]) -> None:
        """Refuse to go on without a terminal where something is missing.

        Raises:
            UsageError: naming every flag that is missing.

        """
        missing = [f"--{flag}" for flag in needed if flag not in self.given]
        if missing and not self.terminal:
            verb = "is" if len(missing) == 1 else "are"
            told = f"{', '.join(missing[:-1])} and {missing[-1]}" if len(missing) > 1 else missing[0]
            raise UsageError(
                f"{told} {verb} missing\n    = Without a terminal nothing is asked; `afield pack new --help` says what "
                "each flag means."
            )


def asked_answers(
    name: str,
    asking: Asking,
    figures: Mapping[str, str],
    items: Sequence[str] | None,
    starters: Sequence[Starter],
    registry: Registry,
) -> Answers:
    """All answers of a new pack.

    Args:
        name: the pack's.
        asking: takes each answer from its flag or from the terminal.
        figures: the starters' flags.
        items: checklist items given by flags; None for none given.
        starters: all that are offered.
        registry: what plugins declare.

    Raises:
        UsageError: an answer that cannot be used, or too few.

    """
    asking.refuse_gaps(GIVEN_ALWAYS)
    ask = "Is it an award, or a checklist for trips?"
    judges = KINDS[asking.answer("kind", ask, "award", lambda text: choice_of("kind", text, KINDS))]
    asking.refuse_gaps(["date-basis"] if judges == "program" else [])
    texts = {flag: _line(asking, flag, ask, example) for flag, ask, example in LINES}
    since = _day(asking, "since", "From which day do these rules hold?", "2024-01-01")
    checked = _day(asking, "checked", "On which day did you last read that document?", "2026-05-02")
    basis = _basis(asking) if judges == "program" else "local"
    fitting = [starter for starter in starters if judges in starter.judges]
    chosen = _chosen(asking, figures, fitting, registry)
    listed = told_apart(_items(asking, items), [each.starter.rule for each in chosen])
    if not chosen and not listed:
        flags = ", ".join(f"--{starter.id}" for starter in fitting)
        raise UsageError(f"the pack has no rule\n    = Choose one at least, by {flags} or --item.")
    return Answers(
        name, texts["title"], texts["publisher"], judges, texts["document"], texts["edition"], texts["section"],
        since, checked, basis, tuple(chosen), listed,
    )  # fmt: skip


GIVEN_ALWAYS = ("kind", "title", "publisher", "document", "edition", "section", "since", "checked")
"""Flags without which nothing can be written where nothing can be asked."""

LINES = (
    ("title", "What is it called?", "Example Trails Award"),
    ("publisher", "Who keeps the rules?", "the rules committee of the club"),
    ("document", "What is the title of the document that the rules stand in?", "Example Trails rules"),
    ("edition", "Which edition of it, or of which year?", "third, 2024"),
    ("section", "In which section of it?", "4.2"),
)


def _line(asking: Asking, flag: str, ask: str, example: str) -> str:
    return asking.answer(flag, ask, example, lambda text: line_of(flag, text, example))


def _day(asking: Asking, flag: str, ask: str, example: str) -> date:
    return asking.answer(flag, ask, example, lambda text: day_of(flag, text))


def _basis(asking: Asking) -> str:
    ask = "Does a day of the award begin at 00:00 UTC (utc), or at midnight at the place (local)?"
    return asking.answer("date-basis", ask, "utc", lambda text: choice_of("date-basis", text, BASES))


def _chosen(
    asking: Asking, figures: Mapping[str, str], starters: Sequence[Starter], registry: Registry
) -> list[Chosen]:
    """The rules chosen: by their flags alone where one is given, else by their questions."""
    known = [starter.id for starter in starters]
    other = next((flag for flag in figures if flag not in known), None)
    if other is not None:
        raise UsageError(f"--{other} does not go with this kind of pack\n    = Rules of it are --{', --'.join(known)}.")
    ask = asking.terminal and not figures
    asked = [starter for starter in starters if ask or starter.id in figures]
    found = [_figure(Asking(figures, asking.terminal), starter, registry.facts[starter.fact]) for starter in asked]
    return [chosen for chosen in found if chosen is not None]


def _figure(asking: Asking, starter: Starter, fact: Fact) -> Chosen | None:
    example = f"{starter.example}, or {NONE}"
    return asking.answer(starter.id, starter.ask, example, lambda text: chosen_of(starter, fact, text))


def _items(asking: Asking, given: Sequence[str] | None) -> list[Item]:
    """The checklist items: those of the flags, else asked for until there are no more."""
    if given is not None or not asking.terminal:
        return [found for text in given or () if (found := item_of(text)) is not None]
    ask, example = "Is something to be ticked off, and when?", f"home: Charge the battery; or {NONE}"
    listed: list[Item] = []
    while (item := asking.answer("item", ask, example, item_of)) is not None:
        listed.append(item)
        ask = "And what else?"
    return listed
