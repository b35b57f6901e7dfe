"""A new plan: which questions the rules in play need, and the answers as a commented plan."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from afield.core.documents import InputError, Place, Problem, did_you_mean, quoted_list, read_document
from afield.core.facts.graph import rests_on
from afield.core.frozen import frozen
from afield.core.host.hookspecs import Question
from afield.core.host.loading import Host
from afield.core.host.registry import Registry
from afield.core.packs.finding import NoSuchPack, installed_packs, pack_folder
from afield.core.packs.loading import load_pack
from afield.core.packs.model import Pack
from afield.core.rules.conditions import facts_asked

STALE = ("measured", "confirmed")
"""Sections that belong to one outing and are not carried over to the next plan."""

RENEWED = ("trip", "date")
"""Keys that the next plan says anew."""


@frozen
class Answers:
    """What a new plan says in any case.

    Attributes:
        claims: (program, reference) pairs.

    """

    trip: str
    date: str
    claims: tuple[tuple[str, str], ...]


def claims_of(text: str, registry: Registry) -> tuple[tuple[str, str], ...]:
    """The claims as typed, with commas between them; none for "none".

    Raises:
        InputError: a claim that is not program/reference, an unknown one, or one twice.

    """
    names = [name.strip() for name in text.split(",") if name.strip() not in ("", "none")]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice:
        raise _refused(f"{twice} is claimed twice", "Name it once.")
    return tuple(_claim(name, registry) for name in names)


def _claim(name: str, registry: Registry) -> tuple[str, str]:
    program, slash, reference = name.partition("/")
    if not slash or not program or not reference:
        raise _refused(
            f"{name} is no claim", "Write the program and the reference with a slash between, as PROGRAM/REFERENCE."
        )
    pack = _pack(program, registry)
    if pack.judges != "program":
        raise _refused(f"{program} judges the trip, not a program", "Claim a reference of a program.")
    known = sorted({entry.id for entry in pack.references or ()})
    if known and reference not in known:
        guess = did_you_mean(reference, known)
        advice = f'Did you mean "{guess}"?' if guess else f"Its references are {quoted_list(known)}."
        raise _refused(f"{program} has no reference {reference}", advice)
    return program, reference


def _refused(what: str, advice: str) -> InputError:
    return InputError([Problem(Place("--claims"), what, advice)])


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
        raise _refused(error.what, error.advice) from error


def facts_needed(packs: Iterable[Pack], registry: Registry) -> set[str]:
    """Every fact that a rule of the packs asks for, or that one of these rests on."""
    conditions = [condition for pack in packs for rule in pack.rules for condition in (rule.require, rule.where)]
    asked = {name for condition in conditions if condition is not None for name in facts_asked(condition)}
    return {fact for name in asked for fact in rests_on(name, registry.facts)}


def new_plan(answers: Answers, lines: Sequence[str], packs: Sequence[str]) -> str:
    """The plan's text, with the plugins' lines and the names of trip packs."""
    text = [f"trip: {_quoted(answers.trip)}", f"date: {answers.date}    # local date of arrival"]
    if answers.claims:
        text += ["claims:"]
        text += [f"  - {{program: {program}, reference: {reference}}}" for program, reference in answers.claims]
    checklist = [f"packs: [{', '.join(packs)}]    # the checklist; `afield brief` prints it"] if packs else []
    return "\n".join([*text, *lines, *checklist]) + "\n"


def trip_packs() -> list[str]:
    """The installed packs that judge the trip itself, and in place of one that a single pack extends, that pack.

    Where several extend one pack, a plan can name but one of them: which, a person decides, and gets that one itself.
    """
    headers = {name: _header(name, folder) for name, folder in installed_packs().items()}
    extends = {name: header.get("extends") for name, header in headers.items() if header.get("judges") == "trip"}
    named = list(extends.values())
    replaced = {base for base in named if named.count(base) == 1}
    return sorted(name for name in extends if name not in replaced and replaced >= set(_bases(name, extends)))


def _bases(name: str, extends: Mapping[str, str | None]) -> list[str]:
    """The packs that it extends, one after the other."""
    found: list[str] = []
    base = extends.get(name)
    while base is not None and base not in found:
        found.append(base)
        base = extends.get(base)
    return found


def _header(name: str, folder: Path) -> Mapping[str, Any]:
    found: Mapping[str, Any] = read_document(folder / "pack.yaml", f"pack:{name}/pack.yaml").data
    return found


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
    lines: list[str] = []
    for name, comments, block in _blocks(document.source):
        if name in RENEWED:
            lines += [*comments, f"trip: {_quoted(trip)}" if name == "trip" else f"date: {date}{_comment_of(block[0])}"]
        elif name not in STALE:
            lines += [*comments, *block]
    return "\n".join(lines).rstrip() + "\n"


def _comment_of(line: str) -> str:
    """The comment behind a date, with the blanks before it."""
    found = re.search(r"\s+#.*", line)
    return found[0] if found else ""


def _blocks(text: str) -> list[tuple[str, list[str], list[str]]]:
    """The text cut at its top-level keys: name, the comments above, the lines; "" is what follows the last."""
    blocks: list[tuple[str, list[str], list[str]]] = []
    waiting: list[str] = []
    for line in text.splitlines():
        key = re.match(r"""["']?([A-Za-z_]+)["']?\s*:""", line)
        if key:
            blocks.append((key[1], waiting, [line]))
            waiting = []
        elif not blocks or line.startswith("#") or not line.strip():
            waiting.append(line)
        else:
            blocks[-1][2].extend([*waiting, line])
            waiting = []
    return [*blocks, ("", waiting, [])]
