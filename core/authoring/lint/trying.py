"""What the pack's cases leave untried: rules, outcomes, and the sides of every figure that is compared with."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.authoring.lint.bench import LintBench
from afield.core.authoring.lint.findings import Finding, either, finding
from afield.core.packs.model import Rule


def case_findings(bench: LintBench) -> Iterator[Finding]:
    """Rules and outcomes without a case, and cases that prove nothing."""
    if not bench.cases:
        yield from _no_cases(bench)
        return
    for trial in bench.trials:
        for difference in trial.result.differences:
            what = f"the case {trial.result.name} of the rule {trial.result.rule} does not come out: {difference}"
            advice = "Correct the case or the rule; `afield pack test` shows the same. A wrong case proves nothing."
            line = trial.case.document.line(trial.result.place)
            yield Finding("case-wrong", trial.result.place, what, advice, line, {"rule": trial.result.rule})
    for rule in bench.own_rules:
        if bench.can_be_tried(rule):
            yield from _outcomes(rule, bench)


def _no_cases(bench: LintBench) -> Iterator[Finding]:
    if bench.own_rules or bench.own_limits:
        what = f"the pack {bench.pack.id} has no cases, so that none of its rules was ever tried"
        advice = "Write cases.yaml beside rules.yaml; `afield schema cases` prints what goes into it."
        yield finding("no-cases", bench.rules_file, (), what, advice)


def outcomes_due(rule: Rule) -> list[str]:
    """The outcomes that the rule can have: a checklist item never fails, and without `where` a rule always applies."""
    found = ["passed", "cannot tell"] if rule.confirm is not None else ["passed", "failed", "cannot tell"]
    return [*found, "not applicable"] if rule.where is not None else found


def _outcomes(rule: Rule, bench: LintBench) -> Iterator[Finding]:
    shown = {trial.verdict.word for trial in bench.right if trial.verdict and trial.verdict.rule.id == rule.id}
    missing = [outcome for outcome in outcomes_due(rule) if outcome not in shown]
    if not shown:
        what = f"no case reaches the rule {rule.id}"
        advice = f"Add cases in which it is {either(outcomes_due(rule), 'and')}."
        yield finding("rule-untried", bench.rules_file, rule.path, what, advice, {"rule": rule.id})
    elif missing:
        what = f"no case shows the rule {rule.id} {either(missing)}"
        advice = f"Add {either([_how(outcome, rule) for outcome in missing], 'and')}."
        yield finding("outcome-untried", bench.rules_file, rule.path, what, advice, {"rule": rule.id})


def _how(outcome: str, rule: Rule) -> str:
    if outcome == "not applicable":
        return "a case that its `where` leaves out"
    if rule.confirm is not None:
        return "a case with `confirmed: true`" if outcome == "passed" else "a case without `confirmed`"
    return {
        "passed": "a case that meets its condition",
        "failed": "a case that does not meet its condition",
        "cannot tell": "a case with a fact `{unknown: missing input}`",
    }[outcome]
