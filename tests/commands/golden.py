"""Reads the message files: what is changed in the base folder, what is run, and the whole text that must come."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path

MESSAGES = Path(__file__).parent / "messages"


@dataclass
class Golden:
    """One case of a message file.

    Attributes:
        edits: (file, old, new): old is replaced by new; without old, new is the whole file; without new, it is removed.
        run: the command.
        status: its exit status.
        text: everything that it prints.

    """

    name: str
    edits: list[tuple[str, str | None, str | None]] = field(default_factory=list)
    run: list[str] = field(default_factory=list)
    status: int = 0
    text: str = ""

    def prepare(self, folder: Path) -> None:
        for name, old, new in self.edits:
            path = folder / name
            if old is not None:
                before = path.read_text(encoding="utf-8")
                assert before.count(old) >= 1, f"{name} holds no {old!r}"
                path.write_text(before.replace(old, new or "", 1), encoding="utf-8")
            elif new is None:
                path.unlink()
            else:
                path.parent.mkdir(exist_ok=True)
                path.write_bytes(new.encode("utf-8", "surrogateescape"))


def goldens(name: str) -> list[Golden]:
    """The cases of a message file."""
    blocks = (MESSAGES / f"{name}.txt").read_text(encoding="utf-8").split("\n#### ")
    return [_golden(block) for block in blocks[1:]]


def _golden(block: str) -> Golden:
    name, *lines = block.rstrip("\n").split("\n")
    found = Golden(name)
    while lines and not lines[0].startswith("exit "):
        word, _, rest = lines.pop(0).partition(" ")
        if word == "edit":
            file, old, new = json.loads(rest)
            found.edits.append((file, old, new))
        else:
            found.run = json.loads(rest)
    found.status = int(lines.pop(0).removeprefix("exit "))
    found.text = "\n".join(lines) + "\n" if lines else ""
    return found
