"""JSON Schema 2020-12 as we check it: exact paths for keys, quantities, and the words of a `$ref`'s siblings.

Importing this module imports jsonschema.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache, partial
from typing import Any

from jsonschema import Draft202012Validator, validators
from jsonschema.exceptions import ValidationError

from afield.core.documents.schema_formats import format_fault
from afield.core.documents.schema_memory import referred, remember_parts
from afield.core.quantities import DIMENSIONS, Quantity, QuantityError, bare_number, convert, parse_quantity

ANNOTATIONS = ("title", "x-dimension", "x-example", "x-form")
"""What a schema says for the messages: a noun phrase, a dimension, an example, the form in words."""

BOUNDS = (
    ("x-above", "not more than", "Write more than {}."),
    ("x-least", "less than", "Write {} or more."),
    ("x-most", "more than", "Write {} or less."),
)
"""Bounds that a schema may state for a quantity beside its x-dimension: keyword, what breaks it, advice."""

KEY_STEP = "(key)"
"""Stands in an error's schema path where a key, not its value, was checked."""

Errors = Iterator[ValidationError]
_BASE: Mapping[str, Any] = Draft202012Validator.VALIDATORS


class Faulty(ValidationError):
    """An error that brings its own advice, or the words of the schemas that led to it."""

    advice: str = ""


def words_of(error: ValidationError) -> dict[str, Any]:
    """The annotations that apply where the error is; those nearest to the value's use win."""
    own = error.schema if isinstance(error.schema, Mapping) else {}
    inner = {name: own[name] for name in ANNOTATIONS if name in own}
    return {**inner, **getattr(error, "outer_words", {})}


def words_of_schema(validator: Any, schema: Any) -> dict[str, Any]:
    """The annotations of a subschema, references followed: an instance that fits nothing makes it report."""
    words = {name: schema[name] for name in ANNOTATIONS if name in schema} if isinstance(schema, Mapping) else {}
    for error in validator.descend(object(), schema):
        words = {**words_of(error), **words}
    return words


def _ref(validator: Any, ref: str, instance: Any, schema: Mapping[str, Any]) -> Errors:
    words = {name: schema[name] for name in ANNOTATIONS if name in schema}
    for error in referred(validator, ref, instance):
        if words and not error.path:
            error.outer_words = {**getattr(error, "outer_words", {}), **words}
        yield error


def _additional_properties(validator: Any, allowed: Any, instance: Any, schema: Mapping[str, Any]) -> Errors:
    if allowed is not False or not isinstance(instance, dict):
        yield from _BASE["additionalProperties"](validator, allowed, instance, schema) or ()
        return
    known = schema.get("properties", {})
    extras = [key for key in instance if key not in known]
    if extras and "patternProperties" in schema:
        found = list(_BASE["additionalProperties"](validator, {"not": {}}, instance, schema))
        extras = [error.path[0] for error in found]
    for extra in extras:
        yield ValidationError(f"unknown key {extra!r}", path=[extra], validator_value=list(known))


def _unevaluated_properties(validator: Any, allowed: Any, instance: Any, schema: Mapping[str, Any]) -> Errors:
    errors = list(_BASE["unevaluatedProperties"](validator, allowed, instance, schema) or ())
    if allowed is not False or not errors:
        yield from errors
        return
    known = _known_keys(schema)
    extras = [key for key in instance if key not in known]
    for extra in extras:
        yield ValidationError(f"unknown key {extra!r}", path=[extra], validator_value=known)
    if not extras:
        yield from errors


def _known_keys(schema: Any) -> list[str]:
    """The keys named by a schema and the schemas it is made of, as far as they are written in place."""
    if not isinstance(schema, Mapping):
        return []
    keys = list(schema.get("properties", {}))
    parts = [part for name in ("allOf", "anyOf", "oneOf") for part in schema.get(name, [])]
    parts += [schema[name] for name in ("if", "then", "else") if name in schema]
    parts += list(schema.get("dependentSchemas", {}).values())
    return list(dict.fromkeys([*keys, *(key for part in parts for key in _known_keys(part))]))


def _properties(validator: Any, properties: Mapping[str, Any], instance: Any, schema: Any) -> Errors:
    """As jsonschema, which leaves the key out of the path where its subschema is `false`."""
    if not isinstance(instance, dict):
        return
    forbidden = [key for key, part in properties.items() if part is False and key in instance]
    for key in forbidden:
        yield ValidationError(f"{key!r} is not allowed", validator="", path=[key], instance=instance[key])
    allowed = {key: part for key, part in properties.items() if part is not False} if forbidden else properties
    yield from _BASE["properties"](validator, allowed, instance, schema)


