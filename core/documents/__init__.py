"""What people write: read safely, checked against a schema, every value with its file:line:col."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from afield.core.documents.document import Document
    from afield.core.documents.folders import OutsideFolder, inside_folder
    from afield.core.documents.limits import Limits
    from afield.core.documents.marks import Path
    from afield.core.documents.patching import merged, patched
    from afield.core.documents.places import InputError, Place, Problem
    from afield.core.documents.reading import read_document, read_text
    from afield.core.documents.scalars import WrittenFloat
    from afield.core.documents.schema_check import check_schema
    from afield.core.documents.spelling import did_you_mean, quoted_list

__all__ = [
    "Document",
    "InputError",
    "Limits",
    "OutsideFolder",
    "Path",
    "Place",
    "Problem",
    "WrittenFloat",
    "check_schema",
    "did_you_mean",
    "inside_folder",
    "merged",
    "patched",
    "quoted_list",
    "read_document",
    "read_text",
]

_MODULES = {
    "Document": "document", "OutsideFolder": "folders", "inside_folder": "folders", "Limits": "limits", "Path": "marks",
    "merged": "patching", "patched": "patching", "InputError": "places", "Place": "places", "Problem": "places",
    "read_document": "reading", "read_text": "reading", "WrittenFloat": "scalars", "check_schema": "schema_check",
    "did_you_mean": "spelling", "quoted_list": "spelling",
}  # fmt: skip


def __getattr__(name: str) -> Any:
    """Each name's module is imported when it is first asked for: a command that reads no file needs few of them."""
    if name not in _MODULES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_MODULES[name]}"), name)
