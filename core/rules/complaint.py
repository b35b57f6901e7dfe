"""What is wrong in a pack, at a path inside its document."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from afield.core.documents import Path, did_you_mean, quoted_list
from afield.core.frozen import frozen


@frozen
class Complaint:
    """One thing that keeps a pack from loading.

    Attributes:
        path: of the value that is wrong.
        what: what is wrong, without a full stop.
        advice: what to do about it, a sentence.
        other_path: of a second value that it clashes with.

    """

    path: Path
    what: str
    advice: str
    other_path: Path | None = None


def meant(word: str, choices: Iterable[str], many: str) -> str:
    """The advice for a word that is not among the choices; `many` names them ("facts of a claim")."""
    names = sorted(choices)
    near = did_you_mean(word, names)
    if near:
        return f'Did you mean "{near}"?'
    return f"The {many} are {quoted_list(names)}." if names else f"There are no {many}."


def unknown_keys(data: Mapping[str, object], allowed: Iterable[str], path: Path) -> list[Complaint]:
    """A complaint for every key that is not allowed."""
    names = list(allowed)
    return [
        Complaint((*path, key), f'"{key}" is not a known key here', meant(str(key), names, "keys"))
        for key in data
        if key not in names
    ]


def as_written(data: object) -> str:
    """The data as a pack writes it, cut short: `"yes"`, `true`, `[1, 2]`."""
    text = json.dumps(data, ensure_ascii=False, default=str)
    return text if len(text) <= 60 else f"{text[:57]}..."
