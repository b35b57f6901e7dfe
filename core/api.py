"""All that a plugin may use of the engine; whatever is not listed here may change without notice."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from afield.core.documents import (
    Document,
    InputError,
    Place,
    Problem,
    WrittenFloat,
    did_you_mean,
    quoted_list,
    read_document,
    read_text,
)
from afield.core.documents.marks import Marks
from afield.core.documents.naming import named_as_given
from afield.core.documents.writing import UsageError, refuse_standing, write_all
from afield.core.facts.declarations import Each, Fact, Kind, Tool, fact
from afield.core.facts.measured import CannotTell, Estimate, Measured
from afield.core.facts.subjects import Origin, Piece, Subject, slug
from afield.core.host.hookspecs import Command, Comparison, Fragment, Question, Section, hookimpl
from afield.core.language import _, day_in_words, local_digits, marked, ngettext
from afield.core.quantities import (
    QuantityError,
    amount_in,
    convert,
    parse_quantity,
    printed,
    printed_both,
    trimmed,
)

if TYPE_CHECKING:
    from afield.core.briefing.page import style_sheet, unbroken
    from afield.core.documents import check_schema
    from afield.core.engine import Engine, altered, compare, judge, load, report, solve
    from afield.core.placing import EVERYWHERE, NOWHERE, Asked, Bounded, Sought, both

__all__ = [
    "EVERYWHERE",
    "NOWHERE",
    "Asked",
    "Bounded",
    "CannotTell",
    "Command",
    "Comparison",
    "Document",
    "Each",
    "Engine",
    "Estimate",
    "Fact",
    "Fragment",
    "InputError",
    "Kind",
    "Marks",
    "Measured",
    "Origin",
    "Piece",
    "Place",
    "Problem",
    "QuantityError",
    "Question",
    "Section",
    "Sought",
    "Subject",
    "Tool",
    "UsageError",
    "WrittenFloat",
    "_",
    "altered",
    "amount_in",
    "both",
    "check_schema",
    "compare",
    "convert",
    "day_in_words",
    "did_you_mean",
    "fact",
    "hookimpl",
    "judge",
    "load",
    "local_digits",
    "marked",
    "named_as_given",
    "ngettext",
    "parse_quantity",
    "printed",
    "printed_both",
    "quoted_list",
    "read_document",
    "read_text",
    "refuse_standing",
    "report",
    "slug",
    "solve",
    "style_sheet",
    "trimmed",
    "unbroken",
    "write_all",
]

_PLACING = ("EVERYWHERE", "NOWHERE", "Asked", "Bounded", "Sought", "both")
_PAGES = ("style_sheet", "unbroken")
_LAZY = ("Engine", "altered", "compare", "judge", "load", "report", "solve")


def __getattr__(name: str) -> Any:
    """The engine, and jsonschema, are imported when first asked for, so that registering a plugin stays cheap."""
    if name == "check_schema":
        from afield.core import documents

        return documents.check_schema
    if name in _PLACING:
        from afield.core import placing

        return getattr(placing, name)
    if name in _PAGES:
        from afield.core.briefing import page

        return getattr(page, name)
    if name in _LAZY:
        from afield.core import engine

        return getattr(engine, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
