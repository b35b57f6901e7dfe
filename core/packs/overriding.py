"""What keeps a pack from overriding limits and severities of the pack that it extends."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.documents import Document, Problem, quoted_list
from afield.core.host.registry import Registry
from afield.core.packs.model import SEVERITIES, Pack, Rule
from afield.core.quantities import dimension_of, phrase_of, same_dimension
from afield.core.rules.complaint import meant
from afield.core.rules.condition_reading import read_condition
from afield.core.rules.conditions import limits_asked, to_json
from afield.core.rules.limits import printed_figure


def problems_without_base(document: Document) -> list[Problem]:
    """What a rules file lacks, or has too much, where the pack extends none."""
    found: list[Problem] = []
    if "changes" in document.data:
        advice = "Name that pack with `extends:` in pack.yaml, or write the severity in the rule itself."
        found.append(document.problem(("changes",), "`changes` without a pack that this one extends", advice, True))
    if "waivers" in document.data:
        advice = "Name that pack with `extends:` in pack.yaml, or write the waiver into the plan."
        found.append(document.problem(("waivers",), "`waivers` without a pack that this one extends", advice, True))
    if not document.data.get("rules"):
        what = "rules is empty" if "rules" in document.data else 'rules of a pack has no key "rules"'
        advice = "Write at least one rule; only a pack that `extends` another may do without."
        found.append(document.problem(("rules",), what, advice))
    return found


def problems_of_overriding(pack: Pack, registry: Registry) -> list[Problem]:
    """Every limit, change and waiver that does not fit the pack's base; none for a pack that extends none."""
    if pack.base is None:
        return []
    return [
        *_limit_problems(pack, pack.base, registry),
        *_change_problems(pack, pack.base),
        *_waiver_problems(pack, pack.base),
    ]


def _waiver_problems(pack: Pack, base: Pack) -> list[Problem]:
    if "waivers" not in pack.documents["rules"].data:
        return []
    from afield.core.packs.waiver_reading import problems_of_pack_waivers

    return list(problems_of_pack_waivers(pack, base))


def _limit_problems(pack: Pack, base: Pack, registry: Registry) -> Iterator[Problem]:
    for name, origin in pack.origins.items():
        if origin.by == pack.name and name in base.limits:
            units = [version.unit for version in base.limits[name].versions if version.value is not None]
            if units:
                yield from _dimension_problems(pack, base, name, units[0])
            else:
                yield from _misfits(pack, base, name, registry)


def _dimension_problems(pack: Pack, base: Pack, name: str, due: str) -> Iterator[Problem]:
    for version in pack.limits[name].versions:
        if version.value is not None and not same_dimension(version.unit, due):
            figure = f"{printed_figure(version.value, version.unit)} is {_what_is(version.unit)}"
            what = f"the limit {name} is {_what_is(due)} in {base.origins[name].by}; {figure}"
            advice = f"Write {_what_is(due)}, or give the limit a name that {base.id} does not use."
            yield pack.documents["rules"].problem((*version.path, "unit"), what, advice)


def _what_is(unit: str) -> str:
    return phrase_of(dimension_of(unit)) if unit else "a plain number"


def _misfits(pack: Pack, base: Pack, name: str, registry: Registry) -> Iterator[Problem]:
    """Where the base has no figure, what compares with the limit says what it must be."""
    found = [*_misfit_rules(pack, base, name, registry), *_misfit_facts(pack, base, name, registry)]
    for what in dict.fromkeys(found):
        advice = f"Write the limit in such a unit, or give it a name that {base.id} does not use."
        yield pack.documents["rules"].problem(("limits", name), what, advice, at_key=True)


def _misfit_rules(pack: Pack, base: Pack, name: str, registry: Registry) -> Iterator[str]:
    rules = {rule.id: rule.for_each for rule in base.rules}
    rules |= {key: rule.kind for key, rule in base.elsewhere.items()}
    for rule in base.rules:
        for condition in (rule.require, rule.where):
            if condition is not None and name in limits_asked(condition):
                complaints = read_condition(
                    to_json(condition), (), registry.facts, pack.limits, kinds=registry.kinds, rules=rules,
                    absent=pack.absent, program=pack.judges == "program",
                )[1]  # fmt: skip
                compared = f"which the rule {rule.id} of {rule.by} compares with it"
                yield from (f"{complaint.what}, {compared}" for complaint in complaints[:1])


def _misfit_facts(pack: Pack, base: Pack, name: str, registry: Registry) -> Iterator[str]:
    for fact, versions in base.facts.items():
        declared = registry.facts.get(fact)
        if declared is None or all(version.limit != name for version in versions):
            continue
        due = declared.unit or ""
        if not all(same_dimension(unit, due) for unit in _units(pack, name)):
            yield f"{declared.title or fact}, which takes the limit {name} in {base.name}, is {_what_is(due)}"


def _units(pack: Pack, name: str) -> list[str]:
    return [version.unit for version in pack.limits[name].versions if version.value is not None]


def _change_problems(pack: Pack, base: Pack) -> Iterator[Problem]:
    document = pack.documents["rules"]
    known = {rule.id: rule for rule in base.rules}
    own = {rule.id for rule in pack.rules if pack.writes(rule)}
    first: dict[str, int] = {}
    for index, entry in enumerate(document.data.get("changes", [])):
        name, path = entry["rule"], ("changes", index, "rule")
        if first.setdefault(name, index) != index:
            advice = f"The first is at {document.place(('changes', first[name], 'rule'))}. Keep one of the two."
            yield document.problem(path, f"a second change of the rule {name}", advice)
        elif name not in known:
            advice = _own_severity(name) if name in own else meant(name, known, f"rules of {base.id}")
            yield document.problem(path, f"{base.name} has no rule {name}", advice)
        elif entry["severity"] == known[name].severity:
            what = f"the rule {name} of {base.name} is {entry['severity']} already"
            advice = f"Leave the change out, or write one of {_others(known[name])}."
            yield document.problem(("changes", index, "severity"), what, advice)


def _own_severity(name: str) -> str:
    return f"It is a rule of this pack: write the severity in the rule {name} itself."


def _others(rule: Rule) -> str:
    return quoted_list([severity for severity in SEVERITIES if severity != rule.severity])
