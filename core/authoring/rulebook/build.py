"""The rulebook as plain data: all that its page and its text print, arranged, nothing left to calculate."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Any

from afield.core import __version__
from afield.core.authoring.rulebook.examples import examples_of, tried_cases
from afield.core.authoring.rulebook.sentences import Speaker, sentence
from afield.core.authoring.rulebook.tables import fact_rows, limit_rows, reference_rows, source_words
from afield.core.host.registry import Registry
from afield.core.packs.model import SEVERITIES, STAGES, Pack, Rule
from afield.core.packs.origins import limit_change_words, severity_change_words
from afield.core.packs.waivers import waiver_words
from afield.core.report.overrides import limit_names

Json = dict[str, Any]
SEVERITY_WORDS = {
    "required": ("Required", "Each of these decides."),
    "advised": ("Advised", "Good practice: what fails here is told, and decides nothing."),
    "note": ("Worth knowing", "Told, and decides nothing."),
}
FIELDS = {"margin": "[room]", "short_by": "[what is lacking]", "subject": "[name]"}
"""What is said in place of a field that is filled in on the day, where its name says too little."""
TEXTS = (("if_failed", "If it fails"), ("if_cannot_tell", "If it cannot be told"))
_USE = re.compile(r"{{\s*(?:detail\.)?(\w+)\s*}}")


def rulebook_json(pack: Pack, registry: Registry) -> Json:
    """All that the rulebook of a pack says.

    Raises:
        WrongCases: a case of the pack, or of one that it extends, comes out otherwise than it says.
        InputError: a case that cannot be run.

    """
    speaker = Speaker(registry.facts, registry.kinds, pack)
    cases = tried_cases(pack, registry)
    return {
        "pack": _pack(pack),
        "severities": list(_severities(pack, speaker, cases)),
        "stages": list(_stages(pack)),
        "limits": limit_rows(pack, speaker),
        "facts": fact_rows(pack, speaker),
        "references": reference_rows(pack),
        "sources": [_document(source) for source in pack.sources],
        "judged": list(_judged(pack)),
        "examples": sum(map(len, cases.values())),
        "made": _made(pack),
    }


def _pack(pack: Pack) -> Json:
    award = pack.judges == "program"
    return {
        "id": pack.id,
        "title": pack.title,
        "version": pack.version,
        "publisher": pack.publisher,
        "licence": pack.licence,
        "notice": pack.notice,
        "extends": [str(base.name) for base in pack.lineage()][1:],
        "absent": list(pack.absent),
        "whom": f"Judges the claims of the award {pack.id}." if award else "Judges every trip whose plan names it.",
    }


def _severities(pack: Pack, speaker: Speaker, cases: Mapping[str, list[Any]]) -> Iterator[Json]:
    """The rules that are judged, by severity, and within that by what they are for."""
    for severity in SEVERITIES:
        rules = [rule for rule in pack.rules if rule.severity == severity and rule.require is not None]
        kinds = [kind for kind in speaker.kinds if any(rule.for_each == kind for rule in rules)]
        kinds += dict.fromkeys(rule.for_each for rule in rules if rule.for_each not in kinds)
        title, words = SEVERITY_WORDS[severity]
        if rules:
            yield {"title": title, "words": words, "kinds": [_kind(kind, rules, speaker, cases) for kind in kinds]}


def _kind(kind: str, rules: Iterable[Rule], speaker: Speaker, cases: Mapping[str, list[Any]]) -> Json:
    mine = [rule for rule in rules if rule.for_each == kind]
    return {"title": _for_whom(kind, speaker), "rules": [_rule(rule, speaker, cases.get(rule.id, [])) for rule in mine]}


def _for_whom(kind: str, speaker: Speaker) -> str:
    whole = {"trip": "For the trip as a whole", "program": "For the award as a whole"}
    return whole.get(kind, f"For each {speaker.kind(kind)}")


def _rule(rule: Rule, speaker: Speaker, cases: Iterable[Any]) -> Json:
    assert rule.require is not None
    return {
        "id": rule.id,
        "title": rule.title,
        "why": rule.why,
        "due": speaker.due(rule.require),
        "applies": speaker.applies(rule.where) if rule.where else None,
        "in_force": in_force_words(rule.from_, rule.until) if rule.from_ or rule.until else None,
        "simple": "The value alone decides, whatever its uncertainty." if rule.decision == "simple" else None,
        "assumes": list(rule.assumes),
        "examples": examples_of(rule, cases, speaker),
        "texts": [{"when": when, "words": filled(rule.texts[name])} for name, when in TEXTS if name in rule.texts],
        "of": _writer(rule, speaker.pack),
        "whose": list(_whose(rule, speaker.pack)),
        "source": source_words(rule.source),
    }


def _writer(rule: Rule, pack: Pack) -> str | None:
    """The pack that writes the rule, where it is another than the rulebook's."""
    return None if rule.by is None or rule.by == pack.name else str(rule.by)


