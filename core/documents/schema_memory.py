"""What jsonschema finds out again at every value is kept: the validator of a part of a schema, and what a `$ref` means.

Most of the time of checking a pack went into it. Importing this module imports nothing of jsonschema.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

MOST = 20_000
"""Parts that are kept; ten times what all schemas of a run have."""

_parts: dict[tuple[int, int], Any] = {}
"""(identity of a part of a schema, of what resolves its references) -> its validator, which keeps both alive."""
_meant: dict[tuple[int, str], tuple[Any, Any]] = {}
"""(identity of what resolves references, reference) -> the former, so that it is kept alive, and what is meant."""


def remember_parts(validator_class: Any) -> None:
    """Let validators of this class share the validator of each part of their schema."""
    made_anew = validator_class.evolve

    def evolve(self: Any, *, schema: Any = None, _resolver: Any = None, **changes: Any) -> Any:
        resolver = _resolver or self._resolver
        found = _parts.get((id(schema), id(resolver)))
        if found is None or changes:
            part = self.schema if schema is None else schema
            found = made_anew(self, schema=part, _resolver=resolver, **changes)
            if not changes:
                _remember(_parts, (id(part), id(resolver)), found)
        return found

    validator_class.evolve = evolve


def referred(validator: Any, reference: str, instance: Any) -> Iterator[Any]:
    """The errors of a value by the schema that a reference means."""
    key = (id(validator._resolver), reference)
    if key not in _meant:
        _remember(_meant, key, (validator._resolver, validator._resolver.lookup(reference)))
    _, meant = _meant[key]
    yield from validator.descend(instance, meant.contents, resolver=meant.resolver)


def _remember(known: dict[Any, Any], key: Any, value: Any) -> None:
    if len(known) >= MOST:
        known.clear()
    known[key] = value
