"""In which order the boxes of the wiring's picture stand: from supplies down to radios and on to antennas."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

ROLES = ("ground", "DC", "mains", "USB", "data", "audio", "keying", "RF")
"""What comes in last stands nearest: a radio stands right above the amplifier that it drives."""


def ordered(picture: Mapping[str, Any]) -> list[int]:
    """Indices of the boxes from top to bottom: each below all that feeds it, the ways to antennas first."""
    return _Order(picture["lines"], len(picture["boxes"])).ordered()


@dataclass
class _Order:
    lines: Sequence[Mapping[str, Any]]
    count: int
    placed: list[int] = field(default_factory=list)
    entered: set[int] = field(default_factory=set)

    def ordered(self) -> list[int]:
        for target in sorted(range(self.count), key=self.urgency):
            self.place(target)
        return self.placed

    def urgency(self, box: int) -> tuple[bool, bool, int]:
        """Where RF ends first, then where anything ends."""
        into = {line["role"] for line in self.lines if line["to"] == box}
        out_of = {line["role"] for line in self.lines if line["from"] == box}
        return not ("RF" in into and "RF" not in out_of), bool(out_of), box

    def place(self, target: int) -> None:
        """Place a box behind all that feeds it; without recursion, for a kit may be one long chain."""
        waiting = [(target, False)]
        while waiting:
            box, fed = waiting.pop()
            if fed:
                self.placed.append(box)
            elif box not in self.entered:
                self.entered.add(box)
                waiting.append((box, True))
                # The last one pushed is placed first, and what is placed last stands right above.
                waiting += [(other, False) for other in reversed(self.feeders(box))]

    def feeders(self, box: int) -> list[int]:
        """Boxes from which lines run to one, in order of roles; where lines run in a ring, it is cut at the last."""
        into = [line for line in self.lines if line["to"] == box]
        return [line["from"] for line in sorted(into, key=lambda line: _rank(line["role"]))]


def _rank(role: str | None) -> int:
    return ROLES.index(role) if role in ROLES else -1
