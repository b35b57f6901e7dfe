"""What the YAML parser complains of, in the writer's words."""

from __future__ import annotations

import re
from typing import Any

from afield.core.documents.places import Place

_AT_START = "context"
_HERE = "problem"

_MESSAGES: tuple[tuple[str, str, str, str], ...] = (
    (
        r"found character '\\t'",
        _HERE,
        "a tab stands where only spaces may",
        "Indent with spaces.",
    ),
    (
        r"found character '(?P<found>.+)' that cannot start",
        _HERE,
        'a text cannot begin with "{found}"',
        "Put the text in quotes.",
    ),
    (
        "mapping values are not allowed here",
        _HERE,
        'a ":" stands where no key can be',
        'Check the indentation and the line above; put a text with ": " in it in quotes.',
    ),
    (
        "could not find expected ':'",
        _AT_START,
        'this is no "key: value" line',
        'Write a ":" and a space after the key, or check the indentation.',
    ),
    (
        r"expected <block end>, but found '<scalar>'",
        _HERE,
        "text follows where the value has ended",
        "Put the whole text in one pair of quotes, or check the indentation.",
    ),
    (
        r"expected <block end>",
        _HERE,
        "this does not line up with what stands above",
        "Give the keys of one mapping, and the dashes of one list, the same indentation.",
    ),
    (
        r"expected ',' or '(?P<found>.)', but got '<stream end>'",
        _AT_START,
        'a bracket is opened and not closed with "{found}"',
        "Close the bracket.",
    ),
    (
        r"expected ',' or '(?P<found>.)'",
        _HERE,
        'a "," or "{found}" is missing before this; the bracket was opened on line {opened}',
        "Close the bracket, or put a comma between two entries.",
    ),
    (
        "found unexpected (end of stream|document separator)",
        _AT_START,
        "a quote is opened and not closed",
        "Close it with the same kind of quote.",
    ),
    (
        r"found unknown escape character '(?P<found>.+)'",
        _HERE,
        '"\\{found}" means nothing in double quotes',
        "Write \\\\ for a backslash, or use single quotes.",
    ),
    (
        "expected escape sequence",
        _HERE,
        "the digits after the backslash are not hexadecimal",
        "Write \\\\ for a backslash, or use single quotes.",
    ),
    (
        "sequence entries are not allowed here",
        _HERE,
        'a list\'s "-" cannot stand here',
        "Begin the list on the line below its key.",
    ),
    (
        "expected (chomping or indentation|indentation indicator|a comment or a line break)",
        _HERE,
        "this cannot follow the | or > that begins a long text",
        "Begin the long text on the next line, indented.",
    ),
    (
        "expected alphabetic or numeric character",
        _AT_START,
        'a text cannot begin with "*", "&" or "%"',
        "Put the text in quotes.",
    ),
    (
        "expected (URI|' '|'!'|'>')",
        _AT_START,
        'a text cannot begin with "!"',
        "Put the text in quotes.",
    ),
    (
        "mapping keys are not allowed here",
        _HERE,
        'a "?" cannot stand here',
        "Put the text in quotes, or check the indentation.",
    ),
    (
        "expected the node content",
        _HERE,
        "a value is missing before this",
        "Write it, or remove the comma or bracket too many.",
    ),
    (
        "expected '<document start>'",
        _HERE,
        "text follows where the document has ended",
        "Remove it, or check the brackets and the indentation above.",
    ),
    (
        "(incompatible YAML document|duplicate YAML directive)",
        _HERE,
        "the %YAML line is not one of YAML 1.2",
        "Remove the line.",
    ),
    (
        "(undefined|duplicate) tag handle",
        _HERE,
        "a tag (!) is used that is not defined once",
        "Remove it: only plain values are read.",
    ),
)


def yaml_complaint(error: Any, name: str) -> tuple[Place, str, str]:
    """Where the parser's error is, what is wrong, and what to do.

    Args:
        error: ruamel.yaml's MarkedYAMLError.
        name: the file's name as shown.

    """
    problem = str(error.problem)
    for pattern, at, what, advice in _MESSAGES:
        if found := re.search(pattern, problem):
            words = {**found.groupdict(), "opened": _line_of(error.context_mark)}
            return _place(error, at, name), what.format(**words), advice
    return _place(error, _HERE, name), f"this is not YAML: {problem}", "Check indentation, quotes and brackets here."


def _place(error: Any, at: str, name: str) -> Place:
    marks = (error.context_mark, error.problem_mark) if at == _AT_START else (error.problem_mark, error.context_mark)
    mark = next((mark for mark in marks if mark is not None), None)
    return Place(name, mark.line + 1, mark.column + 1) if mark else Place(name)


def _line_of(mark: Any) -> str:
    return str(mark.line + 1) if mark else "?"
