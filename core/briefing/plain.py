"""The briefing as plain text, for a printer without graphics, a message, or a screen reader."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from afield.core.briefing import arranging
from afield.core.briefing.page import BACK_FROM, failed, missing
from afield.core.facts.time_limit import limited
from afield.core.report.formats.rows import Row, has_figures
from afield.core.report.formats.text import figures_in_words
from afield.core.report.solved import drawn_from

if TYPE_CHECKING:
    from afield.core.host.hookspecs import Section

WIDTH = 78
Lines = Iterator[str]
Entry = Mapping[str, Any]


def briefing_text(report: Mapping[str, Any], sections: Sequence[Section]) -> str:
    """The same briefing as the page, in the same order, at most 78 columns wide where words allow.

    Args:
        report: the report's JSON.
        sections: the installed plugins' sections; one without `text` is named in its place.

    """
    drawers = {section.name: section for section in sections}
    orders = {section.name: section.order for section in sections}
    front, back = arranging.front_and_back(report, orders, BACK_FROM)
    blocks = [
        _title(report),
        _settle(report),
        _not_met(report),
        _open(report),
        _warnings(report),
        *(_section(section, drawers, report) for section in front),
        _checklist(report),
        *(_section(section, drawers, report) for section in back),
        *(_table(table, arranging.labels(report)) for table in arranging.tables(report)),
        _assumptions(report),
        _waivers(report),
        _sources(report),
        _footer(report),
    ]
    return "\n\n".join(text for text in map(_joined, blocks) if text) + "\n"


def _joined(lines: Iterable[str]) -> str:
    return "\n".join(lines).rstrip()


def _filled(text: str, first: str = "", rest: str | None = None) -> str:
    rest = " " * len(first) if rest is None else rest
    return "\n".join(
        textwrap.wrap(
            text, WIDTH, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
        )
    )


def _headed(title: str) -> str:
    return f"{title}\n{'-' * len(title)}"


def _title(report: Entry) -> Lines:
    yield _filled(str(report["trip"]["title"]))
    variant = f" (variant {report['run']['variant']})" if report["run"]["variant"] else ""
    yield _filled(f"{report['trip']['date']}{variant}")
    yield from (_filled(line) for line in arranging.headlines(report))
    for claim in report["claims"]:
        yield _filled(f"{arranging.claim_title(claim)}: {claim['words']}", f"[{claim['outcome'].upper()}] ", "    ")
    for open_one in report["summary"]["beside_claims"]:
        yield _filled(open_one["words"], f"[{open_one['outcome'].upper()}] ", "    ")
    for waived in report["summary"].get("waived", []):
        yield _filled(waived["words"], f"[{waived['outcome'].upper()}, WAIVED] ", "    ")


def _settle(report: Entry) -> Lines:
    found, labels = arranging.to_settle(report), arranging.labels(report)
    if found.measure:
        yield _headed("Settle at the position")
    for verdict in found.measure:
        yield from _measurement(verdict, labels)


def _not_met(report: Entry) -> Lines:
    rows, labels = arranging.not_met(report), arranging.labels(report)
    if rows:
        yield _headed("Not met")
    for row in rows:
        on = "; ".join(dict.fromkeys(labels.get(subject, subject) for subject in row.subjects))
        text = f"{row.texts[0]} " if len(row.texts) == 1 else ""
        yield _filled(f"{text}{on}: {row.verdict['title']}{_short(row.verdict)}", "[ ] ")


def _short(verdict: Entry) -> str:
    """What lacks, and how much it matters where it is not required."""
    told = [_margin(verdict), "" if verdict["severity"] == "required" else verdict["severity"]]
    return _aside(", ".join(word for word in told if word))


def _open(report: Entry) -> Lines:
    found, labels = arranging.to_settle(report), arranging.labels(report)
    if found.state or found.nothing:
        yield _headed("Open until the plan says more")
    for verdict in found.state:
        yield _filled(f"{_on(verdict, labels)}: {verdict['settle']['words']}", "[ ] ")
    for verdict in found.nothing:
        yield _filled(f"{_on(verdict, labels)}: {_reason(verdict)}", "    ")


def _on(verdict: Entry, labels: Mapping[str, str]) -> str:
    return f"{labels.get(verdict['subject'], verdict['subject'])}: {verdict['title']}"


def _reason(verdict: Entry) -> str:
    return str(verdict["reason"]["text"]) if verdict["reason"] else ""


def _measurement(verdict: Entry, labels: Mapping[str, str]) -> Lines:
    settle = verdict["settle"]
    tool = f" The {settle['tool']} is taken as good to {settle['tool_uncertainty']}." if settle["tool"] else ""
    yield _filled(_on(verdict, labels), "[ ] ")
    yield _filled(f"{settle['words']}{tool}", "    ")
    yield from [_filled(verdict["text"], "    ")] if verdict["text"] else []
    yield from (_filled(f"{head} {settle[key]}", "    ") for key, head in _READINGS if settle[key])
    yield "    Reading: ______________"


_READINGS = (("counts_if", "Counts if"), ("fails_if", "Fails if"))


def _table(table: arranging.Table, labels: Mapping[str, str]) -> Lines:
    yield _headed(f"Rules and figures: {table.title}")
    for row in table.rows:
        yield from _row(row, arranging.whose(row, table, labels))
    for verdict in table.dropped:
        subject = _aside(arranging.whose_dropped(verdict, table, labels))
        yield _filled(f"{verdict['title']}{subject}. {_reason(verdict)}", "[NOT APPLICABLE] ", "    ")
    if table.idle:
        yield _filled("; ".join(table.idle), "[NOT APPLICABLE to anything here] ", "    ")


def _aside(words: str | None) -> str:
    return f" ({words})" if words else ""


def _row(row: Row, subject: str | None) -> Lines:
    verdict = row.verdict
    aside = "" if verdict["severity"] == "required" else f" ({verdict['severity']})"
    yield _filled(f"{verdict['title']}{_aside(subject)}{aside}", f"[{verdict['outcome'].upper()}] ", "    ")
    yield from [_filled(verdict["waived"]["words"], "    ")] if verdict.get("waived") else []
    yield from [_filled(figures_in_words(verdict), "    ")] if has_figures(verdict) else []
    yield from (_filled(f"also {_leaf(leaf)}", "    ") for leaf in arranging.other_leaves(verdict))
    yield from (_filled(str(text), "    ") for text in (*row.texts, _reason(verdict), *verdict["warnings"]) if text)
    yield _filled(f"Why: {verdict['why']}", "    ") if verdict["why"] else ""
    yield _filled(f"Source: {'; '.join(map(source_line, verdict['sources']))}", "    ") if verdict["sources"] else ""


def _leaf(leaf: Entry) -> str:
    limit = f", {leaf['comparison']} {leaf['limit']}" if leaf["limit"] else ""
    return f"{leaf['title']} {leaf['measured'] or 'not known'}{limit}: {leaf['outcome']}"


def _margin(verdict: Entry) -> str:
    return str(verdict["margin"]["words"]) if verdict["margin"] else ""


def source_line(source: Entry) -> str:
    """A source in one line: document, section, edition, grade, last checked."""
    named = ", ".join(str(source[key]) for key in ("document", "section", "edition") if source.get(key))
    checked = f", last checked {source['last_checked']}" if source.get("last_checked") else ""
    return f"{named} ({source['grade']}{checked})"


def _document(source: Entry) -> str:
    named = ", ".join(str(source[key]) for key in ("document", "edition") if source[key])
    sections = f": {'; '.join(source['sections'])}" if source["sections"] else ""
    return f"{named}{sections} ({source['grade']}, last checked {source['last_checked'] or 'not stated'})"


def _section(section: Entry, drawers: Mapping[str, Section], report: Entry) -> Lines:
    yield _headed(str(section["title"]))
    drawer = drawers.get(section["name"])
    if drawer is None or drawer.text is None:
        yield _filled(missing(section["name"]))
        return
    try:
        text = limited(drawer.text, drawn_from(section, report))
    except Exception as error:
        text = failed(drawer, error)
    yield from (_filled(line, _indent(line)) if len(line) > WIDTH else line for line in text.split("\n"))


def _indent(line: str) -> str:
    return " " * (len(line) - len(line.lstrip(" ")))


def _checklist(report: Entry) -> Lines:
    labels = arranging.labels(report)
    for number, (when, items) in enumerate(arranging.checklist(report)):
        yield _headed("Checklist") if number == 0 else ""
        yield when.upper()
        yield from (_filled(_item(item, labels), "[x] " if item["confirmed"] else "[ ] ") for item in items)


def _item(item: Entry, labels: Mapping[str, str]) -> str:
    whose = "" if item["subject"] == "trip" else f" ({labels.get(item['subject'], item['subject'])})"
    bring = f" Bring: {item['evidence']}" if item["evidence"] else ""
    waived = f" {item['waived']['words']}" if item.get("waived") else ""
    return f"{item['confirm']}{whose}{waived}{bring}"


def _assumptions(report: Entry) -> Lines:
    if report["assumptions"]:
        yield _headed("Assumptions")
    for assumption in report["assumptions"]:
        grounds = arranging.grounds_of(assumption)
        yield _filled(f"{assumption['text']} ({grounds})" if grounds else str(assumption["text"]), "- ")


def _sources(report: Entry) -> Lines:
    if report["sources"]:
        yield _headed("Sources")
    yield from (_filled(_document(source), "- ") for source in arranging.sources_by_document(report))


def _warnings(report: Entry) -> Lines:
    if report["warnings"]:
        yield _headed("Warnings")
    for warning in report["warnings"]:
        yield _filled(f"{warning['place']}: {warning['what']}. {warning['do']}", "- ")


def _waivers(report: Entry) -> Lines:
    entries = report.get("waivers", [])
    if entries:
        yield _headed("Waivers")
    yield from (_filled(f"{entry['words']} ({entry['where']})", "- ") for entry in entries)


def _footer(report: Entry) -> Lines:
    run = report["run"]
    yield _headed("Made from")
    yield f"engine {run['engine']}, judged as of {run['now'] or 'no stated day'}"
    yield f"plan {run['plan']['file']} sha256 {run['plan']['sha256']}"
    if run["variant"]:
        yield f"variant {run['variant']}"
    yield from (f"plugin {plugin['name']} ({plugin['distribution']} {plugin['version']})" for plugin in run["plugins"])
    yield from (f"pack {pack['id']} {pack['version']} sha256 {pack['sha256']}" for pack in run["packs"])
