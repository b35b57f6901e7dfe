"""The difference of two versions as JSON by `schemas/difference.json`, and as text made from that alone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from afield.core.authoring.difference.comparing import Difference
from afield.core.authoring.difference.replaying import Example
from afield.core.authoring.difference.rules import RuleDifference
from afield.core.authoring.sampling.verdicts import Seen

Json = dict[str, Any]


def difference_record(difference: Difference) -> Json:
    """The record."""
    changed = [rule for rule in difference.rules if rule.change is not None]
    return {
        "pack": difference.new.id,
        "old_version": difference.old.version,
        "new_version": difference.new.version,
        "demanded": difference.demanded,
        "written": difference.written or "backwards",
        "fits": difference.fits,
        "least_version": difference.least,
        "looser_unclaimed": difference.is_looser_unclaimed,
        "judged": {
            "rules": len(difference.rules),
            "cases": sum(rule.replay.cases for rule in difference.rules if rule.replay),
            "combinations": sum(rule.replay.combinations for rule in difference.rules if rule.replay),
        },
        "rules": [_rule(rule) for rule in changed],
        "changes": [
            {"kind": change.kind, "name": change.name, "change": change.change, "demands": change.demands}
            for change in difference.changes
        ],
    }


def _rule(difference: RuleDifference) -> Json:
    before, after, replay = difference.before, difference.after, difference.replay
    found: Json = {
        "rule": difference.rule.id,
        "place": str(difference.rule.place),
        "change": difference.change,
        "severity": {"before": before.severity if before else None, "after": after.severity if after else None},
        "demands": difference.demands,
        "effects": list(difference.effects),
        "rewritten": difference.rewritten,
        "reworded": list(difference.reworded),
        "resourced": list(difference.resourced),
        "waived": list(difference.waived),
        "no_longer_waived": list(difference.no_longer_waived),
    }
    if replay is not None:
        found["judged"] = {"cases": replay.cases, "combinations": replay.combinations, "differ": dict(replay.counts)}
        shown = [replay.examples[effect] for effect in replay.effects]
        found["examples"] = [_example(example) for example in shown]
    return found


def _example(example: Example) -> Json:
    return {
        "effect": example.effect,
        "date": example.day,
        "before": _seen(example.before),
        "after": _seen(example.after),
        "case": example.case,
    }


def _seen(seen: Seen) -> Json:
    return {"outcome": seen.outcome, "reason": seen.reason, "margin": seen.margin}


def difference_text(record: Json) -> str:
    """The record for the reader."""
    lines = [line for rule in record["rules"] for line in _rule_lines(rule)]
    lines += [_change_line(change) for change in record["changes"]]
    return "\n".join([*lines, *_summary(record)]) + "\n"


def _rule_lines(rule: Json) -> Iterator[str]:
    head = f"{rule['place']}: {rule['rule']}"
    before, after = rule["severity"]["before"], rule["severity"]["after"]
    if rule["change"] != "changed":
        yield f"{head}: {rule['change']}, {after or before}"
        return
    if before != after:
        yield f"{head}: severity {before} became {after}"
    yield from (f"{head}: new waiver: {words}" for words in rule["waived"])
    yield from (f"{head}: waiver gone: {words}" for words in rule["no_longer_waived"])
    yield from _effect_lines(rule, head)
    for name, words in (("reworded", "reworded"), ("resourced", "re-sourced")):
        if rule[name]:
            yield f"{head}: {words}: {', '.join(rule[name])}"


def _effect_lines(rule: Json, head: str) -> Iterator[str]:
    judged = rule["judged"]
    total = judged["cases"] + judged["combinations"]
    parts = (
        f"{_counted(judged['cases'], 'cases')}, {_counted(judged['combinations'], 'combinations')} of facts and days"
    )
    of = f"{total} judgings ({parts})"
    for example in rule["examples"]:
        yield f"{head}: {example['effect']}: in {judged['differ'][example['effect']]} of {of}"
        before, after = _verdict(example["before"]), _verdict(example["after"])
        yield f"    = For example, this was {before} and is {after}:"
        yield example["case"].rstrip("\n")
    told = rule["severity"]["before"] != rule["severity"]["after"] or rule["waived"] or rule["no_longer_waived"]
    if rule["rewritten"] and not rule["examples"] and not told:
        yield f"{head}: written otherwise, and judged alike in all of {of}"


def _verdict(seen: Json) -> str:
    more = [seen["reason"]] if seen["outcome"] == "cannot tell" and seen["reason"] else []
    more += [f"margin {seen['margin']}"] if seen["margin"] is not None else []
    outcome = seen["outcome"] or "not judged"
    return f"{outcome} ({', '.join(more)})" if more else outcome


def _change_line(change: Json) -> str:
    undecided = change["kind"] in ("fact", "reference") and change["change"] in ("added", "removed", "changed")
    open_end = "; whether that is stricter or looser no case can tell" if undecided else ""
    what = {"fact": "fact of the program", "header": "pack"}.get(change["kind"], change["kind"])
    return f"{what} {change['name']}: {change['change']}{open_end}"


def _summary(record: Json) -> Iterator[str]:
    judged = record["judged"]
    name = f"{record['pack']} {record['old_version']} to {record['new_version']}"
    work = ", ".join(_counted(judged[what], what) for what in ("rules", "cases", "combinations"))
    if record["demanded"] == "none":
        demanded = "nothing changed"
    else:
        demanded = f"a {record['demanded']} change, which demands {record['least_version']} or higher"
    yield f"{name}: {demanded} ({work})"
    if record["written"] == "backwards":
        yield f"    = The version goes back: raise it above {record['old_version']}."
    elif not record["fits"]:
        yield f"    = The version does not say so: write {record['least_version']} or higher."


def _counted(count: int, many: str) -> str:
    return f"{count} {many.removesuffix('s') if count == 1 else many}"
