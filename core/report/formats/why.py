"""Why a verdict is what it is: verdict, facts, inputs, limit and source as a tree, made from the report alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from afield.core.language import _, local_digits, marked
from afield.core.report.formats.grounds import compared, readings_of, records_of
from afield.core.report.formats.text import due_words, one_source, settle_lines
from afield.core.report.origins import origin_in_words

Json = Mapping[str, Any]
DECIDED = {"guarded": marked("decided guarded"), "simple": marked("decided simple")}


@dataclass
class Node:
    """One line of the tree and what hangs below it."""

    text: str
    children: list[Node] = field(default_factory=list)


def why_text(report: Json, verdict: Json) -> str:
    """The tree of one verdict in lines."""
    return "\n".join(tree_lines(why_tree(report, verdict))) + "\n"


def why_tree(report: Json, verdict: Json) -> Node:
    """The tree of one verdict."""
    label = next((subject["label"] for subject in report["subjects"] if subject["key"] == verdict["subject"]), "")
    named = {"outcome": _(verdict["outcome"]), "title": verdict["title"], "rule": verdict["rule"], "label": label}
    root = Node(_("{outcome}: {title} ({rule}, for {label})").format(**named))
    if verdict.get("waived"):
        written = _("written at {place}").format(place=verdict["waived"]["where"])
        root.children.append(Node(verdict["waived"]["words"], [Node(written)]))
    if verdict["why"]:
        root.children.append(Node(_("why the rule is there: {why}").format(why=verdict["why"])))
    if verdict["reason"]:
        root.children.append(Node(_("because {reason}").format(reason=verdict["reason"]["text"])))
    if verdict["text"]:
        root.children.append(Node(verdict["text"]))
    if verdict["outcome"] != "not applicable":
        root.children += [Node(line) for line in readings_of(report, verdict, records_of(report))]
    root.children += [_leaf_node(leaf, report, verdict) for leaf in verdict["leaves"]]
    root.children += _rule_nodes(report, verdict)
    root.children += [Node(_("note: {note}").format(note=warning)) for warning in verdict["warnings"]]
    if verdict["settle"]:
        first, *rest = settle_lines(verdict["settle"])
        root.children.append(Node(first, [Node(line) for line in rest]))
    return root


def _leaf_node(leaf: Json, report: Json, verdict: Json) -> Node:
    found = f"{leaf['measured']}" if leaf["measured"] is not None else _("not known")
    told = _("{found}, due {due}").format(found=found, due=due_words(leaf))
    margin = f", {leaf['margin']['words']}" if leaf["margin"] else ""
    node = Node(f"{leaf['title']}: {told}{margin} ({_(leaf['outcome'])})")
    seen: set[tuple[str, str]] = set()
    node.children += [_fact_node(report, of, name, seen) for of, name in compared(report, verdict, leaf)]
    node.children += _verdict_nodes(report, leaf.get("verdict"))
    node.children += [Node(_counts_of(report, rule)) for rule in leaf.get("counted_by", ())]
    node.children += _limit_nodes(report, verdict, leaf["limit_name"])
    return node


def _verdict_nodes(report: Json, asked: Json | None) -> list[Node]:
    """The verdict that a comparison is about, with what it rests on in turn."""
    found = [
        verdict
        for verdict in report["verdicts"]
        if asked is not None and (verdict["rule"], verdict["subject"]) == (asked["rule"], asked["subject"])
    ]
    return [why_tree(report, verdict) for verdict in found]


def _counts_of(report: Json, rule: str) -> str:
    """How often a rule, whose verdicts say what counts, has each outcome."""
    found = [verdict for verdict in report["verdicts"] if verdict["rule"] == rule]
    outcomes = [verdict["outcome"] for verdict in found]
    told = ", ".join(f"{outcomes.count(outcome)} {_(outcome)}" for outcome in dict.fromkeys(outcomes))
    if not found:
        return _("no verdicts on {rule}").format(rule=rule)
    return _("verdicts on {title} ({rule}): {counts}").format(title=found[0]["title"], rule=rule, counts=told)


def _fact_node(report: Json, subject: str, name: str, seen: set[tuple[str, str]]) -> Node:
    record = next((r for r in report["facts"] if r["fact"] == name and r["subject"] == subject), None)
    if record is None:
        return Node(_("{fact} of {subject}: not asked").format(fact=name, subject=subject))
    node = Node(record_line(record))
    if (subject, name) in seen:
        return Node(_("{what} (shown above)").format(what=record_line(record)))
    seen.add((subject, name))
    node.children += [Node(line) for line in _record_details(record)]
    node.children += _input_nodes(report, record["inputs"], seen)
    displaced = record["displaced"]
    while displaced:
        weaker = {"rank": _(displaced["rank"]), "value": displaced["printed"]}
        shown = Node(_("displaces the {rank} value {value}").format(**weaker))
        shown.children += _input_nodes(report, displaced["inputs"], seen)
        node.children.append(shown)
        displaced = displaced["displaced"]
    return node


def _input_nodes(report: Json, inputs: list[Json], seen: set[tuple[str, str]]) -> list[Node]:
    """The inputs, those that the plan leaves out in one line."""
    absent = [inner["fact"] for inner in inputs if _is_not_stated(report, inner)]
    nodes = [
        _fact_node(report, inner["subject"], inner["fact"], seen)
        for inner in inputs
        if not _is_not_stated(report, inner)
    ]
    return nodes + ([Node(_("not stated: {what}").format(what=", ".join(absent)))] if absent else [])


def _is_not_stated(report: Json, inner: Json) -> bool:
    return any(
        record["fact"] == inner["fact"]
        and record["subject"] == inner["subject"]
        and record["reason"] is not None
        and record["reason"]["code"] == "not stated"
        for record in report["facts"]
    )


def record_line(record: Json) -> str:
    """One fact in one line: name, subject, value, rank, where it was written."""
    rank = _(record["rank"])
    if record["place"]:
        rank = _("{rank} at {place}").format(rank=rank, place=record["place"])
    named = _("{fact} of {subject}").format(fact=record["fact"], subject=record["subject"])
    return f"{named}: {record['printed']} [{rank}]" if record["printed"] else f"{named} [{rank}]"


def _record_details(record: Json) -> Iterator[str]:
    if record["method"]:
        yield _("method: {method}").format(method=record["method"])
    if record["parts"] and record["unit"] is not None:
        shown = sorted(record["parts"], key=lambda part: -abs(part["contribution"]))
        told = ", ".join(_part(part, record["unit"]) for part in shown)
        yield _("uncertainty (95 %) from {parts}").format(parts=told)
    yield from (_("note: {note}").format(note=note) for note in record["notes"])


def _part(part: Json, unit: str) -> str:
    size = local_digits(f"{part['contribution']:+.2g}")
    return f"{origin_in_words(part['origin'])} {size} {unit}"


def _limit_nodes(report: Json, verdict: Json, name: str | None) -> list[Node]:
    rule = next(rule for rule in report["rules"] if rule["key"] == verdict["rule"])
    limits = [limit for limit in rule["limits"] if limit["name"] == name]
    return [_version_node(limit, version, rule["pack"]) for limit in limits for version in limit["versions"]
            if _in_force(version, verdict["day"])]  # fmt: skip


def _in_force(version: Json, day: str) -> bool:
    # ISO dates compare as text.
    return (version["from"] or "") <= day and (version["until"] is None or day < version["until"])


def _version_node(limit: Json, version: Json, pack: str) -> Node:
    given = {"name": limit["name"], "value": _printed(version), "days": _days(version)}
    node = Node(_("limit {name}: {value}, {days}").format(**given))
    node.children += [Node(line) for line in whose_lines(limit, pack)]
    if version["source"]:
        node.children.append(Node(_("source: {source}").format(source=one_source(version["source"]))))
    return node


def _printed(version: Json) -> str:
    """The value of a limit, with what is printed beside it."""
    figures = [f"{local_digits(version['value'])} {version['unit']}".rstrip()] if version["none"] is None else []
    shown = version["none"] or figures[0]
    for entry in version["also_printed"]:
        shown = _("{value}, also printed as {other}").format(
            value=shown, other=f"{local_digits(entry['value'])} {entry['unit']}"
        )
    return str(shown)


def _days(version: Json) -> str:
    """From when, and until when, a value is in force."""
    begins, until = version["from"] or _("ever"), version["until"]
    if until:
        return _("in force from {day} until {until}").format(day=begins, until=until)
    return _("in force from {day}").format(day=begins)


def whose_lines(limit: Json, pack: str) -> Iterator[str]:
    """Which pack writes a limit, and in place of which limit, where it is not simply the judging pack's own."""
    replaced = limit["in_place_of"]
    if replaced is not None or limit["by"]["id"] != pack:
        yield _("written by {pack} at {place}").format(pack=_pack_words(limit["by"]), place=limit["place"])
    if replaced is not None:
        told = _("in place of the limit of {pack} at {place}")
        yield told.format(pack=_pack_words(replaced["by"]), place=replaced["place"])


