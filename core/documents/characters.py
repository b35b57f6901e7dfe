"""Characters that no text may hold: they cannot be seen, steer a terminal, or show a text otherwise than it is."""

from __future__ import annotations

import re

_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f"  # control characters
    "\u202a-\u202e\u2066-\u2069"  # what turns the direction of writing, so that a reviewer reads another text
    "\ud800-\udfff\ufffe\uffff]"  # halves of characters, and what is no character
)


def unseen_character(text: str) -> re.Match[str] | None:
    """The first such character, None if there is none."""
    return _UNSEEN.search(text)


def whole_characters(text: str) -> str:
    """The text with pairs of UTF-16 halves, as JSON escapes them, made into the characters that they stand for."""
    if text.isascii():
        return text
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "surrogatepass")
