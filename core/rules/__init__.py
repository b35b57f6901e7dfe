"""Rules: dated limits, conditions, and their verdicts on columns of facts."""

from afield.core.rules.aggregates import (
    Gathered,
    Member,
    aggregate_column,
    aggregate_interval,
    cycles,
    judging_order,
)
from afield.core.rules.bounds import BoundUsed
from afield.core.rules.columns import Column, column_of
from afield.core.rules.compile import DECISIONS, CompiledRule, LeafInForce, compile_rule
from afield.core.rules.complaint import Complaint
from afield.core.rules.condition_reading import read_condition
from afield.core.rules.conditions import (
    Aggregate,
    Bound,
    Condition,
    FactOf,
    Group,
    Leaf,
    Measure,
    VerdictOf,
    facts_asked,
    leaves,
    limits_asked,
    to_json,
    verdicts_asked,
)
from afield.core.rules.explain import Explanation, LeafResult, explain
from afield.core.rules.governing import governing_unit_matters
from afield.core.rules.judge import ColumnsFor, Judged, agree, disagreement
from afield.core.rules.limit_checks import complaints_about, date_complaints
from afield.core.rules.limit_reading import read_limits, read_source
from afield.core.rules.limits import Limit, Source, Version, in_force, is_in_force, printed_figure
from afield.core.rules.outcomes import CANNOT_TELL, FAILED, NOT_APPLICABLE, PASSED, WORDS
from afield.core.rules.wording import in_words, measure_in_words

__all__ = [
    "CANNOT_TELL",
    "DECISIONS",
    "FAILED",
    "NOT_APPLICABLE",
    "PASSED",
    "WORDS",
    "Aggregate",
    "Bound",
    "BoundUsed",
    "Column",
    "ColumnsFor",
    "CompiledRule",
    "Complaint",
    "Condition",
    "Explanation",
    "FactOf",
    "Gathered",
    "Group",
    "Judged",
    "Leaf",
    "LeafInForce",
    "LeafResult",
    "Limit",
    "Measure",
    "Member",
    "Source",
    "VerdictOf",
    "Version",
    "aggregate_column",
    "aggregate_interval",
    "agree",
    "column_of",
    "compile_rule",
    "complaints_about",
    "cycles",
    "date_complaints",
    "disagreement",
    "explain",
    "facts_asked",
    "governing_unit_matters",
    "in_force",
    "in_words",
    "is_in_force",
    "judging_order",
    "leaves",
    "limits_asked",
    "measure_in_words",
    "printed_figure",
    "read_condition",
    "read_limits",
    "read_source",
    "to_json",
    "verdicts_asked",
]
