"""The events of a YAML text, each with where it begins."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

_UNUSUAL = re.compile(r"[\t\r\x85\u2028\u2029\ufeff|>&*!?]|^%|^---|^\.\.\.", re.MULTILINE)
"""What ruamel.yaml's parser (YAML 1.2) and libyaml (YAML 1.1) may take differently, or place differently."""

_MOST_EVENTS = 150_000
"""More than the largest document has: two for every mapping and list, one for every other value."""

_DEEPEST = 50
"""Deeper than a document may be nested; libyaml's time grows with the square of the depth."""

_STEPS = {"SequenceStartEvent": 1, "MappingStartEvent": 1, "SequenceEndEvent": -1, "MappingEndEvent": -1}


def yaml_events(text: str) -> Iterator[Any]:
    """The parser's events. Errors: ruamel.yaml's MarkedYAMLError.

    A text in which both parsers find the same is left to libyaml, ten times as fast, if it is installed; whatever it
    refuses is parsed again, so that every message rests on one parser.
    """
    from ruamel.yaml import YAML

    yield from _usual_events(text) or YAML(typ="safe", pure=True).parse(text)


def _usual_events(text: str) -> list[Any] | None:
    """All events of a text without anything unusual; None for every other, and for one that has an error."""
    from ruamel import yaml
    from ruamel.yaml.error import YAMLError

    # The parser alone: a `YAML()` around it looks for extensions in the library's folder, for every text anew.
    libyaml: Any = yaml.cyaml
    if libyaml is None or _UNUSUAL.search(text):
        return None
    try:
        return _within_bounds(libyaml.CParser(text))
    except (YAMLError, ValueError, OverflowError):
        return None


def _within_bounds(parser: Any) -> list[Any] | None:
    """The parser's events; None where they are too many, or nested too deeply."""
    events: list[Any] = []
    depth = 0
    try:
        while parser.check_event() and len(events) < _MOST_EVENTS:
            events.append(event := parser.get_event())
            depth += _STEPS.get(type(event).__name__, 0)
            if depth > _DEEPEST:
                return None
    finally:
        parser.dispose()
    return events if len(events) < _MOST_EVENTS else None
