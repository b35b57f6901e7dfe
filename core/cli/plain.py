"""Reads a plain command line without the library for command lines: to import that takes longer than to answer.

Only what leaves nothing to be said is read here: words, and known flags each with its value. Whatever else is written,
such as `--help`, an unknown flag or too few words, is left to the library, which then reads all of it again.
"""

from __future__ import annotations

import inspect
import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, NamedTuple, get_args, get_origin

from afield.core.host.parameters import Argument, Option

Words = Sequence[str]

INTERRUPTED, READER_GONE = 130, 1
"""Statuses of a command that Ctrl-C ends, and of one whose output nobody reads any more, as the library has them."""


class NotPlain(Exception):
    """The library for command lines has to read this."""


class _Taker(NamedTuple):
    """A parameter of a command, with the type that its word is turned into; a bool takes no word."""

    name: str
    mark: Argument | Option
    type: type
    default: Any


def plain_values(function: Callable[..., Any], words: Words) -> dict[str, Any] | None:
    """The function's arguments as the words give them; None where they, or its parameters, are not plain."""
    try:
        takers = [_taker(parameter) for parameter in inspect.signature(function, eval_str=True).parameters.values()]
        found = dict(_read(takers, words))
        return {taker.name: found[taker.name] if taker.name in found else _default(taker) for taker in takers}
    except NotPlain:
        return None


def _taker(parameter: inspect.Parameter) -> _Taker:
    base, *marks = get_args(parameter.annotation) if get_origin(parameter.annotation) is Annotated else (None,)
    types = [each for each in get_args(base) if each is not NoneType] if get_origin(base) is UnionType else [base]
    if len(marks) != 1 or not isinstance(marks[0], Argument | Option) or types not in ([str], [Path], [bool]):
        raise NotPlain
    return _Taker(parameter.name, marks[0], types[0], parameter.default)


def _default(taker: _Taker) -> Any:
    if taker.default is inspect.Parameter.empty:
        raise NotPlain
    return taker.default


def _read(takers: Iterable[_Taker], words: Words) -> Iterator[tuple[str, Any]]:
    """Each parameter that is given, with its value; where a flag comes twice, the last one holds."""
    flags = {flag: taker for taker in takers if isinstance(taker.mark, Option) for flag in taker.mark.flags}
    alone = [taker for taker in takers if isinstance(taker.mark, Argument)]
    waiting = list(words)
    while waiting:
        word = waiting.pop(0)
        if word.startswith("--"):
            taker = _flagged(flags, word, waiting)
            yield taker.name, True if taker.type is bool else _value(taker, waiting)
        elif word.startswith("-") or not alone:
            raise NotPlain
        else:
            taker = alone.pop(0)
            yield taker.name, _value(taker, [word])


def _flagged(flags: Mapping[str, _Taker], word: str, waiting: list[str]) -> _Taker:
    """The parameter of a flag; a value that is written together with it waits then as the next word."""
    flag, joined, value = word.partition("=")
    if flag not in flags or (joined and flags[flag].type is bool):
        raise NotPlain
    if joined:
        waiting.insert(0, value)
    return flags[flag]


def _value(taker: _Taker, waiting: list[str]) -> Any:
    if not waiting or not waiting[0] or not waiting[0].isprintable():
        raise NotPlain
    word = waiting.pop(0)
    # The library refuses a file that may not be read, in its own words.
    if taker.type is Path and os.path.exists(word) and not os.access(word, os.R_OK):
        raise NotPlain
    return taker.type(word)


def plain_result(function: Callable[..., Any], values: Mapping[str, Any]) -> Any:
    """What the function returns; what stops it from outside is taken as the library takes it."""
    try:
        return function(**values)
    except KeyboardInterrupt:
        return INTERRUPTED
    except EOFError as error:
        import typer

        print(file=sys.stderr)
        raise typer.Abort from error
    except BrokenPipeError:
        # Whoever read the output has gone: nothing more is to be written to it, not even at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return READER_GONE
