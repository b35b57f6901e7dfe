"""A new plan: which questions the rules in play need, and the answers as a commented plan."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from afield.core.documents import InputError, Place, Problem, read_document
from afield.core.facts.graph import rests_on
from afield.core.host.hookspecs import Question
from afield.core.host.loading import Host
from afield.core.host.registry import Registry
from afield.core.packs.finding import NoSuchPack, pack_folder
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack
from afield.core.rules.conditions import facts_asked

STALE = ("measured", "confirmed")
"""Sections that belong to one outing and are not carried over to the next plan."""


@dataclass(frozen=True, slots=True)
class Answers:
    """What a new plan says in any case.

    Attributes:
        claims: (program, reference) pairs.

    """

    trip: str
    date: str
    claims: tuple[tuple[str, str], ...]

    @staticmethod
    def of(trip: str, date: str, claims: str) -> Answers:
        """The answers as typed.

        Raises:
            InputError: a claim that is not program/reference.

        """
        names = [name.strip() for name in claims.split(",") if name.strip() not in ("", "none")]
        return Answers(trip, date, tuple(_claim(name) for name in names))


def _claim(name: str) -> tuple[str, str]:
    program, slash, reference = name.partition("/")
    if not slash or not program or not reference:
        advice = "write the program and the reference, such as freight-road/cinder-crossing"
        raise InputError([Problem(Place("--claims"), f"{name} is no claim", advice)])
    return program, reference


def needed_questions(answers: Answers, host: Host, registry: Registry) -> list[Question]:
    """The plugins' questions that some rule in play rests on, in their order.

    Raises:
        InputError: an unknown program, or a pack that does not load.

    """
    packs = [_pack(program, registry) for program in dict.fromkeys(program for program, _ in answers.claims)]
    needed = facts_needed(packs, registry)
    offered = [question for _, questions in host.results("afield_questions") for question in questions]
    asked = [question for question in offered if needed & set(question.facts)]
    return sorted(asked, key=lambda question: (question.order, question.name))


def _pack(program: str, registry: Registry) -> Pack:
    try:
        return load_pack(pack_folder(program, Path()), registry)
    except NoSuchPack as error:
        raise InputError([Problem(Place("--claims"), error.what, error.advice)]) from error


def facts_needed(packs: Iterable[Pack], registry: Registry) -> set[str]:
    """Every fact that a rule of the packs asks for, or that one of these rests on."""
    conditions = [condition for pack in packs for rule in pack.rules for condition in (rule.require, rule.where)]
    asked = {name for condition in conditions if condition is not None for name in facts_asked(condition)}
    return {fact for name in asked for fact in rests_on(name, registry.facts)}


def new_plan(answers: Answers, lines: Sequence[str]) -> str:
    """The plan's text."""
    text = [f"trip: {_quoted(answers.trip)}", f"date: {answers.date}    # local date of arrival"]
    if answers.claims:
        text += ["claims:"]
        text += [f"  - {{program: {program}, reference: {reference}}}" for program, reference in answers.claims]
    return "\n".join([*text, *lines, "packs: [gear]    # the checklist; `afield brief` prints it"]) + "\n"


def _quoted(text: str) -> str:
    """Text that YAML would read otherwise, in quotes."""
    plain = re.fullmatch(r"[A-Za-z][A-Za-z0-9 ,.'-]*[A-Za-z0-9]", text) and text.lower() not in (
        "true",
        "false",
        "null",
    )
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return text if plain else f'"{escaped}"'


def copied_plan(source: Path, trip: str, date: str) -> str:
    """The text of another plan with its comments, under a new name and date, without what belonged to that outing.

    Raises:
        InputError: it cannot be read.

    """
    document = read_document(source, source.name)
    kept = [block for name, block in _blocks(document.source) if name not in (*STALE, "trip", "date")]
    head = [f"trip: {_quoted(trip)}", f"date: {date}    # local date of arrival"]
    return "\n".join([*head, *[line for block in kept for line in block]]).rstrip() + "\n"


def _blocks(text: str) -> list[tuple[str, list[str]]]:
    """The text cut at its top-level keys; comments stay with what follows them."""
    blocks: list[tuple[str, list[str]]] = []
    waiting: list[str] = []
    for line in text.splitlines():
        key = re.match(r"([A-Za-z_]+)\s*:", line)
        if key:
            blocks.append((key[1], [*waiting, line]))
            waiting = []
        elif not blocks or line.startswith("#") or not line.strip():
            waiting.append(line)
        else:
            blocks[-1][1].extend([*waiting, line])
            waiting = []
    return [*blocks, ("", waiting)]
