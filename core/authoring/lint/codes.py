"""The codes of what a pack is looked through for, and how much each weighs."""

from __future__ import annotations

from afield.core.frozen import frozen

ERROR, WARNING, NOTE = "error", "warning", "note"
SEVERITIES = (ERROR, WARNING, NOTE)
"""Heaviest first; errors and warnings make the command end with 1."""


@frozen
class Code:
    """One kind of finding.

    Attributes:
        severity: one of SEVERITIES.
        title: what is found, a sentence without its full stop.
        excusable: whether a pack may keep such a finding with a written reason.

    """

    severity: str
    title: str
    excusable: bool = True


CODES = {
    "no-cases": Code(ERROR, "The pack has rules or limits of its own and no cases", excusable=False),
    "case-wrong": Code(ERROR, "A case does not come out as it expects", excusable=False),
    "rule-untried": Code(ERROR, "No case reaches the rule"),
    "outcome-untried": Code(WARNING, "No case shows an outcome that the rule can have"),
    "side-untried": Code(WARNING, "No case lies below, at or above a figure that the rule compares with"),
    "fact-absent": Code(ERROR, "No installed plugin offers a fact that the rule asks for"),
    "kind-absent": Code(ERROR, "No installed plugin offers the kind of subject that the rule judges"),
    "need-missing": Code(WARNING, "The pack uses what a plugin offers without naming the plugin under needs"),
    "need-unused": Code(WARNING, "The pack needs a plugin of which it uses nothing"),
    "limit-unused": Code(WARNING, "Nothing compares with the limit"),
    "units-differ": Code(ERROR, "The values of one limit are of different dimensions"),
    "date-gap": Code(ERROR, "There are days between two values on which none is in force"),
    "starts-late": Code(WARNING, "The pack is in force before the value is, and nothing says why"),
    "lapsed": Code(ERROR, "Nothing is in force any more"),
    "will-lapse": Code(WARNING, "What is in force ends, and nothing follows"),
    "source-stale": Code(WARNING, "The source was checked longer ago than the pack's review interval"),
    "source-ahead": Code(ERROR, "The source was checked on a day that is still to come"),
    "source-undated": Code(WARNING, "The source has no edition, so that nobody can tell which text was read"),
    "source-unlisted": Code(WARNING, "The source is not among the pack's sources"),
    "source-uncited": Code(NOTE, "The pack lists a source that nothing cites"),
    "fact-without-source": Code(WARNING, "A fact of the program has neither date nor source"),
    "detail-elsewhere": Code(WARNING, "A text uses a detail that another of the rule's facts does not have"),
    "braces-left": Code(WARNING, "A text holds single braces, which are printed as they stand"),
    "text-never-shown": Code(WARNING, "A text is written that is never shown"),
    "assumes-missing": Code(WARNING, "A rule that compares figures states no assumption"),
    "assumption-cut": Code(WARNING, "A comma cuts an assumption in two"),
    "text-untranslated": Code(NOTE, "A text lacks a language in which others of the pack are written"),
    "rules-contradict": Code(ERROR, "Two rules cannot both be passed"),
    "rules-repeat": Code(WARNING, "Two rules demand the same"),
    "exception-unused": Code(WARNING, "A written exception excuses nothing", excusable=False),
}
"""Code -> what it is; the words are stable, so that exceptions and other programs can name them."""
