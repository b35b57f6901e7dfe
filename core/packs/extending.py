"""A pack that extends another: it takes over its rules, and writes limits and severities of its own in their place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from afield.core.documents import Document, InputError, Problem
from afield.core.packs.finding import NoSuchPack, base_folder
from afield.core.packs.model import Pack, Rule
from afield.core.packs.origins import Change, LimitOrigin

if TYPE_CHECKING:
    from afield.core.packs.waivers import Waiver

Trail = tuple[Path, ...]
"""Folders of the packs that wait for the one that they extend, the first one first."""

MOST_EXTENDED = 8
"""Packs that may extend each other in a row."""


def base_of(document: Document, folder: Path, trail: Trail, load: Callable[[Path, Trail], Pack]) -> Pack | None:
    """The pack that a pack extends; None where it extends none.

    Args:
        document: its pack.yaml.
        folder: where that lies.
        trail: packs that wait for this one.
        load: reads the pack in a folder, with the trail to it.

    Raises:
        InputError: there is no such pack, something in it is wrong, the packs extend each other in a circle, or the
            two judge otherwise.

    """
    if "extends" not in document.data:
        return None
    waiting = (*trail, folder.resolve())
    found = _folder_of(document, waiting[-1])
    _refuse_round(document, found.resolve(), waiting)
    base = load(found, waiting)
    problems = list(_disagreements(document, base))
    if problems:
        raise InputError(problems)
    return base


def _folder_of(document: Document, folder: Path) -> Path:
    try:
        return base_folder(document.data["extends"], folder)
    except NoSuchPack as error:
        raise InputError([document.problem(("extends",), error.what, error.advice)]) from error


def _refuse_round(document: Document, found: Path, waiting: Trail) -> None:
    names = [place.name for place in waiting]
    if found in waiting:
        told = " extends ".join([*names[waiting.index(found) :], found.name])
        what, advice = f"the packs extend each other in a circle: {told}", "One of them must not extend the next."
    elif found.name in names:
        what = f"the pack {found.name} extends another pack {found.name}"
        advice = "Give the pack and its folder a name of their own: its verdicts go by it."
    elif len(waiting) > MOST_EXTENDED:
        what = f"more than {MOST_EXTENDED} packs extend each other"
        advice = "Extend a pack that is nearer to the first one."
    else:
        return
    raise InputError([document.problem(("extends",), what, advice)])


def _disagreements(document: Document, base: Pack) -> Iterator[Problem]:
    for key, due in (("judges", base.judges), ("date_basis", base.date_basis)):
        if document.data[key] != due:
            what = f"`{key}` is {document.data[key]} here, but {due} in {base.name}, which the pack extends"
            yield document.problem((key,), what, f"Write `{key}: {due}`, or extend another pack.")


def extended(pack: Pack, base: Pack) -> Pack:
    """The pack with what it takes over from its base.

    Args:
        pack: as written, its limits those of the base where it has none of that name.
        base: the pack that it extends, with all that this one takes over in turn.

    """
    return replace(
        pack,
        base=base,
        rules=(*_inherited_rules(pack, base), *pack.rules),
        origins={**base.origins, **_own_origins(pack, base)},
        facts={**base.facts, **pack.facts},
        references=base.references if pack.references is None else pack.references,
        sources=(*pack.sources, *(source for source in base.sources if source not in pack.sources)),
        notice=" ".join(dict.fromkeys(notice for notice in (pack.notice, base.notice) if notice)),
        waivers=_waivers(pack, base),
        elsewhere={**base.elsewhere, **pack.elsewhere},
    )


def _waivers(pack: Pack, base: Pack) -> tuple[Waiver, ...]:
    if not base.waivers and "waivers" not in pack.documents["rules"].data:
        return ()
    from afield.core.packs.waiver_reading import pack_waivers

    return pack_waivers(pack, base)


def _own_origins(pack: Pack, base: Pack) -> dict[str, LimitOrigin]:
    return {
        name: replace(origin, replaces=base.limits.get(name), replaced=base.origins.get(name))
        for name, origin in pack.origins.items()
    }


def _inherited_rules(pack: Pack, base: Pack) -> Iterator[Rule]:
    document = pack.documents["rules"]
    indexes = {entry["rule"]: index for index, entry in enumerate(document.data.get("changes", []))}
    for rule in base.rules:
        mine = replace(rule, key=f"{pack.id}/{rule.id}", pack=pack.id)
        yield _changed(mine, pack, indexes[rule.id]) if rule.id in indexes else mine


def _changed(rule: Rule, pack: Pack, index: int) -> Rule:
    document = pack.documents["rules"]
    entry = document.data["changes"][index]
    set_by = rule.change.by if rule.change else rule.by
    assert set_by is not None
    place = document.place(("changes", index))
    change = Change(entry["severity"], entry["reason"], pack.name, place, rule.severity, set_by)
    return replace(rule, severity=change.severity, change=change)
