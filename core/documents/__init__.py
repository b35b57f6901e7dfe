"""What people write: read safely, checked against a schema, every value with its file:line:col."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from afield.core.documents.document import Document
from afield.core.documents.folders import OutsideFolder, inside_folder
from afield.core.documents.limits import Limits
from afield.core.documents.marks import Path
from afield.core.documents.patching import merged, patched
from afield.core.documents.places import InputError, Place, Problem
from afield.core.documents.reading import read_document, read_text
from afield.core.documents.scalars import WrittenFloat
from afield.core.documents.spelling import did_you_mean, quoted_list

if TYPE_CHECKING:
    from afield.core.documents.schema_check import check_schema

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


def __getattr__(name: str) -> Any:
    """`check_schema` imports jsonschema, so it is imported when first asked for."""
    if name == "check_schema":
        from afield.core.documents.schema_check import check_schema

        return check_schema
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
