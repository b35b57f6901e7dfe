"""The rulebook as text, for a terminal, a letter or a printer without pages."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from textwrap import wrap
from typing import Any

Json = Mapping[str, Any]
WIDTH = 100


def rulebook_text(book: Json) -> str:
    """The whole rulebook in lines of a readable length."""
    blocks = [
        list(_head(book["pack"])),
        *(block for group in book["severities"] for block in _severity(group)),
        *_checklist(book["stages"]),
        *_table("LIMITS", list(_limits(book["limits"]))),
        *_table("WHAT HOLDS FOR THE WHOLE AWARD", list(_facts(book["facts"]))),
        *_table("PLACES", list(_places(book["references"]))),
        list(_judged(book)),
        ["SOURCES", *_lines(book["sources"], "- ")],
        ["MADE FROM", *_lines([f"{name}: {words}" for name, words in book["made"]], "- ")],
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _lines(texts: Iterable[str], first: str = "") -> Iterator[str]:
    for text in texts:
        yield from wrap(text, WIDTH, initial_indent=first, subsequent_indent=" " * len(first), break_on_hyphens=False)


def _head(pack: Json) -> Iterator[str]:
    yield f"{pack['title']}: rulebook"
    yield f"Version {pack['version']}, kept by {pack['publisher']}; licence {pack['licence']}"
    extends = ", which extends ".join(pack["extends"])
    more = f" Extends {extends}, and takes its rules over but for what is said here." if extends else ""
    yield from _lines([pack["whom"] + more])
    yield from _lines([pack["notice"]], "! ")
    if pack["absent"]:
        yield from _lines([f"Not installed here: {', '.join(pack['absent'])}."], "! ")


def _severity(group: Json) -> Iterator[list[str]]:
    yield [group["title"].upper(), group["words"]]
    for kind in group["kinds"]:
        yield [kind["title"]]
        yield from (list(_rule(rule)) for rule in kind["rules"])


def _name(rule: Json) -> str:
    return f"{rule['id']} of {rule['of']}" if rule["of"] else str(rule["id"])


def _rule(rule: Json) -> Iterator[str]:
    yield f"* {rule['title']} [{_name(rule)}]"
    told = [rule["why"], rule["due"], rule["applies"], rule["in_force"], rule["simple"]]
    yield from _lines([line for line in told if line], "  ")
    yield from _lines([f"Taken for granted: {line}" for line in rule["assumes"]], "  ")
    for group in rule["examples"]:
        yield from _lines([f"{group['word']}: {words}" for words in group["examples"]], "    ")
    yield from _lines([f"{text['when']}: {text['words']}" for text in rule["texts"]], "  ")
    yield from _lines(rule["whose"], "  ")
    yield from _lines([rule["source"]] if rule["source"] else [], "  ")


def _checklist(stages: Iterable[Json]) -> Iterator[list[str]]:
    for number, stage in enumerate(stages):
        head = ["CHECKLIST"] if number == 0 else []
        yield [*head, stage["title"], *(line for item in stage["items"] for line in _item(item))]


def _item(item: Json) -> Iterator[str]:
    yield from _lines([f"{item['confirm']} ({item['severity']}) [{_name(item)}]"], "[ ] ")
    told = [
        item["why"],
        f"To bring: {item['evidence']}" if item["evidence"] else "",
        *item["whose"],
        item["source"] or "",
    ]
    yield from _lines([line for line in told if line], "    ")


def _table(title: str, lines: list[str]) -> list[list[str]]:
    return [[title, *lines]] if lines else []


def _limits(limits: Iterable[Json]) -> Iterator[str]:
    for limit in limits:
        used = f", used by: {'; '.join(limit['used_by'])}" if limit["used_by"] else ""
        whose = f" of {limit['whose']}" if limit["whose"] else ""
        yield from _lines([f"{limit['name']}{whose}{used}"])
        for version in limit["versions"]:
            words = f"{version['figure']}, {_span(version)}: {version['source'] or 'no source'}. {version['notes']}"
            yield from _lines([words.rstrip()], "  ")


def _span(version: Json) -> str:
    return f"from {version['from']}" + (f" until {version['until']}" if version["until"] else " on")


def _facts(facts: Iterable[Json]) -> Iterator[str]:
    for fact in facts:
        for version in fact["versions"]:
            span = f" ({_span(version)})" if version["from"] else ""
            yield from _lines([f"{fact['title']}: {version['words']}{span}"])


def _places(references: Json) -> Iterator[str]:
    yield from (f"{place['title']} [{place['id']}], {_span(place)}" for place in references["rows"])
    if references["more"]:
        yield f"and {references['more']} more in the pack's list"


def _judged(book: Json) -> Iterator[str]:
    yield "HOW IT IS JUDGED"
    yield from _lines(book["judged"])
    count = book["examples"]
    told = f"The examples are among the pack's {count} cases, all of which come out as they say."
    yield from _lines([told if count else "There are no examples: the pack has no cases."])
