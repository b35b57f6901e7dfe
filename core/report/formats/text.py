"""The report for a terminal: claims with their verdicts, the trip's own, the checklist in a line, counts, warnings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from afield.core.report.formats.grounds import Records, grounds, notes_of, readings_of, records_of
from afield.core.report.formats.rows import Row, has_figures, rows_of

Json = Mapping[str, Any]
INDENT = " " * 18


def report_text(report: Json) -> str:
    """The whole report in lines."""
    records = records_of(report)
    blocks = [
        [f"{report['trip']['title']}, {report['trip']['date']}{_variant(report)}"],
        *[list(_claim(claim, report, records)) for claim in report["claims"]],
        *_rest(report, records),
        list(_idle(report)),
        list(_closing(report)),
        list(_warnings(report)),
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _variant(report: Json) -> str:
    return f" (variant {report['run']['variant']})" if report["run"]["variant"] else ""


def _claim(claim: Json, report: Json, records: Records) -> Iterator[str]:
    title = f" ({claim['title']})" if claim["title"] else ""
    yield f"{claim['label']}{title}: {claim['words']}"
    mine = [verdict for verdict in _judged(report) if verdict["subject"] == claim["subject"]]
    yield from _row_lines(rows_of(mine), report, records)


def _rest(report: Json, records: Records) -> Iterator[list[str]]:
    """Verdicts on anything but a claim, a block a subject, or several of which the same is said.

    What does not apply to one of many is only counted.
    """
    claims = {claim["subject"] for claim in report["claims"]}
    labels = {subject["key"]: subject["label"] for subject in report["subjects"]}
    single = {subject["key"] for subject in report["subjects"] if subject["kind"] in ("trip", "program")}
    others = [
        verdict
        for verdict in _judged(report)
        if verdict["subject"] not in claims and (verdict["outcome"] != "not applicable" or verdict["subject"] in single)
    ]
    rows = rows_of(others)
    for subjects in dict.fromkeys(tuple(row.subjects) for row in rows):
        mine = [row for row in rows if tuple(row.subjects) == subjects]
        title = "; ".join(labels.get(subject, subject) for subject in subjects)
        yield [f"{title}:", *_row_lines(mine, report, records)]


def _idle(report: Json) -> Iterator[str]:
    """The rules that apply to none of the subjects that they are there for."""
    applying = {verdict["rule"] for verdict in _judged(report) if verdict["outcome"] != "not applicable"}
    listed = {subject["key"] for subject in report["subjects"] if subject["kind"] in ("trip", "program", "claim")}
    idle = {
        verdict["rule"]: verdict["title"]
        for verdict in _judged(report)
        if verdict["rule"] not in applying and verdict["subject"] not in listed
    }
    if idle:
        yield "Not applicable to anything here:"
        yield from (f"  {title}" for title in idle.values())


def _row_lines(rows: Iterable[Row], report: Json, records: Records) -> Iterator[str]:
    """The verdicts on one subject, or on several; a note that several of them rest on is printed under the first."""
    told: set[str] = set()
    for row in rows:
        verdict = row.verdict
        applies = verdict["outcome"] != "not applicable"
        notes = [note for note in notes_of(grounds(report, verdict, records)) if note not in told] if applies else []
        told.update(notes)
        yield from verdict_lines(verdict, readings_of(report, verdict, records) if applies else [], notes, row.texts)


def _judged(report: Json) -> list[Json]:
    return [verdict for verdict in report["verdicts"] if verdict["kind"] == "judge"]


def verdict_lines(
    verdict: Json, readings: Iterable[str], notes: Iterable[str], texts: Iterable[str] | None = None
) -> Iterator[str]:
    """One verdict: outcome and title, figures, which reading decided, reason, what to do, notes, rule and source.

    Args:
        verdict: of the report.
        readings, notes: lines to print with it.
        texts: what to do; the verdict's own if left out.

    """
    yield f"  {verdict['outcome']:<16}{verdict['title']}"
    if verdict.get("waived"):
        yield f"{INDENT}{verdict['waived']['words']}"
    if verdict["outcome"] != "not applicable":
        yield from [f"{INDENT}{figures_in_words(verdict)}"] if has_figures(verdict) else []
    yield from (f"{INDENT}{line}" for line in readings)
    if verdict["reason"]:
        yield f"{INDENT}because {verdict['reason']['text']}"
    own = [verdict["text"]] if verdict["text"] else []
    yield from (f"{INDENT}{text}" for text in (own if texts is None else texts))
    if verdict["settle"]:
        yield from (f"{INDENT}{line}" for line in settle_lines(verdict["settle"]))
    yield from (f"{INDENT}note: {warning}" for warning in (*verdict["warnings"], *notes))
    if verdict["outcome"] != "not applicable":
        yield f"{INDENT}{verdict['rule']}, {verdict['severity']}; {source_words(verdict['sources'])}"


def figures_in_words(verdict: Json) -> str:
    """What was found, what is due and the margin, in one line."""
    line, margin = f"{verdict['measured']}, due {due_words(verdict)}", verdict["margin"]
    if margin is None:
        return line
    # "Room" would promise something where it cannot be told.
    told = f"margin {margin['printed']}" if verdict["outcome"] == "cannot tell" else margin["words"]
    return f"{line}: {told}"


def due_words(comparison: Json) -> str:
    """What is due: "at most 80 ft", "line"."""
    words = [comparison["comparison"] if comparison["comparison"] != "is" else "", comparison["limit"] or ""]
    return " ".join(word for word in words if word)


def settle_lines(settle: Json) -> Iterator[str]:
    """What would settle it, with the figures below and above which it counts."""
    yield f"to settle it: {settle['words']}"
    if settle["counts_if"]:
        told = f"it counts if {settle['counts_if']}, and does not if {settle['fails_if']}"
        yield f"{told} (tool {settle['tool_uncertainty']})"


def source_words(sources: Iterable[Json]) -> str:
    """The sources in one line, each with its grade."""
    return "; ".join(one_source(source) for source in sources) or "no source"


def one_source(source: Json) -> str:
    """A source: document, section, edition, grade, when last checked."""
    edition = f", edition {source['edition']}" if source["edition"] else ""
    checked = f", last checked {source['last_checked']}" if source["last_checked"] else ""
    return f"{source['document']}, section {source['section']}{edition} ({source['grade']}{checked})"


def _closing(report: Json) -> Iterator[str]:
    if report["together"]:
        yield report["together"]["words"]
    summary = report["summary"]
    for open_one in summary["beside_claims"]:
        yield f"required, {open_one['outcome']}: {open_one['words']}"
    for waived in summary["waived"]:
        yield f"{waived['outcome']}, waived: {waived['words']}"
    yield summary["words"]
    for reason in summary["reasons"]:
        yield f"  {reason['outcome']}, {reason['count']} x: {reason['text']}"
    count = summary["checklist"]["open"]
    if count:
        items = "1 checklist item is" if count == 1 else f"{count} checklist items are"
        yield f"  {items} open; `afield brief` prints {'it as a box' if count == 1 else 'them as boxes'}"


def _warnings(report: Json) -> Iterator[str]:
    for warning in report["warnings"]:
        place = f"{warning['place']}: " if warning["place"] else ""
        yield f"warning: {place}{warning['what']}; {warning['do']}"
    for waiver in report["waivers"]:
        if waiver["note"]:
            yield f"note: {waiver['where']}: {waiver['note']}"
