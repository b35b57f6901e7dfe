"""rules.yaml as commented text."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.authoring.scaffold.answers import Answers, Chosen, Item
from afield.core.authoring.scaffold.flow import flow
from afield.core.authoring.scaffold.pack_text import schema_line, source_of
from afield.core.authoring.scaffold.starters import Starter
from afield.core.quantities import shown_unit

HEAD = """\
{schema}
#
# The rules, one entry each, and below them the limits that they use.
# A limit keeps the figure and the unit that your rules print, in quotes, with the day from which it holds. When it
# changes, leave the old value standing, write `until:` with the day of the change under it, and add the new one below:
# a trip of last year is then still judged by last year's value.
#
# severity: required = it decides; advised = good practice; note = worth knowing.
# if_failed: what the reader is told. {{{{ short_by }}}} in it is what is lacking, {{{{ detail.part }}}} the part of the
# station that decides.
# `afield facts` lists all that a rule can compare, `afield facts NAME` says more of one.
# After every change run: afield pack test ./{id}

rules:
"""


def rules_yaml(answers: Answers) -> str:
    """The text of rules.yaml."""
    source = source_of(answers)
    rules = [*(_rule(chosen, answers, source) for chosen in answers.chosen)]
    rules += [_item(item, answers, source) for item in answers.items]
    text = HEAD.format(schema=schema_line("rules"), id=answers.id) + "\n".join(rules)
    limits = [_limit(chosen, answers, source) for chosen in answers.chosen]
    return text + ("\nlimits:\n" + "".join(limits) if limits else "")


def _rule(chosen: Chosen, answers: Answers, source: str) -> str:
    starter = chosen.starter
    bound = flow(starter.bound) if starter.bound else f"{{limit: {starter.limit}}}"
    lines = [
        f"  - id: {starter.rule}",
        f"    title: {flow(starter.title, False)}",
        f"    why: {flow(starter.why, False)}",
        f"    severity: {starter.severity}",
        f"    for_each: {judged_kind(chosen, answers)}",
        *_where(chosen),
        f"    require: {{{_measure(starter)}, {starter.comparison}: {bound}}}",
        *_decision(starter),
        f"    assumes: {flow(starter.assumes)}",
        f"    source: {source}",
        f"    if_failed: {flow(starter.if_failed, False)}",
    ]
    if starter.if_cannot_tell:
        lines.append(f"    if_cannot_tell: {flow(starter.if_cannot_tell, False)}")
    return "\n".join(lines) + "\n"


def _measure(starter: Starter) -> str:
    if starter.greatest is None:
        return f"fact: {starter.fact}"
    return f"greatest: {starter.greatest}, of: {starter.fact}"


def _decision(starter: Starter) -> Iterator[str]:
    if starter.decision != "guarded":
        yield f"    decision: {starter.decision}   # the most likely value decides, however uncertain it is"


def judged_kind(chosen: Chosen, answers: Answers) -> str:
    """What the rule is judged for."""
    return chosen.starter.for_each or answers.judges


def _where(chosen: Chosen) -> Iterator[str]:
    where = chosen.starter.where
    if where:
        yield f"    where: {{fact: {where['fact']}, is: {flow(where['is'])}}}   # elsewhere the rule does not apply"


def _item(item: Item, answers: Answers, source: str) -> str:
    lines = [
        "  # An item of the checklist: nothing is computed, somebody ticks it off.",
        f"  - id: {item.id}",
        f"    title: {flow(item.text.rstrip('.'), False)}",
        f"    why: {flow(f'So says {answers.document}.', False)}   # say here what it is good for",
        "    severity: advised",
        f"    for_each: {answers.judges}",
        f"    confirm: {flow(item.text, False)}",
        f"    when: {item.stage}",
        f"    source: {source}",
    ]
    return "\n".join(lines) + "\n"


def _limit(chosen: Chosen, answers: Answers, source: str) -> str:
    unit = chosen.figure.unit
    lines = [f"  {chosen.starter.limit}:", f"    - from: {answers.since}", f'      value: "{chosen.figure.digits:f}"']
    if unit:
        lines.append(f"      unit: {flow(shown_unit(unit))}")
    return "\n".join([*lines, f"      source: {source}"]) + "\n"
