"""The briefing as plain text, for a printer without graphics, a message, or a screen reader."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from afield.core.briefing import arranging
from afield.core.briefing.page import BACK_FROM, failed, missing
from afield.core.facts.time_limit import limited
from afield.core.language import _, marked
from afield.core.report.formats.rows import Row, has_figures
from afield.core.report.formats.text import figures_in_words, graded
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
    variant = report["run"]["variant"]
    named = _(" (variant {name})").format(name=variant) if variant else ""
    yield _filled(f"{report['trip']['date']}{named}")
    yield from (_filled(line) for line in arranging.headlines(report))
    for claim in report["claims"]:
        yield _filled(f"{arranging.claim_title(claim)}: {claim['words']}", _mark(claim["outcome"]), "    ")
    for open_one in report["summary"]["beside_claims"]:
        yield _filled(open_one["words"], _mark(open_one["outcome"]), "    ")
    for waived in report["summary"].get("waived", []):
        yield _filled(waived["words"], _mark(waived["outcome"], "waived"), "    ")


def _mark(*words: str) -> str:
    return f"[{', '.join(_(word).upper() for word in words)}] "


def _settle(report: Entry) -> Lines:
    found, labels = arranging.to_settle(report), arranging.labels(report)
    if found.measure:
        yield _headed(_("Settle at the position"))
    for verdict in found.measure:
        yield from _measurement(verdict, labels)


def _not_met(report: Entry) -> Lines:
    rows, labels = arranging.not_met(report), arranging.labels(report)
    if rows:
        yield _headed(_("Not met"))
    for row in rows:
        on = "; ".join(dict.fromkeys(labels.get(subject, subject) for subject in row.subjects))
        text = f"{row.texts[0]} " if len(row.texts) == 1 else ""
        yield _filled(f"{text}{on}: {row.verdict['title']}{_short(row.verdict)}", "[ ] ")


def _short(verdict: Entry) -> str:
    """What lacks, and how much it matters where it is not required."""
    told = [_margin(verdict), "" if verdict["severity"] == "required" else _(verdict["severity"])]
    return _aside(", ".join(word for word in told if word))


def _open(report: Entry) -> Lines:
    found, labels = arranging.to_settle(report), arranging.labels(report)
    if found.state or found.nothing:
        yield _headed(_("Open until the plan says more"))
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
    yield _filled(_on(verdict, labels), "[ ] ")
    yield _filled(" ".join([settle["words"], *_tool(settle)]), "    ")
    yield from [_filled(verdict["text"], "    ")] if verdict["text"] else []
    yield from (_filled(f"{_(head)} {settle[key]}", "    ") for key, head in _READINGS if settle[key])
    yield f"    {_('Reading')}: ______________"


def _tool(settle: Entry) -> Lines:
    if settle["tool"]:
        told = _("The {tool} is taken as good to {width}.")
        yield told.format(tool=settle["tool"], width=settle["tool_uncertainty"])


_READINGS = (("counts_if", marked("Counts if")), ("fails_if", marked("Fails if")))


def _table(table: arranging.Table, labels: Mapping[str, str]) -> Lines:
    yield _headed(_("Rules and figures: {title}").format(title=table.title))
    for row in table.rows:
        yield from _row(row, arranging.whose(row, table, labels))
    for verdict in table.dropped:
        subject = _aside(arranging.whose_dropped(verdict, table, labels))
        yield _filled(f"{verdict['title']}{subject}. {_reason(verdict)}", _mark("not applicable"), "    ")
    if table.idle:
        yield _filled("; ".join(table.idle), _("[NOT APPLICABLE to anything here] "), "    ")


def _aside(words: str | None) -> str:
    return f" ({words})" if words else ""


def _row(row: Row, subject: str | None) -> Lines:
    verdict = row.verdict
    aside = "" if verdict["severity"] == "required" else f" ({_(verdict['severity'])})"
    yield _filled(f"{verdict['title']}{_aside(subject)}{aside}", _mark(verdict["outcome"]), "    ")
    yield from [_filled(verdict["waived"]["words"], "    ")] if verdict.get("waived") else []
    yield from [_filled(figures_in_words(verdict), "    ")] if has_figures(verdict) else []
    yield from (_filled(arranging.also_asked(leaf), "    ") for leaf in arranging.other_leaves(verdict))
    yield from (_filled(str(text), "    ") for text in (*row.texts, _reason(verdict), *verdict["warnings"]) if text)
    yield _filled(_("Why: {why}").format(why=verdict["why"]), "    ") if verdict["why"] else ""
    told = "; ".join(map(source_line, verdict["sources"]))
    yield _filled(_("Source: {source}").format(source=told), "    ") if told else ""


def _margin(verdict: Entry) -> str:
    return str(verdict["margin"]["words"]) if verdict["margin"] else ""


def source_line(source: Entry) -> str:
    """A source in one line: document, section, edition, grade, last checked."""
    named = ", ".join(str(source[key]) for key in ("document", "section", "edition") if source.get(key))
    return f"{named} ({graded(source)})"


def _document(source: Entry) -> str:
    named = ", ".join(str(source[key]) for key in ("document", "edition") if source[key])
    sections = f": {'; '.join(source['sections'])}" if source["sections"] else ""
    checked = _("last checked {day}").format(day=source["last_checked"] or _("not stated"))
    return f"{named}{sections} ({_(source['grade'])}, {checked})"


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
    yield from (_filled(line.lstrip(" "), _indent(line)) if len(line) > WIDTH else line for line in text.split("\n"))


def _indent(line: str) -> str:
    return " " * (len(line) - len(line.lstrip(" ")))


def _checklist(report: Entry) -> Lines:
    labels = arranging.labels(report)
    for number, (when, items) in enumerate(arranging.checklist(report)):
        yield _headed(_("Checklist")) if number == 0 else ""
        yield _(when).upper()
        yield from (_filled(_item(item, labels), "[x] " if item["confirmed"] else "[ ] ") for item in items)


def _item(item: Entry, labels: Mapping[str, str]) -> str:
    whose = "" if item["subject"] == "trip" else f" ({labels.get(item['subject'], item['subject'])})"
    told = [f"{item['confirm']}{whose}"]
    told += [item["waived"]["words"]] if item.get("waived") else []
    told += [_("Bring: {what}").format(what=item["evidence"])] if item["evidence"] else []
    return " ".join(told)


def _assumptions(report: Entry) -> Lines:
    if report["assumptions"]:
        yield _headed(_("Assumptions"))
    for assumption in report["assumptions"]:
        grounds = arranging.grounds_of(assumption)
        yield _filled(f"{assumption['text']} ({grounds})" if grounds else str(assumption["text"]), "- ")


def _sources(report: Entry) -> Lines:
    if report["sources"]:
        yield _headed(_("Sources"))
    yield from (_filled(_document(source), "- ") for source in arranging.sources_by_document(report))


def _warnings(report: Entry) -> Lines:
    if report["warnings"]:
        yield _headed(_("Warnings"))
    for warning in report["warnings"]:
        yield _filled(f"{warning['place']}: {warning['what']}. {warning['do']}", "- ")


def _waivers(report: Entry) -> Lines:
    entries = report.get("waivers", [])
    if entries:
        yield _headed(_("Waivers"))
    yield from (_filled(f"{entry['words']} ({entry['where']})", "- ") for entry in entries)


def _footer(report: Entry) -> Lines:
    run = report["run"]
    yield _headed(_("Made from"))
    judged = {"engine": run["engine"], "day": run["now"] or _("no stated day")}
    yield _("engine {engine}, judged as of {day}").format(**judged)
    yield f"{_('plan')} {run['plan']['file']} sha256 {run['plan']['sha256']}"
    if run["variant"]:
        yield f"{_('variant')} {run['variant']}"
    for plugin in run["plugins"]:
        yield f"{_('plugin')} {plugin['name']} ({plugin['distribution']} {plugin['version']})"
    for pack in run["packs"]:
        yield _("pack {name} sha256 {hash}").format(name=f"{pack['id']} {pack['version']}", hash=pack["sha256"])
