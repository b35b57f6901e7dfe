"""Why a verdict is what it is: verdict, facts, inputs, limit and source as a tree, made from the report alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from afield.core.report.formats.grounds import holder, readings_of, records_of
from afield.core.report.formats.text import due_words, one_source, settle_lines

Json = Mapping[str, Any]


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
    root = Node(f"{verdict['outcome']}: {verdict['title']} ({verdict['rule']}, for {label})")
    if verdict.get("waived"):
        root.children.append(Node(verdict["waived"]["words"], [Node(f"written at {verdict['waived']['where']}")]))
    if verdict["why"]:
        root.children.append(Node(f"why the rule is there: {verdict['why']}"))
    if verdict["reason"]:
        root.children.append(Node(f"because {verdict['reason']['text']}"))
    if verdict["text"]:
        root.children.append(Node(verdict["text"]))
    if verdict["outcome"] != "not applicable":
        root.children += [Node(line) for line in readings_of(report, verdict, records_of(report))]
    root.children += [_leaf_node(leaf, report, verdict) for leaf in verdict["leaves"]]
    root.children += _rule_nodes(report, verdict)
    root.children += [Node(f"note: {warning}") for warning in verdict["warnings"]]
    if verdict["settle"]:
        first, *rest = settle_lines(verdict["settle"])
        root.children.append(Node(first, [Node(line) for line in rest]))
    return root


def _leaf_node(leaf: Json, report: Json, verdict: Json) -> Node:
    found = f"{leaf['measured']}" if leaf["measured"] is not None else "not known"
    margin = f", {leaf['margin']['words']}" if leaf["margin"] else ""
    node = Node(f"{leaf['title']}: {found}, due {due_words(leaf)}{margin} ({leaf['outcome']})")
    if leaf["fact"]:
        of = holder(report, verdict["subject"], leaf["kind"])
        node.children += [_fact_node(report, of, leaf["fact"], set())]
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
    told = ", ".join(f"{outcomes.count(outcome)} {outcome}" for outcome in dict.fromkeys(outcomes))
    return f"verdicts on {found[0]['title']} ({rule}): {told}" if found else f"no verdicts on {rule}"


def _fact_node(report: Json, subject: str, name: str, seen: set[tuple[str, str]]) -> Node:
    record = next((r for r in report["facts"] if r["fact"] == name and r["subject"] == subject), None)
    if record is None:
        return Node(f"{name} of {subject}: not asked")
    node = Node(record_line(record))
    if (subject, name) in seen:
        return Node(f"{record_line(record)} (shown above)")
    seen.add((subject, name))
    node.children += [Node(line) for line in _record_details(record)]
    node.children += _input_nodes(report, record["inputs"], seen)
    displaced = record["displaced"]
    while displaced:
        shown = Node(f"displaces the {displaced['rank']} value {displaced['printed']}")
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
    return nodes + ([Node(f"not stated: {', '.join(absent)}")] if absent else [])


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
    place = f" at {record['place']}" if record["place"] else ""
    told = f": {record['printed']}" if record["printed"] else ""
    return f"{record['fact']} of {record['subject']}{told} [{record['rank']}{place}]"


def _record_details(record: Json) -> Iterator[str]:
    if record["method"]:
        yield f"method: {record['method']}"
    if record["parts"] and record["unit"] is not None:
        shown = sorted(record["parts"], key=lambda part: -abs(part["contribution"]))
        told = ", ".join(f"{part['origin']} {part['contribution']:+.2g} {record['unit']}" for part in shown)
        yield f"uncertainty (95 %) from {told}"
    yield from (f"note: {note}" for note in record["notes"])


def _limit_nodes(report: Json, verdict: Json, name: str | None) -> list[Node]:
    rule = next(rule for rule in report["rules"] if rule["key"] == verdict["rule"])
    limits = [limit for limit in rule["limits"] if limit["name"] == name]
    return [_version_node(limit, version, rule["pack"]) for limit in limits for version in limit["versions"]
            if _in_force(version, verdict["day"])]  # fmt: skip


def _in_force(version: Json, day: str) -> bool:
    # ISO dates compare as text.
    return (version["from"] or "") <= day and (version["until"] is None or day < version["until"])


def _version_node(limit: Json, version: Json, pack: str) -> Node:
    also = "".join(f", also printed as {entry['value']} {entry['unit']}" for entry in version["also_printed"])
    value = version["none"] or f"{version['value']} {version['unit']}".rstrip()
    until = f" until {version['until']}" if version["until"] else ""
    node = Node(f"limit {limit['name']}: {value}{also}, in force from {version['from'] or 'ever'}{until}")
    node.children += [Node(line) for line in whose_lines(limit, pack)]
    if version["source"]:
        node.children.append(Node(f"source: {one_source(version['source'])}"))
    return node


def whose_lines(limit: Json, pack: str) -> Iterator[str]:
    """Which pack writes a limit, and in place of which limit, where it is not simply the judging pack's own."""
    replaced = limit["in_place_of"]
    if replaced is not None or limit["by"]["id"] != pack:
        yield f"written by {_pack_words(limit['by'])} at {limit['place']}"
    if replaced is not None:
        yield f"in place of the limit of {_pack_words(replaced['by'])} at {replaced['place']}"


def _pack_words(name: Json) -> str:
    return f"{name['id']} {name['version']}"


def _rule_nodes(report: Json, verdict: Json) -> list[Node]:
    rule = next(rule for rule in report["rules"] if rule["key"] == verdict["rule"])
    by = "" if rule["written_by"]["id"] == rule["pack"] else f" of {_pack_words(rule['written_by'])}"
    set_at = f" (set at {rule['change']['place']})" if rule["change"] else ""
    nodes = [Node(f"rule{by} at {rule['place']}, {rule['severity']}{set_at}, decided {rule['decision']}")]
    if rule["source"]:
        nodes.append(Node(f"source: {one_source(rule['source'])}"))
    return nodes + [Node(f"assumes: {text}") for text in rule["assumes"]]


def tree_lines(node: Node, prefix: str = "", last: bool = True, top: bool = True) -> Iterator[str]:
    """The tree with its branches drawn."""
    yield node.text if top else f"{prefix}{'└─ ' if last else '├─ '}{node.text}"
    inner = "" if top else f"{prefix}{'   ' if last else '│  '}"
    for index, child in enumerate(node.children):
        yield from tree_lines(child, inner, index == len(node.children) - 1, top=False)
