"""All that a plugin may use of the engine; whatever is not listed here may change without notice."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from afield.core.documents.places import InputError, Place, Problem
from afield.core.documents.writing import UsageError, refuse_standing, write_all
from afield.core.facts.declarations import Each, Fact, Kind, Tool, fact
from afield.core.facts.subjects import Origin, Piece, Subject, slug
from afield.core.frozen import frozen
from afield.core.host.hookspecs import Command, Comparison, Fragment, Question, Section, Solution, Solver, hookimpl
from afield.core.host.parameters import Argument, Option
from afield.core.language import _, all_of, any_of, day_in_words, grouped, in_context, local_digits, marked, ngettext

if TYPE_CHECKING:
    from afield.core.briefing.page import style_sheet, unbroken
    from afield.core.documents import (
        Document,
        WrittenFloat,
        check_schema,
        did_you_mean,
        quoted_list,
        read_document,
        read_text,
    )
    from afield.core.documents.marks import Marks
    from afield.core.documents.naming import named_as_given
    from afield.core.engine import Engine, altered, compare, judge, load, report, solve
    from afield.core.facts.measured import CannotTell, Estimate, Measured
    from afield.core.placing import EVERYWHERE, NOWHERE, Asked, Bounded, Sought, both
    from afield.core.quantities import (
        QuantityError,
        amount_in,
        convert,
        parse_quantity,
        printed,
        printed_both,
        trimmed,
    )

__all__ = [
    "EVERYWHERE",
    "NOWHERE",
    "Argument",
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
    "Option",
    "Origin",
    "Piece",
    "Place",
    "Problem",
    "QuantityError",
    "Question",
    "Section",
    "Solution",
    "Solver",
    "Sought",
    "Subject",
    "Tool",
    "UsageError",
    "WrittenFloat",
    "_",
    "all_of",
    "altered",
    "amount_in",
    "any_of",
    "both",
    "check_schema",
    "compare",
    "convert",
    "day_in_words",
    "did_you_mean",
    "fact",
    "frozen",
    "grouped",
    "hookimpl",
    "in_context",
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

_LATER = {
    "briefing.page": ("style_sheet", "unbroken"),
    "documents": (
        "Document", "WrittenFloat", "check_schema", "did_you_mean", "quoted_list", "read_document", "read_text",
    ),
    "documents.marks": ("Marks",),
    "documents.naming": ("named_as_given",),
    "engine": ("Engine", "altered", "compare", "judge", "load", "report", "solve"),
    "facts.measured": ("CannotTell", "Estimate", "Measured"),
    "placing": ("EVERYWHERE", "NOWHERE", "Asked", "Bounded", "Sought", "both"),
    "quantities": (
        "QuantityError", "amount_in", "convert", "parse_quantity", "printed", "printed_both", "trimmed",
    ),
}  # fmt: skip
"""Part of core -> its names that are imported when first asked for, so that registering a plugin stays cheap."""


def __getattr__(name: str) -> Any:
    for part, names in _LATER.items():
        if name in names:
            return getattr(import_module(f"afield.core.{part}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
