"""The answers that a new pack is made from, each refused while it can still be mended."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from afield.core.authoring.scaffold.starters import Starter
from afield.core.documents import did_you_mean, quoted_list
from afield.core.documents.characters import unseen_character
from afield.core.documents.schema_formats import format_fault
from afield.core.documents.writing import UsageError
from afield.core.facts.declarations import Fact
from afield.core.frozen import frozen
from afield.core.packs.model import STAGES
from afield.core.packs.texts import complaints_about_plain
from afield.core.quantities import Quantity, QuantityError, convert, parse_quantity

KINDS = {"award": "program", "checklist": "trip"}
"""What a person calls a pack -> what it judges."""
NONE = "none"
_NAME = re.compile("[a-z][a-z0-9]*(-[a-z0-9]+)*")
_LONGEST_ID = 5
"""Words of a checklist item that its rule's name takes over."""
_JOINING = ("a", "an", "and", "at", "by", "for", "in", "is", "of", "on", "or", "the", "to", "with")
"""Words with which no name ends."""


@frozen
class Chosen:
    """A starter with the figure that the rules print."""

    starter: Starter
    figure: Quantity


@frozen
class Item:
    """One checklist item.

    Attributes:
        id: the rule's name.
        stage: when it is ticked off.
        text: what is to be done.

    """

    id: str
    stage: str
    text: str


@frozen
class Answers:
    """What a new pack is made from.

    Attributes:
        id: the pack's name, and its folder's.
        judges: "program" or "trip".
        document, edition, section: where the club's rules stand.
        since: first day on which they hold.
        checked: day on which somebody last compared the pack with them.
        date_basis: "utc" or "local".

    """

    id: str
    title: str
    publisher: str
    judges: str
    document: str
    edition: str
    section: str
    since: date
    checked: date
    date_basis: str
    chosen: tuple[Chosen, ...] = ()
    items: tuple[Item, ...] = ()


def name_of(text: str) -> str:
    """The name of a pack.

    Raises:
        UsageError: it is not well formed.

    """
    if not _NAME.fullmatch(text):
        guess = "-".join(re.findall("[a-z0-9]+", text.lower()))
        meant = f'"{guess}"' if _NAME.fullmatch(guess) else "example-trails"
        raise UsageError(
            f'"{text}" is no name for a pack\n'
            f"    = A name is lower-case words and digits joined by hyphens, for example {meant}."
        )
    return text


def line_of(flag: str, text: str, example: str) -> str:
    """One line of text.

    Raises:
        UsageError: nothing, several lines, or a character that cannot be seen.

    """
    found = text.strip()
    if not found or not found.isprintable() or unseen_character(found):
        raise UsageError(f"--{flag}: one line of text is due\n    = Write for example {example}.")
    return found


def choice_of(flag: str, text: str, choices: Iterable[str]) -> str:
    """One of some words.

    Raises:
        UsageError: another word.

    """
    known, found = list(choices), text.strip().lower()
    if found not in known:
        guess = did_you_mean(found, known)
        advice = f'Did you mean "{guess}"?' if guess else f"Write {' or '.join(known)}."
        raise UsageError(f'--{flag}: "{text.strip()}" is not offered\n    = {advice}')
    return found


def day_of(flag: str, text: str) -> date:
    """A day.

    Raises:
        UsageError: it is no date.

    """
    fault = format_fault(text.strip(), "date")
    if fault:
        raise UsageError(f"--{flag}: {fault[0]}\n    = {fault[1]}")
    return date.fromisoformat(text.strip())


def chosen_of(starter: Starter, fact: Fact, text: str) -> Chosen | None:
    """The starter with its figure; None for "none".

    Raises:
        UsageError: no figure, one without its unit or with another, one that is less than there can be.

    """
    if text.strip().lower() == NONE:
        return None
    try:
        figure = parse_quantity(text, "" if starter.bound else fact.unit or "")
    except QuantityError as error:
        raise _unfit(starter, error.what, error.advice) from error
    least = 1 if starter.whole else fact.least
    if starter.whole and figure.digits != int(figure.digits):
        raise _unfit(starter, f"{figure} is no whole number", f'Write a whole number, for example "{starter.example}".')
    if least is not None and convert(figure.value, figure.unit, "" if starter.whole else fact.unit or "") < least:
        raise _unfit(starter, f"{figure} is less than there can be", f'Write for example "{starter.example}".')
    return Chosen(starter, figure)


def _unfit(starter: Starter, what: str, advice: str) -> UsageError:
    return UsageError(f"--{starter.id}: {what}\n    = {advice} Write none to leave the rule out.")


def item_of(text: str) -> Item | None:
    """A checklist item, written as STAGE: TEXT; None for "none".

    Raises:
        UsageError: no stage, an unknown one, no text, or one with a field that nothing fills in.

    """
    if text.strip().lower() == NONE:
        return None
    stage, colon, what = (part.strip() for part in text.partition(":"))
    if not colon or not what or stage.lower() not in STAGES:
        guess = did_you_mean(stage.lower(), STAGES) if colon and what else None
        advice = f'Did you mean "{guess}: {what}"?' if guess else f"Stages are {quoted_list(STAGES)}."
        raise UsageError(
            f'--item: "{text.strip()}" does not say when\n'
            f"    = Write the stage, a colon and what to do, for example home: Charge the battery. {advice}"
        )
    found = line_of("item", what, "home: Charge the battery")
    for fault, remedy in complaints_about_plain(found):
        raise UsageError(f"--item: {fault}\n    = {remedy}")
    return Item(_id_of(found), stage.lower(), found)


def _id_of(text: str) -> str:
    words = re.findall("[a-z0-9]+", text.lower().replace("'", ""))[:_LONGEST_ID]
    while len(words) > 1 and words[-1] in _JOINING:
        words.pop()
    return "-".join(words) if words and words[0][0].isalpha() else "-".join(["item", *words])


def told_apart(items: Iterable[Item], taken: Iterable[str]) -> tuple[Item, ...]:
    """The items with names of their own, by a number behind those that another rule has."""
    used, found = set(taken), []
    for item in items:
        numbered = [item.id, *(f"{item.id}-{number}" for number in range(2, len(used) + 3))]
        found.append(replace(item, id=next(name for name in numbered if name not in used)))
        used.add(found[-1].id)
    return tuple(found)
