"""How large a document may be: files come from strangers."""

from __future__ import annotations

from afield.core.frozen import frozen


@frozen
class Limits:
    """The largest document that is read.

    Attributes:
        size: in bytes.
        depth: levels of nesting.
        nodes: keys, values and list items, aliases expanded.

    """

    size: int = 1 << 20
    depth: int = 40
    nodes: int = 50_000
