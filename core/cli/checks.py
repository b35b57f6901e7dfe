"""`afield check` and `afield why`."""

from __future__ import annotations

import json
from typing import Annotated, Any

import typer

from afield.core.cli.options import Now, Plan, Strict, Variant, day
from afield.core.documents import did_you_mean, quoted_list
from afield.core.documents.naming import named_as_given
from afield.core.documents.writing import UsageError
from afield.core.engine import Engine, judge, load, report

Json = dict[str, Any]
Format = Annotated[str, typer.Option("--format", help="text or json.")]


def add_to(app: typer.Typer) -> None:
    """Add the commands."""
    app.command("check")(check)
    app.command("why")(why)


def check(
    plan: Plan,
    format: Format = "text",
    variant: Variant = None,
    now: Now = None,
    strict: Strict = False,
) -> int:
    """Judge a plan: does every claimed reference count, and what cannot be told."""
    if format not in ("text", "json"):
        raise UsageError(f"--format {format} is not known\n    = Write --format text or --format json.")
    from afield.core.report.formats.text import report_text

    found = checked(plan, variant, now, strict)
    as_json = format == "json"
    typer.echo(json.dumps(found, indent=2, ensure_ascii=False) + "\n" if as_json else report_text(found), nl=False)
    return int(found["exit_status"])


def checked(plan: Plan, variant: str | None, now: str | None, strict: bool = False) -> Json:
    """The report of a plan without a briefing's sections."""
    asked = day(now)
    engine = Engine()
    with named_as_given(plan):
        return report(judge(load(plan, engine, variant), engine, asked), engine, strict=strict)


def why(
    plan: Plan,
    rule: Annotated[str, typer.Argument(help="The rule, as pack/rule or by its id.", show_default=False)],
    claim: Annotated[str | None, typer.Argument(help="The claim, if the rule judges several.")] = None,
    variant: Variant = None,
    now: Now = None,
) -> int:
    """Show what a verdict rests on: facts, inputs, limit, source, and what would settle it."""
    from afield.core.report.formats.why import why_text

    found = checked(plan, variant, now)
    verdicts = chosen(found, rule, claim)
    typer.echo("\n".join(why_text(found, verdict) for verdict in verdicts), nl=False)
    return 0


def chosen(found: Json, rule: str, claim: str | None) -> list[Json]:
    """The verdicts of a rule, on one claim if it is named.

    Raises:
        UsageError: no such rule or claim.

    """
    of_rule = [verdict for verdict in found["verdicts"] if rule in (verdict["rule"], verdict["rule"].split("/", 1)[1])]
    if not of_rule:
        known = list(dict.fromkeys(verdict["rule"] for verdict in found["verdicts"]))
        raise UsageError(f"no rule is called {rule}\n    = {_hint(rule, known, 'rules')}")
    if claim is None:
        return of_rule
    of_claim = [verdict for verdict in of_rule if _names(claim, verdict["subject"])]
    if not of_claim:
        known = [verdict["subject"] for verdict in of_rule]
        raise UsageError(f"{rule} has no verdict on {claim}\n    = {_hint(claim, known, 'subjects')}")
    return of_claim


def _names(claim: str, subject: str) -> bool:
    return claim in (subject, subject.split(":", 1)[-1], subject.rsplit("/", 1)[-1])


def _hint(word: str, known: list[str], what: str) -> str:
    """The known word that was meant, whole or by its last part; else the first of them."""
    by_part = {name.rsplit("/", 1)[-1]: name for name in reversed(known)}
    guess = did_you_mean(word, known) or by_part.get(did_you_mean(word, by_part) or "")
    return f'Did you mean "{guess}"?' if guess else f"The {what} are {quoted_list(known)}."
