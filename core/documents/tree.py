"""YAML events -> plain values and their marks, within limits."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from afield.core.documents.characters import unseen_character, whole_characters
from afield.core.documents.document import source_lines
from afield.core.documents.limits import Limits
from afield.core.documents.marks import Marks
from afield.core.documents.places import InputError, Place, Problem
from afield.core.documents.scalars import Scalar, plain_value

Node = tuple[Any, Marks]

_TAG_PREFIX = "tag:yaml.org,2002:"
_SCALAR_TAGS = {"str", "int", "float", "bool", "null"}


@dataclass(slots=True)
class _Anchored:
    """What an anchor names; `size` counts its nodes, aliases expanded."""

    node: Node
    size: int


class TreeBuilder:
    """Builds the tree of one document from its events."""

    def __init__(self, name: str, text: str, limits: Limits) -> None:
        from ruamel.yaml import events

        self.problems: list[Problem] = []
        self._name = name
        self._text = text
        self._limits = limits
        self._count = 0
        self._anchors: dict[str, _Anchored | None] = {}
        self._makers: dict[type, Callable[[Any, int], Node]] = {
            events.ScalarEvent: self._scalar,
            events.MappingStartEvent: self._mapping,
            events.SequenceStartEvent: self._list,
            events.AliasEvent: self._alias,
        }
        self._mapping_end, self._list_end = events.MappingEndEvent, events.SequenceEndEvent

    def node(self, events: Iterator[Any]) -> Node:
        """The value that begins with the next event."""
        self._events = events
        return self._node(next(events), 1)

    def stop(self, event: Any, what: str, advice: str) -> InputError:
        """The error that ends the reading, with all problems found before it."""
        return InputError([*self.problems, self.problem(self.place(event), what, advice)])

    def place(self, event: Any) -> Place:
        """Where the event begins."""
        mark = event.start_mark
        return Place(self._name, mark.line + 1, mark.column + 1)

    def problem(self, place: Place, what: str, advice: str) -> Problem:
        """A problem with its source line."""
        lines = source_lines(self._text)
        return Problem(place, what, advice, lines[place.line - 1] if 0 < place.line <= len(lines) else "")

    def _node(self, event: Any, depth: int) -> Node:
        if depth > self._limits.depth:
            raise self._too_deep(event)
        self._add(1, event)
        anchor = event.anchor
        if anchor is None or type(event).__name__ == "AliasEvent":
            return self._makers[type(event)](event, depth)
        return self._anchored(event, depth)

    def _anchored(self, event: Any, depth: int) -> Node:
        before = self._count
        self._anchors[event.anchor] = None
        node = self._makers[type(event)](event, depth)
        self._anchors[event.anchor] = _Anchored(node, self._count - before + 1)
        return node

    def _alias(self, event: Any, depth: int) -> Node:
        if event.anchor not in self._anchors:
            what = f"*{event.anchor} has no anchor &{event.anchor} before it"
            raise self.stop(event, what, 'Write the value out; a text that begins with "*" goes in quotes.')
        found = self._anchors[event.anchor]
        if found is None:
            raise self.stop(event, f"*{event.anchor} stands inside the value that it names", "Write the value out.")
        if depth + _height(found.node[0]) - 1 > self._limits.depth:
            raise self._too_deep(event)
        self._add(found.size - 1, event)
        return found.node

    def _mapping(self, event: Any, depth: int) -> Node:
        self._refuse_tag(event, {"map"})
        values: dict[str, Any] = {}
        marks = Marks(self.place(event))
        while type(found := next(self._events)) is not self._mapping_end:
            key = self._key(found)
            written = next(self._events)
            value, value_marks = self._node(written, depth + 1)
            self._keep_key(key, found, marks)
            if value is None and not getattr(written, "value", ""):
                value_marks = Marks(marks.keys[key])  # nothing is written: the parser points at what follows
            values.setdefault(key, value)
            marks.parts.setdefault(key, value_marks)
        return values, marks

    def _keep_key(self, key: str, event: Any, marks: Marks) -> None:
        place = self.place(event)
        first = marks.keys.setdefault(key, place)
        if first is not place:
            self.problems.append(
                self.problem(
                    place, f'the key "{key}" is written twice, first on line {first.line}', "Keep one of the two."
                )
            )

    def _list(self, event: Any, depth: int) -> Node:
        self._refuse_tag(event, {"seq"})
        values: list[Any] = []
        marks = Marks(self.place(event))
        while type(found := next(self._events)) is not self._list_end:
            value, marks.parts[len(values)] = self._node(found, depth + 1)
            values.append(value)
        return values, marks

    def _key(self, event: Any) -> str:
        """The text of a key; a key of another type is a problem, and is read as the text as written."""
        self._add(1, event)
        if type(event).__name__ != "ScalarEvent":
            raise self.stop(event, "a key must be a text", 'Write "key: value"; a value with ":" in it goes in quotes.')
        key = self._scalar(event, 1)[0]
        if key == "<<":
            self._note(event, 'the merge key "<<" is not part of YAML 1.2', "Write the values out.")
        if isinstance(key, str):
            return key
        written = str(event.value)
        self._note(event, f'the key "{written}" is {_type_words(key)}, not a text', f'Write it in quotes: "{written}".')
        return written

    def _scalar(self, event: Any, depth: int) -> Node:
        tag = self._refuse_tag(event, _SCALAR_TAGS)
        marks = Marks(self.place(event))
        if tag == "str" or (event.style and tag is None) or event.tag == "!":
            return self._text_of(event), marks
        try:
            value = plain_value(event.value)
        except ValueError as error:
            self._note(event, f"{error}", "Write a number of ordinary size, or put a text in quotes.")
            return None, marks
        if tag is not None:
            value = self._tagged(event, tag, value)
        return value, marks

    def _text_of(self, event: Any) -> str:
        """The text of a scalar; escapes may not make characters that the file itself may not hold."""
        if event.style != '"':
            return str(event.value)
        text = whole_characters(event.value)
        if found := unseen_character(text):
            what = f"the escape for the character U+{ord(found.group()):04X} is not allowed"
            self._note(event, what, "Remove it; the character cannot be seen.")
        return text

    def _tagged(self, event: Any, tag: str, value: Scalar) -> Scalar:
        if tag == "float" and type(value) is int:
            return float(value)
        kind = float if isinstance(value, float) else type(value)
        if kind is not {"int": int, "float": float, "bool": bool, "null": type(None)}[tag]:
            self._note(event, f'"{event.value}" is not what its tag !!{tag} says', f"Remove !!{tag} or mend the value.")
        return value

    def _refuse_tag(self, event: Any, known: set[str]) -> str | None:
        """The short name of the event's tag, None if it has none or one that says nothing."""
        tag = event.tag
        if tag is None or tag == "!":
            return None
        short = str(tag).removeprefix(_TAG_PREFIX)
        if short == tag or short not in known:
            shown = str(tag) if short == tag else f"!!{short}"
            raise self.stop(event, f"the tag {shown} is not allowed here", "Remove it: only plain values are read.")
        return short

    def _note(self, event: Any, what: str, advice: str) -> None:
        self.problems.append(self.problem(self.place(event), what, advice))

    def _add(self, nodes: int, event: Any) -> None:
        self._count += nodes
        if self._count > self._limits.nodes:
            raise self.stop(
                event,
                f"more than {self._limits.nodes} values, aliases expanded",
                "Write fewer values, or split the file; an alias (*name) counts as all that it stands for.",
            )

    def _too_deep(self, event: Any) -> InputError:
        return self.stop(event, f"nested deeper than {self._limits.depth} levels", "Write it with fewer levels.")


def _height(value: Any) -> int:
    """Levels of nesting of a value, 1 for a scalar."""
    parts = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return 1 + max(map(_height, parts), default=0)


def _type_words(value: Scalar) -> str:
    if value is None:
        return "empty"
    return "true or false" if isinstance(value, bool) else "a number"
