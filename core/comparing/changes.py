"""Verdicts that change: joined by rule and subject; what judges only one of the two sides is told together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from afield.core.comparing.sides import Side
from afield.core.language import _, marked
from afield.core.report.summary import counts

Json = dict[str, Any]
Verdicts = Mapping[tuple[str, str], Json]
SEVERITIES = ("required", "advised", "note")
NOT_APPLICABLE, OPEN = "not applicable", ("failed", "cannot tell")
TICKS = {"passed": marked("confirmed"), "cannot tell": marked("open"), NOT_APPLICABLE: marked("not on the list")}
"""Outcome of a checklist's item -> its words, which are said in the reader's language where they are shown."""


def changes_json(base: Side, other: Side) -> Json:
    """How the verdicts on a side differ from those on the base; not applicable and not there are one."""
    mine, others = _verdicts(base, "judge"), _verdicts(other, "judge")
    both = [key for key in others if key in mine]
    changed = [key for key in both if _told(mine[key]) != _told(others[key])]
    same = [others[key] for key in both if key not in set(changed)]
    labels = _labels(base) | _labels(other)
    only = [_only(base, mine, other, others), _only(other, others, base, mine)]
    return {
        "label": other.label,
        "changed": _by_severity(_change(mine[key], others[key], base, other, labels) for key in changed),
        "only": [group for group in only if group is not None],
        "checklist": _checklist(base, other, labels),
        "unchanged": counts(same),
    }


def _verdicts(side: Side, kind: str) -> dict[tuple[str, str], Json]:
    return {(one["rule"], one["subject"]): one for one in side.report["verdicts"] if one["kind"] == kind}


def _told(verdict: Json) -> tuple[str, str, str | None]:
    return verdict["outcome"], verdict["severity"], _waived(verdict)


def _waived(verdict: Json) -> str | None:
    return verdict["waived"]["words"] if verdict["waived"] else None


def _labels(side: Side) -> dict[str, str]:
    """Subject key -> what it is called; the trip needs no name."""
    return {subject["key"]: subject["label"] for subject in side.report["subjects"] if subject["kind"] != "trip"}


def _by_severity(entries: Iterable[Json]) -> list[Json]:
    return sorted(entries, key=lambda entry: SEVERITIES.index(entry["severity"]))


def _severest(verdicts: Iterable[Json]) -> str:
    return min((str(verdict["severity"]) for verdict in verdicts), key=SEVERITIES.index)


def _change(one: Json, two: Json, base: Side, other: Side, labels: Mapping[str, str]) -> Json:
    return {
        "rule": two["rule"],
        "subject": two["subject"],
        "title": two["title"],
        "of": labels.get(two["subject"]),
        "severity": _severest([one, two]),
        "sides": [_side(base, one), _side(other, two)],
    }


def _side(side: Side, verdict: Json) -> Json:
    margin = verdict["margin"]
    because = verdict["reason"]["text"] if verdict["reason"] else verdict["text"]
    return {
        "label": side.label,
        "outcome": verdict["outcome"],
        "severity": verdict["severity"],
        "measured": verdict["measured"],
        "limit": " ".join(word for word in (verdict["comparison"], verdict["limit"]) if word) or None,
        "margin": margin["words"] if margin else None,
        "because": because if verdict["outcome"] in (*OPEN, NOT_APPLICABLE) else None,
        "waived": _waived(verdict),
    }


def _only(side: Side, verdicts: Verdicts, against: Side, others: Verdicts) -> Json | None:
    """What is judged on this side alone: the subjects and rules, how it is judged, and each verdict that is open."""
    alone = [one for key, one in verdicts.items() if key not in others and one["outcome"] != NOT_APPLICABLE]
    if not alone:
        return None
    labels, known = _labels(side), {subject["key"] for subject in against.report["subjects"]}
    new = dict.fromkeys(one["subject"] for one in alone if one["subject"] not in known)
    kinds = {subject["key"]: subject["kind"] for subject in side.report["subjects"]}
    return {
        "label": side.label,
        "subjects": [{"subject": key, "kind": kinds[key].replace("_", " "), "of": labels[key]} for key in new],
        "rules": list(dict.fromkeys(one["title"] for one in alone if one["subject"] in known)),
        "outcomes": counts(alone),
        "open": _by_severity(_open(one, side, labels) for one in alone if one["outcome"] in OPEN),
    }


def _open(verdict: Json, side: Side, labels: Mapping[str, str]) -> Json:
    named = {name: verdict[name] for name in ("rule", "subject", "title", "severity")}
    return {**named, "of": labels.get(verdict["subject"]), **_side(side, verdict)}


def _checklist(base: Side, other: Side, labels: Mapping[str, str]) -> list[Json]:
    """Items of the checklist that stand otherwise on the two sides."""
    mine, others = _verdicts(base, "confirm"), _verdicts(other, "confirm")
    found = []
    for key in dict.fromkeys([*mine, *others]):
        ticks = [TICKS[verdicts[key]["outcome"] if key in verdicts else NOT_APPLICABLE] for verdicts in (mine, others)]
        verdict = others.get(key) or mine[key]
        if ticks[0] != ticks[1]:
            sides = [{"label": side.label, "tick": tick} for side, tick in zip((base, other), ticks, strict=True)]
            named = {name: verdict[name] for name in ("rule", "subject", "title", "severity")}
            found.append({**named, "of": labels.get(key[1]), "sides": sides})
    return _by_severity(found)


def standing_json(side: Side) -> Json:
    """How the side stands as a whole: what `afield check` would end with, in words and counts."""
    summary = side.report["summary"]
    together = side.report["together"]
    return {
        "exit_status": side.report["exit_status"],
        "words": _status_words(side),
        "required": summary["required"],
        "required_words": _counted(summary["required"]),
        "outcomes": summary["outcomes"],
        "checklist": summary["checklist"],
        "claims": together["words"] if together else None,
        "waived": [
            _("{outcome}, waived: {words}").format(outcome=_(entry["outcome"]), words=entry["words"])
            for entry in summary["waived"]
        ],
    }


def _status_words(side: Side) -> str:
    status = side.report["exit_status"]
    # Where nothing was passed, "or does not apply" would sound like good news.
    waived = any(verdict["waived"] and verdict["severity"] == "required" for verdict in side.report["verdicts"])
    none = status == 0 and not side.report["summary"]["required"]["passed"] and not waived
    return _(NONE_APPLIES if none else (STATUS_WAIVED if waived else STATUS_WORDS)[status])


NONE_APPLIES = marked("no required rule applies")
STATUS_WORDS = {
    0: marked("every required rule passed, or does not apply"),
    1: marked("a required rule failed"),
    3: marked("nothing failed, but a required verdict cannot be told, or a claim is not judged"),
    4: marked("a plugin crashed"),
}
"""Exit status of `afield check` -> what it means."""
STATUS_WAIVED = {
    **STATUS_WORDS,
    0: marked("every required rule passed, is waived, or does not apply"),
    1: marked("a required rule failed that is not waived"),
    3: marked("nothing failed but what is waived, but a required verdict cannot be told, or a claim is not judged"),
}
"""The same where a required verdict is waived."""


def _counted(outcomes: Mapping[str, int]) -> str:
    return ", ".join(f"{count} {_(outcome)}" for outcome, count in outcomes.items())
