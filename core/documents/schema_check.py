"""A document against its JSON Schema (2020-12), every fault at its file:line:col.

Importing this module imports jsonschema.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012

from afield.core.documents.document import Document
from afield.core.documents.places import Problem
from afield.core.documents.schema_branches import alternatives, meant_errors, refused_types
from afield.core.documents.schema_keywords import KEY_STEP, PlanValidator, words_of
from afield.core.documents.schema_messages import UNKNOWN_KEY, Failure, message_of
from afield.core.documents.spelling import did_you_mean

Schema = Mapping[str, Any]

_compiled: dict[str, tuple[Schema, Mapping[str, Schema], Any]] = {}


def check_schema(document: Document, schema: Schema, registry: Mapping[str, Schema] | None = None) -> list[Problem]:
    """Everything in the document that the schema does not allow, in the order of the places.

    Beyond JSON Schema 2020-12: `x-dimension` demands a quantity; the formats `date`, `clock` and `date-time` are
    checked; `title` (a noun phrase), `x-example` and `x-form` (the form, in words) serve the messages.

    Args:
        document: as read.
        schema: kept compiled under its `$id`, so neither it nor the registry may change afterwards.
        registry: further schemas by the names that `$ref` gives them.

    """
    validator = _validator(schema, registry or {})
    failures = [found for error in validator.iter_errors(document.data) for found in _failures(document, error)]
    kept = sorted(_without_misspelt(failures), key=lambda failure: failure.keyword not in UNKNOWN_KEY)
    problems = dict.fromkeys(map(_problem, kept))
    return sorted(problems, key=lambda problem: problem.place)


def _validator(schema: Schema, registry: Mapping[str, Schema]) -> Any:
    """The validator, compiled once for a schema and registry."""
    name = str(schema.get("$id", ""))
    known = _compiled.get(name)
    if known and known[0] is schema and (known[1] is registry or known[1] == registry):
        return known[2]
    resources = [
        (urn, Resource.from_contents(content, default_specification=DRAFT202012)) for urn, content in registry.items()
    ]
    validator = PlanValidator(schema, registry=Registry().with_resources(resources))
    _compiled[name] = (schema, registry, validator)
    return validator


def _failures(document: Document, error: Any) -> Iterator[Failure]:
    """The failures that an error stands for: of a oneOf or anyOf, the best one of the branch that was meant."""
    failure = _failure(document, error)
    if not error.context:
        yield from _each_repeat(failure) if failure.keyword == "uniqueItems" else [failure]
    elif types := refused_types(error):
        yield replace(failure, keyword="type", limit=types)
    elif keys := alternatives(error):
        yield replace(failure, keyword="one key", limit=keys)
    else:
        yield from _best_of_branch(document, failure, min(meant_errors(error), key=_rank))


def _best_of_branch(document: Document, whole: Failure, error: Any) -> Iterator[Failure]:
    """The branch's error, named by the whole's title where it is about the same value and has no title itself."""
    for failure in _failures(document, error):
        same_value = failure.path == whole.path
        yield replace(failure, words={**whole.words, **failure.words}) if same_value else failure


def _failure(document: Document, error: Any) -> Failure:
    return Failure(
        document=document,
        path=tuple(error.absolute_path),
        keyword=error.validator or "",
        limit=error.validator_value,
        value=error.instance,
        schema=error.schema if isinstance(error.schema, Mapping) else {},
        words=words_of(error),
        own=(error.message, getattr(error, "advice", "")),
        of_key=KEY_STEP in error.absolute_schema_path,
    )


def _rank(error: Any) -> tuple[bool, bool, int]:
    """Unknown keys first, then missing ones, then what lies highest."""
    return error.validator not in UNKNOWN_KEY, error.validator != "required", len(error.relative_path)


def _each_repeat(failure: Failure) -> Iterator[Failure]:
    """One failure for every item that repeats an earlier one."""
    seen: dict[str, int] = {}
    for index, item in enumerate(failure.value):
        first = seen.setdefault(json.dumps(item, sort_keys=True), index)
        if first != index:
            yield replace(failure, path=(*failure.path, index), limit=first)


def _without_misspelt(failures: list[Failure]) -> Iterator[Failure]:
    """The failures without those about missing keys that are there under a misspelt name."""
    meant = {
        (failure.path[:-1], did_you_mean(str(failure.path[-1]), failure.limit))
        for failure in failures
        if failure.keyword in UNKNOWN_KEY
    }
    for failure in failures:
        if not any((failure.path, key) in meant for key in _missing_keys(failure)):
            yield failure


def _missing_keys(failure: Failure) -> list[str]:
    """The keys of which one is missing; none where the failure is about something else."""
    if failure.keyword == "one key":
        return [key for group in failure.limit for key in group]
    return [failure.limit[0]] if failure.keyword == "required" else []


def _problem(failure: Failure) -> Problem:
    what, advice = message_of(failure)
    return failure.document.problem(failure.path, what, advice, at_key=failure.at_key)
