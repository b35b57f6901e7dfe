"""Counts, claims and the exit status: four outcomes, never merged; checklist items are counted apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from afield.core.facts.subjects import Subject, of_kind
from afield.core.language import _, in_context, marked, ngettext
from afield.core.report.statuses import EXIT_CANNOT_TELL, EXIT_CRASH, EXIT_FAILED, EXIT_OK
from afield.core.report.waivers import waived_lines
from afield.core.rules.outcomes import WORDS

Json = dict[str, Any]

CLAIM_WORDS = {
    "passed": marked("counts"),
    "failed": marked("does not count"),
    "cannot tell": marked("cannot tell"),
    "not applicable": marked("not judged"),
    "waived": marked("counts only by waiver, which the award's manager must confirm"),
}


def counts(verdicts: Iterable[Json]) -> dict[str, int]:
    """How many verdicts have each outcome, all four named."""
    found = Counter(verdict["outcome"] for verdict in verdicts)
    return {outcome: found[outcome] for outcome in WORDS}


def joint_outcome(verdicts: Sequence[Json]) -> str:
    """The outcome of several required verdicts together: failed before cannot tell before passed.

    Of claims too; one that counts by waiver only makes it "waived".
    """
    outcomes = {verdict["outcome"] for verdict in verdicts}
    for outcome in ("failed", "cannot tell", "waived", "passed"):
        if outcome in outcomes:
            return outcome
    return "not applicable"


def claims_json(
    subjects: Mapping[str, Subject], verdicts: Sequence[Json], titles: Mapping[str, str | None]
) -> list[Json]:
    """Each claim with its joint outcome over the required rules of its program."""
    return [
        _claim(claim, [verdict for verdict in verdicts if concerns(verdict, claim, subjects)], subjects, titles)
        for claim in of_kind(subjects.values(), "claim")
    ]


def concerns(verdict: Json, claim: Subject, subjects: Mapping[str, Subject]) -> bool:
    """Whether a verdict decides a claim: a required one of its program, unless it is on another claim.

    What lies within the claim, the program as a whole, and a rule that found no subject at all concern it too.
    """
    judged = subjects[verdict["subject"]]
    mine = verdict["program"] == claim.program and judged.within("claim") in (None, claim.key)
    return mine and verdict["kind"] == "judge" and verdict["severity"] == "required"


def _claim(
    claim: Subject, verdicts: list[Json], subjects: Mapping[str, Subject], titles: Mapping[str, str | None]
) -> Json:
    outcome, deciding = _deciding(verdicts)
    margins = [verdict["margin"] for verdict in deciding if verdict["margin"]]
    program = subjects[claim.parents["program"]] if claim.parents.get("program") in subjects else None
    wide = [verdict for verdict in deciding if subjects[verdict["subject"]].within("claim") is None]
    reason = next((verdict["reason"]["text"] for verdict in deciding if verdict["reason"]), None)
    return {
        "subject": claim.key,
        "label": claim.label,
        "title": titles.get(claim.key),
        "program_title": program.label if program else None,
        "outcome": outcome,
        "words": _(CLAIM_WORDS[outcome]),
        "rules": [verdict["rule"] for verdict in deciding],
        "worst_margin": min(margins, key=_worst_first)["words"] if margins else None,
        "because": _because(outcome, deciding, wide, reason),
    }


def _deciding(verdicts: Sequence[Json]) -> tuple[str, list[Json]]:
    """The joint outcome of required verdicts, "waived" where only waived ones stand against it, and what decides it."""
    waived = [verdict for verdict in verdicts if verdict["waived"]]
    outcome = joint_outcome([verdict for verdict in verdicts if not verdict["waived"]])
    if waived and outcome in ("passed", "not applicable"):
        return "waived", waived
    return outcome, [verdict for verdict in verdicts if verdict["outcome"] == outcome and not verdict["waived"]]


def _because(outcome: str, deciding: Sequence[Json], wide: Sequence[Json], reason: str | None) -> str | None:
    if outcome == "waived":
        return "; ".join(dict.fromkeys(verdict["title"] for verdict in deciding))
    return _program_wide(wide) if outcome == "failed" else reason


def _program_wide(verdicts: Sequence[Json]) -> str | None:
    """The rules of the program as a whole for which a claim fails, each with what lacks."""
    lacks = [f" ({verdict['margin']['words']})" if verdict["margin"] else "" for verdict in verdicts]
    told = [f"{verdict['title']}{lack}" for verdict, lack in zip(verdicts, lacks, strict=True)]
    return _("the program as a whole: {rules}").format(rules="; ".join(told)) if told else None


def _worst_first(margin: Json) -> float:
    """Margins of different units compare by how many of their own uncertainties wide they are, lacks before room."""
    around = margin["uncertainty"] or abs(margin["value"]) * 1e-9 or 1.0
    return float(margin["value"] / around)


def together_json(claims: Sequence[Json]) -> Json | None:
    """All claims together: do they all count, and which do not, and by how much."""
    if not claims:
        return None
    outcome = joint_outcome(list(claims))
    sure = sum(claim["outcome"] == "passed" for claim in claims)
    if sure == len(claims):
        return {"outcome": outcome, "words": _("All claims count.") if sure > 1 else _("The claim counts.")}
    rest = "; ".join(f"{claim['label']} {_why(claim)}" for claim in claims if claim["outcome"] != "passed")
    told = ngettext("{sure} of {all} claims counts; {rest}.", "{sure} of {all} claims count; {rest}.", sure)
    return {"outcome": outcome, "words": told.format(sure=sure, all=len(claims), rest=rest)}


def _why(claim: Json) -> str:
    detail: str | None = claim["because"] or (claim["worst_margin"] if claim["outcome"] == "failed" else None)
    told = {"cannot tell": in_context("claim|cannot be told"), "not applicable": _("is not judged")}
    words: str = told.get(claim["outcome"]) or claim["words"]
    return f"{words} ({detail})" if detail else words


def reasons_json(verdicts: Iterable[Json]) -> list[Json]:
    """Every reason for a cannot tell or not applicable, with how often it came; checklist items stay apart."""
    found: Counter[tuple[str, str, str]] = Counter()
    for verdict in verdicts:
        if verdict["kind"] == "judge" and verdict["reason"]:
            found[verdict["outcome"], verdict["reason"]["code"], verdict["reason"]["text"]] += 1
    return [
        {"outcome": outcome, "code": code, "text": text, "count": count}
        for (outcome, code, text), count in found.items()
    ]


def checklist_json(verdicts: Iterable[Json]) -> Json:
    """How many checklist items are confirmed, open, and not applicable."""
    items = [verdict for verdict in verdicts if verdict["kind"] == "confirm"]
    return {
        "confirmed": sum(verdict["outcome"] == "passed" for verdict in items),
        "open": sum(verdict["outcome"] == "cannot tell" for verdict in items),
        "not applicable": sum(verdict["outcome"] == "not applicable" for verdict in items),
    }


def beside_claims_json(verdicts: Iterable[Json], labels: Mapping[str, str]) -> list[Json]:
    """The required rules of the trip itself that failed, or cannot be told: no claim speaks of them.

    What is waived stands in a list of its own.
    """
    open_ones = [
        verdict
        for verdict in verdicts
        if verdict["kind"] == "judge" and verdict["severity"] == "required" and verdict["program"] is None
        and verdict["outcome"] in ("failed", "cannot tell") and not verdict["waived"]
    ]  # fmt: skip
    ordered = sorted(open_ones, key=lambda verdict: verdict["outcome"] != "failed")
    return [{"outcome": verdict["outcome"], "words": _in_a_line(verdict, labels)} for verdict in ordered]


def _in_a_line(verdict: Json, labels: Mapping[str, str]) -> str:
    label = labels.get(verdict["subject"]) if verdict["subject"] != "trip" else None
    told = verdict["margin"]["words"] if verdict["margin"] and verdict["outcome"] == "failed" else None
    return f"{verdict['title']}{f' ({label})' if label else ''}{f': {told}' if told else ''}"


def summary_json(verdicts: Sequence[Json], labels: Mapping[str, str]) -> Json:
    """The counts and reasons of a report.

    Args:
        verdicts: of the report.
        labels: subject key -> as shown.

    """
    judged = [verdict for verdict in verdicts if verdict["kind"] == "judge"]
    checklist = checklist_json(verdicts)
    return {
        "outcomes": counts(judged),
        "required": counts(verdict for verdict in judged if verdict["severity"] == "required"),
        "beside_claims": beside_claims_json(verdicts, labels),
        "waived": waived_lines(verdicts, labels),
        "reasons": reasons_json(verdicts),
        "checklist": checklist,
        "words": _words(counts(judged), checklist, sum(bool(verdict["waived"]) for verdict in judged)),
    }


def _words(judged: Mapping[str, int], checklist: Json, waived: int) -> str:
    told = [", ".join(f"{count} {_(outcome)}" for outcome, count in judged.items())]
    told += [_("{count} waived").format(count=waived)] if waived else []
    items = checklist["confirmed"] + checklist["open"]
    listed = _("checklist: {confirmed} of {all} confirmed")
    told += [listed.format(confirmed=checklist["confirmed"], all=items)] if items else []
    total = sum(judged.values())
    return ngettext("{count} verdict: {what}", "{count} verdicts: {what}", total).format(
        count=total, what="; ".join(told)
    )


def exit_status(verdicts: Sequence[Json], crashed: bool, strict: bool = False, claims: Sequence[Json] = ()) -> int:
    """The exit status of `check`: 4 something crashed, 1 a required rule failed, 3 one cannot be told, else 0.

    A claim that no required rule judges cannot be told either: "not applicable" is no "passed". What is waived counts
    neither as failed nor as cannot tell, also where open checklist items count.

    Args:
        verdicts, claims: of the report.
        crashed: whether a plugin failed.
        strict: whether open checklist items that are required count as cannot tell.

    """
    if crashed:
        return EXIT_CRASH
    required = [
        verdict
        for verdict in verdicts
        if verdict["severity"] == "required" and (strict or verdict["kind"] == "judge") and not verdict["waived"]
    ]
    if any(verdict["outcome"] == "failed" for verdict in required):
        return EXIT_FAILED
    unsure = any(verdict["outcome"] == "cannot tell" for verdict in required)
    unjudged = any(claim["outcome"] == "not applicable" for claim in claims)
    return EXIT_CANNOT_TELL if unsure or unjudged else EXIT_OK