def _whose(rule: Rule, pack: Pack) -> Iterator[str]:
    """Whose severity and limits the rule has, where they stand in place of another pack's; and by whom it is waived."""
    yield from (sentence(waiver_words(waiver)) for waiver in pack.waivers if waiver.rule == rule.key)
    if rule.change:
        yield sentence(severity_change_words(rule.change))
    for name in limit_names(rule):
        origin, limit = pack.origins.get(name), pack.limits.get(name)
        if origin and limit and limit.versions:
            day = limit.versions[-1].from_ or date.min
            words = limit_change_words(name, limit, origin, day)
            yield from [sentence(words)] if words else []


def filled(text: str) -> str:
    """A text with what is filled in on the day named in brackets."""
    return _USE.sub(lambda use: FIELDS.get(use[1], f"[{use[1].replace('_', ' ')}]"), text)


def in_force_words(start: date | None, end: date | None) -> str:
    """From which day on, and before which."""
    words = [f"from {start}" if start else "", f"until the day before {end}" if end else ""]
    return sentence(f"in force {' '.join(word for word in words if word)}")


def _stages(pack: Pack) -> Iterator[Json]:
    """The checklist, by the stage of the outing."""
    for stage in STAGES:
        items = [_item(rule, pack) for rule in pack.rules if rule.confirm and rule.when == stage]
        if items:
            yield {"title": stage[0].upper() + stage[1:], "items": items}


def _item(rule: Rule, pack: Pack) -> Json:
    return {
        "id": rule.id,
        "title": rule.title,
        "confirm": rule.confirm,
        "why": rule.why,
        "severity": rule.severity,
        "evidence": rule.evidence,
        "of": _writer(rule, pack),
        "whose": list(_whose(rule, pack)),
        "source": source_words(rule.source),
    }


def _document(source: Mapping[str, Any]) -> str:
    named = [source["document"], source["edition"], source.get("publisher"), source.get("url")]
    return f"{', '.join(part for part in named if part)} ({source['grade']})"


def _judged(pack: Pack) -> Iterator[str]:
    yield (
        "A rule is passed where every value within the uncertainty (95 %) meets it, failed where none does. In "
        "between, and where something is not known, it cannot be told."
    )
    yield (
        "A value of a limit holds from its first day on, and no longer on the day on which it ends. The figure in the "
        "unit that its source prints decides; the same in another unit, in brackets, never does."
    )
    days = "in UTC" if pack.date_basis == "utc" else "by the clock of the place"
    yield f"Days are counted {days}. A source that was not looked at for {pack.review_days:g} days is warned of."
    yield "Where this page and the documents that it cites differ, the documents hold."


def _made(pack: Pack) -> list[tuple[str, str]]:
    lineage = [f"{each.name}, sha256 {each.sha256}" for each in pack.lineage()]
    return [("Pack", "; extending ".join(lineage)), ("Engine", f"afield {__version__}")]
