"""Origins of uncertainty for the reader."""

from __future__ import annotations

from afield.core.language import _


def origin_in_words(origin: str) -> str:
    """An origin of uncertainty for the reader: "capacity of battery" by the words for what it is, and the name."""
    what, of, name = origin.partition(" of ")
    if not of or _(origin) != origin:
        return _(origin)
    whole = f"{what} of {{name}}"
    if _(whole) != whole:
        return _(whole).format(name=name)
    return _("{what} of {name}").format(what=_(what), name=name)
