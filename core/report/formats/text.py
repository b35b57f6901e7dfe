"""The report for a terminal: claims with their verdicts, the trip's own, the checklist in a line, counts, warnings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from afield.core.language import _, ngettext
from afield.core.report.formats.grounds import Records, grounds, notes_of, readings_of, records_of
from afield.core.report.formats.rows import Row, has_figures, rows_of, without_subjects

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
    variant = report["run"]["variant"]
    return _(" (variant {name})").format(name=variant) if variant else ""


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
    missed = without_subjects(report)
    others = [
        verdict
        for verdict in _judged(report)
        if verdict["subject"] not in claims
        and (verdict["outcome"] != "not applicable" or (verdict["subject"] in single and verdict["rule"] not in missed))
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
    missed = without_subjects(report)
    idle = {
        verdict["rule"]: verdict["title"]
        for verdict in _judged(report)
        if verdict["rule"] not in applying and (verdict["subject"] not in listed or verdict["rule"] in missed)
    }
    if idle:
        yield _("Not applicable to anything here:")
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
    yield f"  {_(verdict['outcome']):<15} {verdict['title']}"
    if verdict.get("waived"):
        yield f"{INDENT}{verdict['waived']['words']}"
    if verdict["outcome"] != "not applicable":
        yield from [f"{INDENT}{figures_in_words(verdict)}"] if has_figures(verdict) else []
    yield from (f"{INDENT}{line}" for line in readings)
    if verdict["reason"]:
        yield INDENT + _("because {reason}").format(reason=verdict["reason"]["text"])
    own = [verdict["text"]] if verdict["text"] else []
    yield from (f"{INDENT}{text}" for text in (own if texts is None else texts))
    if verdict["settle"]:
        yield from (f"{INDENT}{line}" for line in settle_lines(verdict["settle"]))
    yield from (INDENT + _("note: {note}").format(note=note) for note in (*verdict["warnings"], *notes))
    if verdict["outcome"] != "not applicable":
        yield f"{INDENT}{verdict['rule']}, {_(verdict['severity'])}; {source_words(verdict['sources'])}"


def figures_in_words(verdict: Json) -> str:
    """What was found, what is due and the margin, in one line."""
    given, margin = {"found": verdict["measured"], "due": due_words(verdict)}, verdict["margin"]
    if margin is None:
        return _("{found}, due {due}").format(**given)
    # "Room" would promise something where it cannot be told.
    if verdict["outcome"] == "cannot tell":
        return _("{found}, due {due}: margin {margin}").format(margin=margin["printed"], **given)
    return _("{found}, due {due}: {margin}").format(margin=margin["words"], **given)


def due_words(comparison: Json) -> str:
    """What is due: "at most 80 ft", "line"."""
    words = [comparison["comparison"] if comparison["comparison"] != _("is") else "", comparison["limit"] or ""]
    return " ".join(word for word in words if word)


def settle_lines(settle: Json) -> Iterator[str]:
    """What would settle it, with the figures below and above which it counts."""
    yield _("to settle it: {what}").format(what=settle["words"])
    if settle["counts_if"]:
        yield _("it counts if {counts}, and does not if {fails} (tool {tool})").format(
            counts=settle["counts_if"], fails=settle["fails_if"], tool=settle["tool_uncertainty"]
        )


def source_words(sources: Iterable[Json]) -> str:
    """The sources in one line, each with its grade."""
    return "; ".join(one_source(source) for source in sources) or _("no source")


def one_source(source: Json) -> str:
    """A source: document, section, edition, grade, when last checked."""
    parts = [source["document"], _("section {section}").format(section=source["section"])]
    parts += [_("edition {edition}").format(edition=source["edition"])] if source["edition"] else []
    return f"{', '.join(parts)} ({graded(source)})"


def graded(source: Json) -> str:
    """How far a source can be relied on, and when it was last checked."""
    checked = source.get("last_checked")
    told = [_("last checked {day}").format(day=checked)] if checked else []
    return ", ".join([_(source["grade"]), *told])


def _closing(report: Json) -> Iterator[str]:
    if report["together"]:
        yield report["together"]["words"]
    summary = report["summary"]
    for open_one in summary["beside_claims"]:
        yield f"{_('required')}, {_(open_one['outcome'])}: {open_one['words']}"
    for waived in summary["waived"]:
        yield f"{_(waived['outcome'])}, {_('waived')}: {waived['words']}"
    yield summary["words"]
    for reason in summary["reasons"]:
        yield f"  {_(reason['outcome'])}, {reason['count']} x: {reason['text']}"
    count = summary["checklist"]["open"]
    if count:
        told = ngettext(
            "1 checklist item is open; `afield brief` prints it as a box",
            "{count} checklist items are open; `afield brief` prints them as boxes",
            count,
        )
        yield "  " + told.format(count=count)


def _warnings(report: Json) -> Iterator[str]:
    for warning in report["warnings"]:
        place = f"{warning['place']}: " if warning["place"] else ""
        yield _("warning: {what}").format(what=f"{place}{warning['what']}; {warning['do']}")
    for waiver in report["waivers"]:
        if waiver["note"]:
            yield _("note: {note}").format(note=f"{waiver['where']}: {waiver['note']}")