def _required(validator: Any, required: list[str], instance: Any, schema: Mapping[str, Any]) -> Errors:
    if not isinstance(instance, dict):
        return
    for key in required:
        if key not in instance:
            # The words are found when a message needs them: most errors only say that this branch was not meant.
            words = partial(words_of_schema, validator, schema.get("properties", {}).get(key, {}))
            yield ValidationError(f"missing key {key!r}", validator_value=(key, words))


def _dependent_required(validator: Any, needs: Mapping[str, list[str]], instance: Any, schema: Any) -> Errors:
    if not isinstance(instance, dict):
        return
    for key, others in needs.items():
        for other in others:
            if key in instance and other not in instance:
                words = partial(words_of_schema, validator, schema.get("properties", {}).get(other, {}))
                yield ValidationError(f"{key!r} needs {other!r}", path=[key], validator_value=(key, other, words))


def _property_names(validator: Any, names: Any, instance: Any, schema: Any) -> Errors:
    if isinstance(instance, dict):
        for key in instance:
            yield from validator.descend(key, names, path=key, schema_path=KEY_STEP)


def _one_of(validator: Any, branches: list[Any], instance: Any, schema: Any) -> Errors:
    fitting = [branch for branch in branches if validator.evolve(schema=branch).is_valid(instance)]
    if len(fitting) > 1:
        yield ValidationError("fits more than one", validator_value=fitting)
    elif not fitting:
        yield from _BASE["oneOf"](validator, branches, instance, schema)


def _format(validator: Any, name: str, instance: Any, schema: Any) -> Errors:
    fault = format_fault(instance, name) if isinstance(instance, str) else None
    if fault:
        error = Faulty(fault[0])
        error.advice = fault[1]
        yield error


def _pattern(validator: Any, pattern: str, instance: Any, schema: Any) -> Errors:
    """As jsonschema, but `$` stands for the end alone (ECMA 262), not for a line break at the end too."""
    if isinstance(instance, str) and not _searched(pattern).search(instance):
        yield ValidationError(f"{instance!r} does not match {pattern!r}")


@cache
def _searched(pattern: str) -> re.Pattern[str]:
    ends = pattern.endswith("$") and not pattern.endswith("\\$")
    return re.compile(f"{pattern[:-1]}\\Z" if ends else pattern)


def _dimension(validator: Any, dimension: str, instance: Any, schema: Mapping[str, Any]) -> Errors:
    try:
        if isinstance(instance, str):
            _refuse_beyond(parse_quantity(instance, dimension), instance, dimension, schema)
        elif DIMENSIONS[dimension] and "type" not in schema and validator.is_type(instance, "number"):
            raise bare_number(instance, dimension)
    except QuantityError as fault:
        error = Faulty(fault.what)
        error.advice = fault.advice
        yield error


def _refuse_beyond(quantity: Quantity, written: str, dimension: str, schema: Mapping[str, Any]) -> None:
    """Raise QuantityError where the schema states bounds (`x-above`, `x-least`, `x-most`) that the quantity breaks."""
    title = schema.get("title", "the value")
    for keyword, word, advice in BOUNDS:
        if keyword in schema and _breaks(quantity, keyword, parse_quantity(schema[keyword], dimension)):
            raise QuantityError(f"{title} {written} is {word} {schema[keyword]}", advice.format(schema[keyword]))


def _breaks(quantity: Quantity, keyword: str, bound: Quantity) -> bool:
    value = convert(quantity.value, quantity.unit, bound.unit)
    if keyword == "x-above":
        return value <= bound.value
    return value < bound.value if keyword == "x-least" else value > bound.value


_extend: Callable[..., Any] = validators.extend

PlanValidator: Any = _extend(
    Draft202012Validator,
    {
        "$ref": _ref,
        "additionalProperties": _additional_properties,
        "unevaluatedProperties": _unevaluated_properties,
        "properties": _properties,
        "required": _required,
        "dependentRequired": _dependent_required,
        "propertyNames": _property_names,
        "oneOf": _one_of,
        "format": _format,
        "pattern": _pattern,
        "x-dimension": _dimension,
    },
)
"""The validator class; its errors are put into words by `schema_messages`."""

remember_parts(PlanValidator)
