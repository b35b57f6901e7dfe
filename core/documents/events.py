"""The events of a YAML text, each with where it begins."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice
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
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    if _UNUSUAL.search(text):
        return None
    events: list[Any] = []
    depth = 0
    try:
        for event in islice(YAML(typ="safe").parse(text), _MOST_EVENTS):
            events.append(event)
            depth += _STEPS.get(type(event).__name__, 0)
            if depth > _DEEPEST:
                return None
    except (YAMLError, ValueError, OverflowError):
        return None
    return events if len(events) < _MOST_EVENTS else None
