"""The report's entries in the order that the briefing prints them; every printed figure stands in the report."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any

from afield.core.frozen import frozen
from afield.core.language import _, marked
from afield.core.packs.model import SEVERITIES, STAGES
from afield.core.report.formats.rows import Row, rows_of, without_subjects

Entry = Mapping[str, Any]
FAILED, CANNOT_TELL, NOT_APPLICABLE = "failed", "cannot tell", "not applicable"
ANY_TIME = marked("at any time")


@frozen
class ToSettle:
    """What is open, by what would settle it.

    Attributes:
        measure: verdicts that a measurement at the position settles.
        state: verdicts that an input to the plan, or a renewed pack, settles.
        nothing: verdicts that nothing known would settle.

    """

    measure: list[Entry]
    state: list[Entry]
    nothing: list[Entry]


@frozen
class Table:
    """The verdicts on one claim, on one program, or on the trip.

    Attributes:
        key: subject key, or "trip".
        title: heading.
        claim: the report's entry on the claim, for a claim.
        rows: the verdicts that apply; those of one rule that say the same of several things stand together.
        dropped: those that do not apply to the claim, the program or the trip itself.
        idle: titles of the rules that apply to none of the many subjects that lie within it.

    """

    key: str
    title: str
    claim: Entry | None
    rows: list[Row]
    dropped: list[Entry]
    idle: list[str]


def to_settle(report: Entry) -> ToSettle:
    """The verdicts that cannot be told, but for the checklist and what is waived, by what would settle them."""
    undecided = [v for v in _judged(report) if v["outcome"] == CANNOT_TELL and not v.get("waived")]
    return ToSettle(
        measure=[verdict for verdict in undecided if _settled_by(verdict) == "measure"],
        state=[verdict for verdict in undecided if _settled_by(verdict) not in ("measure", None)],
        nothing=[verdict for verdict in undecided if _settled_by(verdict) is None],
    )


def not_met(report: Entry) -> list[Row]:
    """What failed, the required rules first; the checklist is counted apart."""
    missed = [verdict for verdict in _judged(report) if verdict["outcome"] == FAILED and not verdict.get("waived")]
    return sorted(rows_of(missed), key=lambda row: SEVERITIES.index(row.verdict["severity"]))


def sources_by_document(report: Entry) -> list[Entry]:
    """The sources, the sections of one document that were checked on one day together; each verdict names its own."""
    found: dict[tuple[Any, ...], dict[str, Any]] = {}
    for source in report["sources"]:
        shared = {name: source.get(name) for name in ("document", "edition", "grade", "last_checked")}
        entry = found.setdefault(tuple(shared.values()), {**shared, "sections": []})
        entry["sections"] += [source["section"]] if source.get("section") else []
    return list(found.values())


def _settled_by(verdict: Entry) -> str | None:
    settle = verdict["settle"]
    return settle["kind"] if settle else None


def _judged(report: Entry) -> list[Entry]:
    return [verdict for verdict in report["verdicts"] if verdict["kind"] == "judge"]


def tables(report: Entry) -> list[Table]:
    """A table a claim in the report's order, then one a program with verdicts of its own, then the trip's."""
    homes = {subject["key"]: _home(subject) for subject in report["subjects"]}
    claims = {claim["subject"]: claim for claim in report["claims"]}
    grouped: dict[str, list[Entry]] = {key: [] for key in claims}
    for verdict in _judged(report):
        grouped.setdefault(_table_of(verdict, homes), []).append(verdict)
    trip = grouped.pop("trip", [])
    missed = without_subjects(report)
    built = [_table(key, claims.get(key), verdicts, missed) for key, verdicts in grouped.items()]
    return built + ([_table("trip", None, trip, missed)] if trip else [])


def _home(subject: Entry) -> str:
    """The claim, else the program, else the trip that a subject lies in."""
    if subject["kind"] in ("claim", "program"):
        return str(subject["key"])
    parents = subject.get("parents") or {}
    return str(parents.get("claim") or parents.get("program") or "trip")


def _table_of(verdict: Entry, homes: Mapping[str, str]) -> str:
    home = homes.get(verdict["subject"], "trip")
    return f"program:{verdict['program']}" if home == "trip" and verdict["program"] else home


def _table(key: str, claim: Entry | None, verdicts: Sequence[Entry], missed: Collection[str]) -> Table:
    applying = [verdict for verdict in verdicts if verdict["outcome"] != NOT_APPLICABLE]
    dropped = [verdict for verdict in verdicts if verdict["outcome"] == NOT_APPLICABLE]
    mine = [verdict for verdict in dropped if verdict["subject"] == key or key.startswith("program:")]
    own = [verdict for verdict in mine if verdict["rule"] not in missed]
    return Table(key, _heading(key, claim), claim, rows_of(applying), own, _idle(applying, dropped, own))


def _idle(applying: Iterable[Entry], dropped: Iterable[Entry], own: Sequence[Entry]) -> list[str]:
    used = {verdict["rule"] for verdict in [*applying, *own]}
    return list({verdict["rule"]: verdict["title"] for verdict in dropped if verdict["rule"] not in used}.values())


def _heading(key: str, claim: Entry | None) -> str:
    if claim is not None:
        return claim_title(claim)
    if key == "trip":
        return _("The trip")
    return _("The program {program} as a whole").format(program=key.partition(":")[2])


def claim_title(claim: Entry) -> str:
    """The claim's name: its reference's title, else the name it is claimed by, and its program's title if known."""
    reference = claim.get("title") or str(claim["label"]).rsplit(" / ", 1)[-1]
    return ", ".join(str(name) for name in (reference, claim.get("program_title")) if name)


