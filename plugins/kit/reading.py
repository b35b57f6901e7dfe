"""Kit files: found beside the plan, read, and checked against their schema, with the place of every value."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from afield.core.api import Document, InputError, Problem, did_you_mean, read_document
from afield.plugins.kit.fragments import kit_schema

YAML = (".yaml", ".yml", ".json")
ENDINGS = (*YAML, ".csv")
Stamp = tuple[int, int]


def kit_documents(plan: Document, folder: Path) -> list[Document]:
    """The kit files that a plan names, in its order.

    Raises:
        InputError: a file that is not there or no kit, or that says something wrong; all problems of all files.

    """
    problems: list[Problem] = []
    found = []
    for index, name in enumerate(plan.data.get("kit", ())):
        try:
            found.append(_document(plan, index, folder / name, name))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return found


def _document(plan: Document, index: int, path: Path, name: str) -> Document:
    if path.is_dir():
        what, advice = f"{name} is a folder, not a kit file", "Name a file in it, or rename the folder."
        raise InputError([plan.problem(("kit", index), what, advice)])
    if path.suffix.lower() not in ENDINGS:
        what, advice = f"{name} is no kit file by its ending", f"Name a file that ends in {', '.join(ENDINGS)}."
        raise InputError([plan.problem(("kit", index), what, advice)])
    if not path.is_file():
        raise InputError([plan.problem(("kit", index), f"there is no kit file {name}", _other_name(path, name))])
    status = path.stat()
    return checked_file(path, name, (status.st_mtime_ns, status.st_size))


def _other_name(path: Path, name: str) -> str:
    beside = sorted(entry.name for entry in path.parent.iterdir()) if path.parent.is_dir() else []
    stems = {Path(entry).stem: entry for entry in reversed(beside) if Path(entry).suffix.lower() in ENDINGS}
    guess = did_you_mean(path.stem, stems)
    if guess:
        return f'Did you mean "{Path(name).with_name(stems[guess]).as_posix()}"?'
    return "Check the name; it is looked up beside the plan."


@lru_cache(maxsize=32)
def checked_file(path: Path, shown: str, stamp: Stamp) -> Document:
    """A kit file, read once as long as its stamp (time of change in ns, size) stays."""
    from afield.core.api import check_schema

    document = _list(path, shown) if path.suffix.lower() == ".csv" else read_document(path, shown)
    schema = kit_schema()
    problems = check_schema(document, schema, {schema["$id"]: schema})
    if problems:
        raise InputError(problems)
    return document


def _list(path: Path, shown: str) -> Document:
    from afield.plugins.kit.csv_lists import csv_document

    return csv_document(path, shown)
