"""Files and text -> documents. Whatever is wrong is an InputError with its places; nothing is half accepted."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from afield.core.documents.characters import unseen_character
from afield.core.documents.document import Document, source_lines
from afield.core.documents.events import yaml_events
from afield.core.documents.limits import Limits
from afield.core.documents.places import InputError, Place, Problem
from afield.core.documents.spelling import did_you_mean
from afield.core.documents.tree import Node, TreeBuilder

_STANDARD = Limits()
_MEBIBYTE = 1 << 20


def read_document(path: Path, shown: str | None = None, limits: Limits = _STANDARD, mapping: bool = True) -> Document:
    """The document in a YAML 1.2 or JSON file.

    Args:
        path: the file.
        shown: its name as shown in messages; the path as given if left out.
        limits: the largest document accepted.
        mapping: whether the top level must be a mapping.

    Raises:
        InputError: the file is absent, a folder, too large or not UTF-8, or as for `read_text`.

    """
    name = shown or str(path)
    return read_text(_decoded(_content(path, name, limits), name), name, limits, mapping, path.parent)


def read_text(
    text: str,
    shown: str = "text",
    limits: Limits = _STANDARD,
    mapping: bool = True,
    folder: Path | None = None,
) -> Document:
    """The document in a text; arguments as for `read_document`, `folder` is where file names in it are looked up.

    Raises:
        InputError: not YAML, a key twice, a key that is no text, a tag, more than one document, nothing, a control
            character, nested too deeply or too large.

    """
    _refuse_control_characters(text, shown)
    builder = TreeBuilder(shown, text, limits)
    data, marks = _tree(builder, text, shown)
    if mapping and not isinstance(data, dict):
        builder.problems.append(_not_a_mapping(builder, data, marks.place))
    if builder.problems:
        raise InputError(builder.problems)
    return Document(shown, data, marks, text, folder)


def _content(path: Path, name: str, limits: Limits) -> bytes:
    try:
        with path.open("rb") as file:
            content = file.read(limits.size + 1)
    except IsADirectoryError:
        raise _of_file(name, "this is a folder; a file is due", "Name a file in it.") from None
    except (FileNotFoundError, NotADirectoryError):
        raise _of_file(name, "there is no such file", _other_name(path)) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _of_file(name, f"the file cannot be read: {reason}", "Check its name and your rights to it.") from None
    if len(content) > limits.size:
        size = f"{limits.size / _MEBIBYTE:g} MiB" if limits.size >= _MEBIBYTE else f"{limits.size} bytes"
        raise _of_file(name, f"the file is larger than {size}", "Split it, or move long data to a file of its own.")
    return content


def _other_name(path: Path) -> str:
    """Advice on a file that is absent: a file beside it of nearly the same name."""
    try:
        near = _near(path, sorted(entry.name for entry in path.parent.iterdir()))
    except OSError:
        return "Check the name; its folder is not there either."
    return f'Did you mean "{near}"?' if near else "Check the name and the folder."


def _near(path: Path, names: list[str]) -> str | None:
    """The name that was meant; a common ending alone makes no two names alike."""
    stems = {Path(name).stem: name for name in reversed(names)}
    found = did_you_mean(path.stem, stems)
    return stems[found] if found else None


def _decoded(content: bytes, name: str) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = content[: error.start].decode("utf-8", "replace").removeprefix("\ufeff")
        line = source_lines(content.decode("utf-8", "replace"))[len(source_lines(before)) - 1]
        what = f"byte 0x{content[error.start]:02x} is not UTF-8"
        raise InputError([Problem(_end_of(before, name), what, "Save the file as UTF-8.", line)]) from None


def _refuse_control_characters(text: str, name: str) -> None:
    found = unseen_character(text)
    if found:
        place = _end_of(text[: found.start()], name)
        what = f"the control character U+{ord(found.group()):04X} stands here"
        line = source_lines(text)[place.line - 1]
        raise InputError([Problem(place, what, "Remove it; it cannot be seen in most editors.", line)])


def _end_of(text: str, name: str) -> Place:
    """The place just after the text."""
    lines = source_lines(text)
    return Place(name, len(lines), len(lines[-1]) + 1)


def _tree(builder: TreeBuilder, text: str, name: str) -> Node:
    from ruamel.yaml.error import MarkedYAMLError

    from afield.core.documents.yaml_errors import yaml_complaint

    try:
        return _only_document(builder, text, name)
    except MarkedYAMLError as error:
        raise InputError([*builder.problems, builder.problem(*yaml_complaint(error, name))]) from None
    except (ValueError, OverflowError):  # the parser hands the number of a \U escape to chr() unchecked
        raise InputError([*builder.problems, _beyond_unicode(builder, text, name)]) from None


def _beyond_unicode(builder: TreeBuilder, text: str, name: str) -> Problem:
    found = re.search(r"\\U(?!000|0010)[0-9A-Fa-f]{8}", text)
    place = _end_of(text[: found.start()], name) if found else Place(name)
    advice = "Write \\\\ for a backslash, or mend the number."
    return builder.problem(place, "this escape stands for no character", advice)


def _only_document(builder: TreeBuilder, text: str, name: str) -> Node:
    """The tree of the one document in the stream."""
    events = yaml_events(text)
    next(events)
    start = next(events)
    if type(start).__name__ == "StreamEndEvent":
        raise _of_file(name, "nothing is written here", "Write at least one key and its value.")
    if start.version and start.version != (1, 2):
        written = ".".join(map(str, start.version))
        place = Place(name, 1 + next(i for i, line in enumerate(source_lines(text)) if line.startswith("%YAML")), 1)
        what = f"%YAML {written} is asked for; YAML 1.2 is read"
        raise InputError([builder.problem(place, what, "Remove the %YAML line.")])
    node = builder.node(events)
    next(events)
    after = next(events)
    if type(after).__name__ != "StreamEndEvent":
        raise builder.stop(after, "a second document begins here", 'Keep one document a file; remove the "---".')
    return node


def _not_a_mapping(builder: TreeBuilder, data: Any, place: Place) -> Problem:
    if data is None:
        return builder.problem(place, "nothing is written here", "Write at least one key and its value.")
    found = "a list" if isinstance(data, list) else "a single value"
    return builder.problem(place, f"the file holds {found}; keys and values are due", 'Begin with "key: value".')


def _of_file(name: str, what: str, advice: str) -> InputError:
    return InputError([Problem(Place(name), what, advice)])
