"""Waivers in the report: on the verdicts that they mark, in a list of their own, and in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from afield.core.language import _, marked

if TYPE_CHECKING:
    from datetime import date

    from afield.core.packs.origins import PackName
    from afield.core.packs.verdicts import Verdict
    from afield.core.packs.waivers import Waiver
    from afield.core.packs.waiving import Standing

Json = dict[str, Any]
CONFIRM = marked("The award's manager must confirm it.")
"""Said wherever a rule of an award program is waived: only the award itself can grant an exception."""


def waived_json(verdict: Verdict) -> Json | None:
    """The waiver of a verdict, as printed with it; None where it is not waived."""
    waiver = verdict.waiver
    if waiver is None:
        return None
    from afield.core.packs.waivers import waiver_words

    confirm = _(CONFIRM) if verdict.pack.judges == "program" else None
    told = waiver_words(waiver)
    return {**_written(waiver), "confirm": confirm, "words": f"{told} {confirm}" if confirm else told}


def _written(waiver: Waiver) -> Json:
    return {
        "reason": waiver.reason,
        "granted_by": waiver.granted_by,
        "from": waiver.from_.isoformat() if waiver.from_ else None,
        "until": waiver.until.isoformat(),
        "where": str(waiver.place),
        "by": _name_json(waiver.by),
    }


def _name_json(name: PackName | None) -> Json | None:
    return {"id": name.id, "version": name.version} if name else None


def waivers_json(standings: Iterable[Standing]) -> list[Json]:
    """Every waiver of the plan and of its packs, and how it stands."""
    return [
        {
            "rule": standing.waiver.rule,
            "subject": standing.waiver.subject,
            **_written(standing.waiver),
            "standing": _standing_word(standing),
            "applied": list(standing.applied),
            "note": _note(standing),
            "words": _in_a_line(standing),
        }
        for standing in standings
    ]


def _in_a_line(standing: Standing) -> str:
    from afield.core.packs.waivers import ended_sentence

    waiver = standing.waiver
    granted = _(GRANTED_FROM if waiver.from_ else GRANTED).format(
        grantor=waiver.granted_by, begins=waiver.from_, until=waiver.until
    )
    return f"{_what(waiver)}: {_(_standing_word(standing))}. {ended_sentence(waiver.reason)} {granted}"


GRANTED = marked("Granted by {grantor}, in force until {until}.")
GRANTED_FROM = marked("Granted by {grantor}, in force from {begins} until {until}.")


def _standing_word(standing: Standing) -> str:
    if standing.applied:
        return marked("applies")
    return marked("not needed") if standing.in_force else marked("not in force")


def _note(standing: Standing) -> str | None:
    if standing.applied or not standing.in_force:
        return None
    told = _("the waiver of {rule} is not needed: nothing of it failed, or is open")
    return told.format(rule=_what(standing.waiver))


def _what(waiver: Waiver) -> str:
    return _("{rule} on {subject}").format(rule=waiver.rule, subject=waiver.subject) if waiver.subject else waiver.rule


def waiver_warnings(standings: Iterable[Standing]) -> list[Json]:
    """A warning for every waiver that is not in force on a day on which its rule is judged."""
    return [
        {"place": str(standing.waiver.place), "what": what, "do": do}
        for standing in standings
        for what, do in _warnings(standing)
    ]


def _warnings(standing: Standing) -> Iterator[tuple[str, str]]:
    if standing.ended:
        yield _told(ENDED, standing, standing.ended), _told(RENEW, standing)
    if standing.pending:
        yield _told(PENDING, standing, standing.pending), _told(EARLIER, standing)
    if standing.in_part:
        yield _told(IN_PART, standing, standing.in_part), _told(COVER, standing)


ENDED = marked("the waiver of {rule} has ended on {until}, and does not apply on {days}")
RENEW = marked("have it renewed by {grantor}, or keep the rule")
PENDING = marked("the waiver of {rule} begins on {begins}, and does not apply on {days}")
EARLIER = marked("ask {grantor} for an earlier day, or keep the rule")
IN_PART = marked("the waiver of {rule} does not apply: it is in force on some of the days {days} only")
COVER = marked("have it cover them all by {grantor}, or keep the rule")


def _told(sentence: str, standing: Standing, days: Sequence[date] = ()) -> str:
    waiver = standing.waiver
    return _(sentence).format(
        rule=_what(waiver), begins=waiver.from_, until=waiver.until, grantor=waiver.granted_by, days=_listed(days)
    )


def _listed(days: Sequence[date]) -> str:
    return ", ".join(str(day) for day in days)


def waived_lines(verdicts: Iterable[Json], labels: Mapping[str, str]) -> list[Json]:
    """Every waived verdict in a line, for the head of a page."""
    return [
        {
            "rule": verdict["rule"],
            "subject": verdict["subject"],
            "kind": verdict["kind"],
            "outcome": verdict["outcome"],
            "words": f"{_titled(verdict, labels)}: {verdict['waived']['words']}",
        }
        for verdict in verdicts
        if verdict["waived"]
    ]


def _titled(verdict: Json, labels: Mapping[str, str]) -> str:
    label = labels.get(verdict["subject"]) if verdict["subject"] != "trip" else None
    lack = verdict["margin"]["words"] if verdict["margin"] and verdict["outcome"] == "failed" else None
    aside = ", ".join(part for part in (label, lack) if part)
    return f"{verdict['title']} ({aside})" if aside else str(verdict["title"])