def _pack_words(name: Json) -> str:
    return f"{name['id']} {name['version']}"


def _rule_nodes(report: Json, verdict: Json) -> list[Node]:
    rule = next(rule for rule in report["rules"] if rule["key"] == verdict["rule"])
    nodes = [Node(_written_rule(rule))]
    if rule["source"]:
        nodes.append(Node(_("source: {source}").format(source=one_source(rule["source"]))))
    return nodes + [Node(_("assumes: {text}").format(text=text)) for text in rule["assumes"]]


def _written_rule(rule: Json) -> str:
    """Where a rule is written, by which pack, how severe it is, and how it decides."""
    told = _("rule at {place}") if rule["written_by"]["id"] == rule["pack"] else _("rule of {pack} at {place}")
    where = told.format(pack=_pack_words(rule["written_by"]), place=rule["place"])
    severity = _(rule["severity"])
    if rule["change"]:
        severity = _("{severity} (set at {place})").format(severity=severity, place=rule["change"]["place"])
    return f"{where}, {severity}, {_(DECIDED[rule['decision']])}"


def tree_lines(node: Node, prefix: str = "", last: bool = True, top: bool = True) -> Iterator[str]:
    """The tree with its branches drawn."""
    yield node.text if top else f"{prefix}{'└─ ' if last else '├─ '}{node.text}"
    inner = "" if top else f"{prefix}{'   ' if last else '│  '}"
    for index, child in enumerate(node.children):
        yield from tree_lines(child, inner, index == len(node.children) - 1, top=False)
