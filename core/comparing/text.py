"""The comparison for a terminal: how each side stands, a block a fact, the verdicts that change, what to know."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from afield.core.comparing.blocks import (
    Block,
    changed_blocks,
    changes_title,
    counted,
    only_words,
    open_blocks,
    tick_blocks,
)
from afield.core.comparing.wording import (
    difference_words,
    grounds,
    headline,
    note_words,
    shown_lines,
    side_lines,
    silent_words,
    warning_words,
)
from afield.core.language import _

Json = Mapping[str, Any]


def comparison_text(comparison: Json) -> str:
    """The whole comparison in lines."""
    base = comparison["sides"][0]
    trip = base["trip"]
    blocks = [
        [f"{trip['title']}, {trip['date']}", headline(comparison)],
        *[[f"{side['label']}:", *_indented(side_lines(side, base))] for side in comparison["sides"]],
        *[list(_row(row, comparison)) for row in comparison["rows"]],
        list(_silent(comparison)),
        *[list(_changes(changes, base["label"])) for changes in comparison["changes"]],
        list(grounds(comparison)),
        list(_warnings(comparison)),
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _warnings(comparison: Json) -> Iterator[str]:
    for warning in comparison["warnings"]:
        yield _("warning: {warning}").format(warning=warning_words(warning, comparison["sides"]))


def _indented(lines: Iterable[str], steps: int = 1) -> Iterator[str]:
    return (f"{'  ' * steps}{line}" for line in lines)


def _row(row: Json, comparison: Json) -> Iterator[str]:
    differences = {difference["label"]: difference for difference in row["differences"]}
    width = max(len(value["label"]) for value in row["values"]) + 2
    yield row["title"]
    for value in row["values"]:
        yield f"  {value['label']:<{width}}{value['words']}"
        difference = differences.get(value["label"])
        lines = [f"  - {line}" for line in shown_lines(value, row)]
        words = difference_words(difference, value, comparison["sides"][0]["label"])
        lines += [words] if words else []
        lines += [f"  {line}" for line in difference["lines"]] if difference else []
        yield from (f"  {'':<{width}}{line}" for line in lines)
    yield from _indented(_("note: {note}").format(note=note_words(note, row)) for note in row["notes"])


def _silent(comparison: Json) -> Iterator[str]:
    if not comparison["rows"]:
        yield _("No figure can be compared.")
    if comparison["silent"]:
        yield _("Known of none of them:")
        yield from _indented(silent_words(entry) for entry in comparison["silent"])


def _changes(changes: Json, base: str) -> Iterator[str]:
    yield changes_title(changes, base)
    if not (changes["changed"] or changes["only"] or changes["checklist"]):
        yield f"  {_('none changes')}"
    yield from _lines(changed_blocks(changes), 1)
    for group in changes["only"]:
        yield f"  {_('only with {side}').format(side=group['label'])}"
        yield from _indented(only_words(group), 2)
        yield from _lines(open_blocks(group), 2)
    for block in tick_blocks(changes):
        yield f"  {_('checklist: {item}: {ticks}').format(item=block.title, ticks=', '.join(block.lines))}"
    yield f"  {_('unchanged: {outcomes}').format(outcomes=counted(changes['unchanged']))}"


def _lines(blocks: Iterable[Block], steps: int) -> Iterator[str]:
    for block in blocks:
        yield f"{'  ' * steps}{block.severity}: {block.title}"
        yield from _indented(block.lines, steps + 1)
