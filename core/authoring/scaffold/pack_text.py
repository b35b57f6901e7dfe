"""pack.yaml, and for a program references.yaml with its places, as commented text."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.authoring.scaffold.answers import Answers
from afield.core.authoring.scaffold.flow import block, flow


def schema_line(name: str) -> str:
    """The line by which editors complete and check while one types."""
    return f"# yaml-language-server: $schema=schemas/{name}.json"


def source_of(answers: Answers) -> str:
    """The passage that the pack rests on, on one line."""
    return flow(
        {
            "document": answers.document, "section": answers.section, "edition": answers.edition,
            "grade": "published", "last_checked": answers.checked.isoformat(),
        }
    )  # fmt: skip


HEAD = """\
{schema}
#
# What this pack is. A line that begins with # is a note to you; the program does not read it.
# Keep the blanks at the beginning of lines as they are: they say what belongs to what.

"""
COLUMN = 44
"""Where the notes behind the lines begin."""

FACTS = """\
facts:
  # What holds for the whole award, each with the day from which it holds.
"""
FACT_NOTES = {
    "counted_roles": "What must stay within the limit: add feed line, guy, supply, vehicle ... or take some out.",
    "required_roles": "A plan without one of these never passes.",
    "line_means": "Which line on the ground is meant: tread, centre line, nearer edge, bank or thread of stream.",
}

REFERENCES = """\
{schema}
#
# The places of the award, one entry each. These are examples: put your own in their place.
# `file` names a GeoJSON, GPX or KML file in this folder, `id` the place within it.

references:
"""


def pack_yaml(answers: Answers) -> str:
    """The text of pack.yaml."""
    lines = [_noted(line, note) for line, note in _entries(answers)]
    text = HEAD.format(schema=schema_line("pack")) + "".join(lines)
    facts = [_fact(name, value, answers) for name, value in program_facts(answers).items()]
    text += FACTS + "".join(facts) if facts else ""
    return text + (
        _noted("references: references.yaml", "the places that can be claimed") if has_places(answers) else ""
    )


def _noted(line: str, note: str) -> str:
    return f"{line:<{COLUMN - 1}} # {note}\n" if note else f"{line}\n"


def _entries(answers: Answers) -> Iterator[tuple[str, str]]:
    needs = dict.fromkeys(name for chosen in answers.chosen for name in chosen.starter.needs)
    source = {"document": answers.document, "edition": answers.edition, "grade": "published"}
    whom = "claims of this award" if answers.judges == "program" else "every trip that names the pack"
    yield f"id: {answers.id}", "the same as the folder's name"
    yield 'version: "0.1.0"', "raise it with every change: the second number for a limit, the third for words"
    yield f"title: {flow(answers.title, False)}", ""
    yield f"publisher: {flow(answers.publisher, False)}", ""
    yield "licence: CC-BY-4.0", "under which it may be passed on; another if you like"
    yield "notice: A first version, not yet reviewed.", "printed with every report"
    yield f"judges: {answers.judges}", whom
    yield f"needs: {flow(list(needs))}", "parts of the program that find the facts of the rules"
    yield f"date_basis: {answers.date_basis}", "utc: days begin at 00:00 UTC; local: at midnight at the place"
    yield "review_every: 365 days", "a report warns when a source was not looked at for so long"
    yield "sources:", "the documents that your rules stand in"
    yield f"  - {flow(source)}", ""


def _fact(name: str, value: Any, answers: Answers) -> str:
    """A program fact; one that is no limit, which has dates and a source of its own, with both."""
    note = FACT_NOTES.get(name.rpartition(".")[2])
    lines = [f"  # {note}"] if note else []
    if isinstance(value, Mapping):
        return "\n".join([*lines, f"  {name}: {flow(value)}"]) + "\n"
    lines += [f"  {name}:", f"    - from: {answers.since}", f"      value: {flow(value, False)}"]
    return "\n".join([*lines, f"      source: {source_of(answers)}"]) + "\n"


def program_facts(answers: Answers) -> Mapping[str, Any]:
    """What the pack says of its program, each fact once."""
    found: dict[str, Any] = {}
    for chosen in answers.chosen:
        found |= {name: value for name, value in chosen.starter.program.items() if name not in found}
    return found


def has_places(answers: Answers) -> bool:
    """Whether an example of a place comes with what was chosen."""
    return any(chosen.starter.reference for chosen in answers.chosen)


def references_yaml(answers: Answers) -> str:
    """The text of references.yaml."""
    text = REFERENCES.format(schema=schema_line("references"))
    for chosen in answers.chosen:
        if chosen.starter.reference:
            entry = {**chosen.starter.reference, "from": answers.since.isoformat()}
            lines = list(block(entry, "    "))
            text += "\n".join(["  - " + lines[0].lstrip(), *lines[1:], f"    source: {source_of(answers)}"]) + "\n"
    return text


def places_geojson(answers: Answers) -> str:
    """The shapes of the example places, as GeoJSON (RFC 7946)."""
    features = [
        {
            "type": "Feature", "id": chosen.starter.reference["id"],
            "properties": {"id": chosen.starter.reference["id"], "name": chosen.starter.reference["title"]},
            "geometry": chosen.starter.shape,
        }
        for chosen in answers.chosen
        if chosen.starter.reference and chosen.starter.shape
    ]  # fmt: skip
    return json.dumps({"type": "FeatureCollection", "features": features}, indent=1) + "\n"
