"""The language that a command speaks: --language anywhere in the line, else the environment's."""

from __future__ import annotations

import os
from collections.abc import Sequence

from afield.core.language import ENGLISH, languages

OPTION = "--language"
VARIABLE = "AFIELD_LANGUAGE"


def asked_language(arguments: Sequence[str]) -> tuple[str, list[str]]:
    """The language, by its two letters, and the arguments without it.

    Raises:
        UsageError: one that the program does not speak, or none behind the option.

    """
    rest, told = list(arguments), os.environ.get(VARIABLE) or None
    name = VARIABLE
    for place, argument in enumerate(rest):
        head, mark, value = argument.partition("=")
        if head == OPTION:
            used = 1 if mark else 2
            name, told = OPTION, value if mark else next(iter(rest[place + 1 : place + 2]), "")
            del rest[place : place + used]
            break
    return (ENGLISH, rest) if told is None else (_known(name, told), rest)


def _known(name: str, told: str) -> str:
    if told == ENGLISH:
        return told
    from afield.core.documents import quoted_list
    from afield.core.documents.writing import UsageError

    spoken = languages()
    if told not in spoken:
        what = f'{name}: there is no language "{told}"' if told else f"{name}: no language is named"
        raise UsageError(f"{what}\n    = Languages: {quoted_list(spoken)}.")
    return told
