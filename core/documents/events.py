"""The events of a YAML text, each with where it begins."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any


def yaml_events(text: str) -> Iterator[Any]:
    """The parser's events, as they are asked for. Errors: ruamel.yaml's MarkedYAMLError."""
    from ruamel.yaml import YAML

    yield from YAML(typ="safe", pure=True).parse(text)
