"""Words that are data in the report and are said to the reader in his own language."""

from __future__ import annotations

from afield.core.language import marked

OUTCOMES = (marked("passed"), marked("failed"), marked("cannot tell"), marked("not applicable"), marked("waived"))
SEVERITIES = (marked("required"), marked("advised"), marked("note"))
GRADES = (marked("published"), marked("common practice"), marked("from memory"), marked("invented"))
RANKS = (marked("computed"), marked("stated"), marked("logged"), marked("measured"), marked("case"))
STAGES = (
    marked("home"), marked("pack"), marked("travel"), marked("arrive"), marked("set up"), marked("operate"),
    marked("leave"), marked("at any time"),
)  # fmt: skip
TRUTH = (marked("yes"), marked("no"))
