"""A finding: what was seen in a pack, where, how much it weighs and what to do about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from afield.core.authoring.lint.codes import CODES
from afield.core.documents import Document, Path, Place, Problem
from afield.core.frozen import frozen

ABOUT = ("rule", "limit", "fact", "reference")
"""What a finding can be about; one about none of these is about the pack as a whole."""


@frozen
class Finding:
    """One finding.

    Attributes:
        code: a key of CODES.
        place: where.
        what: what was seen, without a full stop.
        advice: what to do about it, one or more sentences.
        source: the line as written.
        about: names of what it is about, by the words of ABOUT.

    """

    code: str
    place: Place
    what: str
    advice: str
    source: str = ""
    about: Mapping[str, str] = field(default_factory=dict)

    @property
    def severity(self) -> str:
        """One of codes.SEVERITIES."""
        return CODES[self.code].severity

    @property
    def problem(self) -> Problem:
        """The finding as other messages are written, its code before what was seen."""
        return Problem(self.place, f"{self.severity} {self.code}: {self.what}", self.advice, self.source)


def finding(
    code: str,
    document: Document,
    path: Path,
    what: str,
    advice: str,
    about: Mapping[str, str] | None = None,
    key: bool = False,
) -> Finding:
    """A finding at the value of the path, or at its key.

    Args:
        code: a key of CODES.
        document: that the path leads through.
        path: of the value.
        what, advice: as in `Finding`.
        about: names by the words of ABOUT; None for the pack as a whole.
        key: whether the key of the value is meant, not the value.

    """
    place = document.key_place(path) if key else document.place(path)
    return Finding(code, place, what, advice, document.line(place), about or {})


def in_order(findings: list[Finding]) -> list[Finding]:
    """By place, then by code and words, each once: the order in which they were found does not matter."""
    once = {(found.place, found.code, found.what): found for found in findings}
    return [once[key] for key in sorted(once)]


def either(words: list[str], joiner: str = "or") -> str:
    """`a`, `a or b`, `a, b or c`; "" of none."""
    return f" {joiner} ".join(part for part in (", ".join(words[:-1]), words[-1] if words else "") if part)