def whose(row: Row, table: Table, names: Mapping[str, str]) -> str | None:
    """What a row of a table is on, where that lies within what the table is of; None where it is the table's own."""
    told = [names.get(subject) for subject in row.subjects if subject != table.key]
    return "; ".join(name for name in told if name) or None


def whose_dropped(verdict: Entry, table: Table, names: Mapping[str, str]) -> str | None:
    """The same of a verdict that does not apply."""
    return None if verdict["subject"] == table.key else names.get(verdict["subject"])


def other_leaves(verdict: Entry) -> list[Entry]:
    """What else the condition asks, besides the figures that the verdict shows: what has a margin or was not met."""
    shown = (verdict["measured"], verdict["limit"])
    others = [leaf for leaf in verdict["leaves"] if (leaf["measured"], leaf["limit"]) != shown]
    return [leaf for leaf in others if leaf["margin"] or leaf["outcome"] != "passed"]


def also_asked(leaf: Entry) -> str:
    """One more comparison of a condition, in a line."""
    given = {"what": leaf["title"], "found": leaf["measured"] or _("not known"), "outcome": _(leaf["outcome"])}
    if not leaf["limit"]:
        return _("Also: {what} {found}: {outcome}").format(**given)
    due = f"{leaf['comparison']} {leaf['limit']}"
    return _("Also: {what} {found}, {due}: {outcome}").format(due=due, **given)


def at_first(words: str) -> str:
    """The same words at the beginning of a line."""
    return words[:1].upper() + words[1:]


def labels(report: Entry) -> dict[str, str]:
    """Subject key -> what the reader calls it."""
    shown = {str(subject["key"]): str(subject.get("title") or subject["label"]) for subject in report["subjects"]}
    return {**shown, **{claim["subject"]: claim_title(claim) for claim in report["claims"]}}


def checklist(report: Entry) -> list[tuple[str, list[Entry]]]:
    """The checklist's items by when they are due; those that do not apply are left out."""
    items = [
        verdict
        for verdict in report["verdicts"]
        if verdict["kind"] == "confirm" and verdict["outcome"] != NOT_APPLICABLE
    ]
    due = [(when, [item for item in items if item["when"] == when]) for when in STAGES]
    other = [item for item in items if item["when"] not in STAGES]
    return [(when, group) for when, group in [*due, (ANY_TIME, other)] if group]


def shown_rules(rules: Iterable[str]) -> str:
    """Keys of rules, or names of facts, in one line."""
    return ", ".join(sorted(rules))


def grounds_of(assumption: Entry) -> str:
    """The rules that take it for granted, else the facts that note it, each named once."""
    return shown_rules(assumption["rules"] or {fact.partition(" of ")[0] for fact in assumption["facts"]})


def front_and_back(report: Entry, orders: Mapping[str, int], back_from: int) -> tuple[list[Entry], list[Entry]]:
    """The report's sections that stand among the results, and those that stand on pages of their own at the end."""
    ordered = sorted(report.get("sections", []), key=lambda section: (orders.get(section["name"], 0), section["name"]))
    front = [section for section in ordered if orders.get(section["name"], 0) < back_from]
    return front, [section for section in ordered if section not in front]


def headlines(report: Entry) -> Iterator[str]:
    """One line of each section that has one to say in the title block."""
    for section in report.get("sections", []):
        if section["data"].get("headline"):
            yield str(section["data"]["headline"])
