"""A schema's keyword that failed -> what is wrong and what to do, in the writer's words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.core.documents.document import Document
from afield.core.documents.marks import Path
from afield.core.documents.schema_formats import format_fault
from afield.core.documents.schema_words import due_of, example_in, kind_of, name_of, shown
from afield.core.documents.spelling import did_you_mean, quoted_list
from afield.core.frozen import frozen
from afield.core.quantities import DIMENSIONS, bare_number

Message = tuple[str, str]
"""What is wrong, and what to do."""

UNKNOWN_KEY = ("additionalProperties", "unevaluatedProperties")
"""The keywords that close a mapping."""


@frozen
class Failure:
    """A keyword that a value does not meet.

    Attributes:
        document: where the value was written.
        path: of the value, or of the key where the key is at fault.
        keyword: JSON Schema's name, or one of ours; "" for a schema that allows nothing.
        limit: what the keyword demands; for keys as the validator states it.
        value: what was written (the key, if `of_key`).
        schema: the subschema that holds the keyword.
        words: the annotations that apply there.
        own: the message that the check itself gave, if it gave one.
        of_key: whether a key was checked, not its value.

    """

    document: Document
    path: Path
    keyword: str
    limit: Any
    value: Any
    schema: Mapping[str, Any]
    words: Mapping[str, Any]
    own: Message
    of_key: bool = False

    @property
    def thing(self) -> str:
        """The value at fault, as a noun phrase."""
        return str(self.words["title"]) if "title" in self.words else name_of(self.path)

    @property
    def at_key(self) -> bool:
        """Whether the message points at the key."""
        return self.of_key or self.keyword in ("", *UNKNOWN_KEY, "dependentRequired")


def message_of(failure: Failure) -> Message:
    """What is wrong and what to do."""
    say = _MESSAGES.get(failure.keyword, _other)
    what, advice = say(failure)
    return what, advice or _example_or_form(failure)


def _example_or_form(failure: Failure) -> str:
    example = example_in(failure.words)
    form = f"It is {failure.words['x-form']}." if "x-form" in failure.words else ""
    written = f"For example: {example}" if example else ""
    return " ".join(filter(None, [form, written])) or "Mend it or remove it."


def _unknown_key(failure: Failure) -> Message:
    key, known = str(failure.path[-1]), list(failure.limit)
    owner = str(failure.schema.get("title", name_of(failure.path[:-1])))
    near = did_you_mean(key, known)
    if near:
        return f'unknown key "{key}" in {owner}', f'Did you mean "{near}"?'
    return f'unknown key "{key}" in {owner}', f"Known keys: {quoted_list(known)}." if known else "Remove it."


def _missing_key(failure: Failure) -> Message:
    key, words = failure.limit
    return f'{failure.thing} has no key "{key}"', _add(key, words())


def _one_key(failure: Failure) -> Message:
    groups = [_joined(group) for group in failure.limit]
    return f"{failure.thing} has none of the keys that are due", f"Add {', or '.join(groups)}."


def _needed_key(failure: Failure) -> Message:
    key, other, words = failure.limit
    return f'"{key}" needs the key "{other}" beside it', _add(other, words())


def _add(key: str, words: Mapping[str, Any]) -> str:
    example = example_in(words)
    return f"Add it, for example: {key}: {example}" if example else f'Add "{key}: ...".'


def _type(failure: Failure) -> Message:
    types = [failure.limit] if isinstance(failure.limit, str) else list(failure.limit)
    dimension = failure.words.get("x-dimension", "")
    if DIMENSIONS.get(dimension) and isinstance(failure.value, int | float) and not isinstance(failure.value, bool):
        bare = bare_number(failure.value, dimension)
        return bare.what, bare.advice
    unquoted = _unquoted(failure)
    if unquoted:
        return unquoted
    what = f"{failure.thing} is {kind_of(failure.value)}; {due_of(failure.words, types)} is due"
    if types == ["string"] and isinstance(failure.value, bool | int | float) and not dimension:
        return what, f'Write it in quotes: "{shown(failure.value)}".'
    return what, _type_advice(failure, types)


def _unquoted(failure: Failure) -> Message | None:
    """What is wrong with a number where a text of some format is due: quotes alone would not mend it."""
    is_number = isinstance(failure.value, int | float) and not isinstance(failure.value, bool)
    return format_fault(shown(failure.value), failure.schema.get("format", "")) if is_number else None


def _type_advice(failure: Failure, types: list[str]) -> str:
    if example_in(failure.words) or "x-form" in failure.words:
        return ""
    if types == ["array"] and isinstance(failure.value, str | int | float):
        return f"Write it in brackets: [{shown(failure.value)}]."
    keys = failure.schema.get("properties", {})
    if "object" in types and keys:
        return f"Write its keys: {quoted_list(keys)}."
    return f"Write {due_of(failure.words, types)}."


def _enum(failure: Failure) -> Message:
    choices = [str(choice) for choice in failure.limit]
    near = did_you_mean(failure.value, choices) if isinstance(failure.value, str) else None
    meant = f'Did you mean "{near}"? ' if near else ""
    return f"{shown(failure.value)} is not a choice for {failure.thing}", f"{meant}Choices: {quoted_list(choices)}."


def _const(failure: Failure) -> Message:
    return f"{failure.thing} is {shown(failure.value)}; {shown(failure.limit)} is due", f"Write {shown(failure.limit)}."


def _own(failure: Failure) -> Message:
    return failure.own


def _pattern(failure: Failure) -> Message:
    return f"{shown(failure.value)} is not well formed for {failure.thing}", (
        "" if example_in(failure.words) or "x-form" in failure.words else f"It must match {failure.limit}"
    )


def _bounds(failure: Failure) -> Message:
    low, high = failure.schema.get("minimum"), failure.schema.get("maximum")
    value = f"{failure.thing} {shown(failure.value)}"
    swapped = "Are latitude and longitude swapped?" if _looks_swapped(failure) else ""
    if low is not None and high is not None:
        return f"{value} is outside {low} to {high}", swapped or f"Write a number from {low} to {high}."
    word, side = ("less", "or more") if failure.keyword == "minimum" else ("more", "or less")
    return f"{value} is {word} than {failure.limit}", swapped or f"Write {failure.limit} {side}."


def _exclusive(failure: Failure) -> Message:
    word = "more" if failure.keyword == "exclusiveMinimum" else "less"
    what = f"{failure.thing} {shown(failure.value)} is not {word} than {failure.limit}"
    return what, f"Write a number {word} than {failure.limit}."


def _looks_swapped(failure: Failure) -> bool:
    if not failure.path or failure.path[-1] not in ("lat", "latitude"):
        return False
    beside = failure.document.value(failure.path[:-1])
    longitude = beside.get("lon", beside.get("longitude")) if isinstance(beside, dict) else None
    return isinstance(longitude, int | float) and abs(longitude) <= 90 < abs(failure.value)


def _multiple(failure: Failure) -> Message:
    return f"{failure.thing} {shown(failure.value)} is no multiple of {failure.limit}", ""


_COUNTED = {"Items": "entries", "Length": "characters", "Properties": "keys"}
_ONE = {"entries": "entry", "characters": "character", "keys": "key"}


def _size(failure: Failure) -> Message:
    least, counted = failure.keyword.startswith("min"), _COUNTED[failure.keyword[3:]]
    has = _amount(len(failure.value), counted) if failure.value else ""
    if not has and failure.limit == 1:
        return f"{failure.thing} is empty", "" if example_in(failure.words) else f"Write at least one {_ONE[counted]}."
    bound, limit = "at least" if least else "at most", _amount(failure.limit, counted)
    what = f"{failure.thing} {f'has {has}' if has else 'is empty'}; {bound} {failure.limit} {_is(failure.limit)} due"
    return what, f"Write {bound} {limit}."


def _amount(number: int, counted: str) -> str:
    return f"{number} {_ONE[counted] if number == 1 else counted}"


def _is(number: int) -> str:
    return "is" if number == 1 else "are"


def _repeated(failure: Failure) -> Message:
    return f"{name_of(failure.path)} repeats item {failure.limit + 1}", "Remove one of the two."


def _ambiguous(failure: Failure) -> Message:
    titles = [str(branch["title"]) for branch in failure.limit if isinstance(branch, Mapping) and "title" in branch]
    required = [key for branch in failure.limit if isinstance(branch, Mapping) for key in branch.get("required", [])]
    if len(titles) == len(failure.limit):
        return f"{failure.thing} can be read as {' and as '.join(titles)}", "Keep the keys of one of them."
    if required:
        return f"{failure.thing} has {_joined(required)}; one of them is due", "Keep one."
    return f"{failure.thing} can be read in more than one way", "Keep the keys of one of them."


def _joined(keys: list[str]) -> str:
    return " and ".join(f'"{key}"' for key in keys)


def _excluded(failure: Failure) -> Message:
    together = failure.limit.get("required", []) if isinstance(failure.limit, Mapping) else []
    if len(together) > 1:
        return f"{failure.thing} has {_joined(together)}, which exclude each other", "Keep one."
    return f"{failure.thing} is not allowed like this", ""


def _not_allowed(failure: Failure) -> Message:
    return f"{name_of(failure.path)} is not allowed here", "Remove it."


def _contains(failure: Failure) -> Message:
    return f"{failure.thing} lacks an entry that is due", ""


def _other(failure: Failure) -> Message:
    return f"{failure.thing} does not fit: {failure.own[0]}", ""


_MESSAGES: dict[str, Callable[[Failure], Message]] = {
    "": _not_allowed,
    "additionalProperties": _unknown_key,
    "unevaluatedProperties": _unknown_key,
    "required": _missing_key,
    "one key": _one_key,
    "dependentRequired": _needed_key,
    "type": _type,
    "enum": _enum,
    "const": _const,
    "format": _own,
    "x-dimension": _own,
    "pattern": _pattern,
    "minimum": _bounds,
    "maximum": _bounds,
    "exclusiveMinimum": _exclusive,
    "exclusiveMaximum": _exclusive,
    "multipleOf": _multiple,
    **{f"{side}{counted}": _size for side in ("min", "max") for counted in _COUNTED},
    "uniqueItems": _repeated,
    "oneOf": _ambiguous,
    "not": _excluded,
    "contains": _contains,
}
