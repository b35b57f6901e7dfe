"""Changes of a limit: its figures, their units, the days on which they change, the absence of a figure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from afield.core.authoring.mutation.date_changes import shifted
from afield.core.authoring.mutation.figures import changed_figures
from afield.core.authoring.mutation.mutants import Mutant, limits_of, reached, with_limit
from afield.core.documents import Path
from afield.core.packs.model import Pack
from afield.core.rules.limits import Limit, Version, printed_figure


def limit_mutants(pack: Pack) -> Iterator[Mutant]:
    """Every change of the limits that the pack writes itself."""
    for name, origin in pack.origins.items():
        if origin.by != pack.name:
            continue
        limit = pack.limits[name]
        rules = reached(pack, [rule.id for rule in pack.rules if name in limits_of(rule)])
        for change, path, versions in _changes(limit):
            place = pack.documents["rules"].place(path)
            yield Mutant("limit", name, change, place, with_limit(pack, Limit(name, versions)), rules)


def _changes(limit: Limit) -> Iterator[tuple[str, Path, tuple[Version, ...]]]:
    for index, version in enumerate(limit.versions):
        before, after = limit.versions[:index], limit.versions[index + 1 :]
        for what, path, changed in _version_changes(version):
            yield what, path, (*before, *changed, *after)
    yield from shifted(limit.versions)


def _version_changes(version: Version) -> Iterator[tuple[str, Path, tuple[Version, ...]]]:
    since = f"from {version.from_}"
    if version.value is None:
        yield f"none {since}: it is dropped", (*version.path, "none"), ()
        return
    for printed, figure, unit in changed_figures(version.value, version.unit):
        words = f"{printed_figure(version.value, version.unit)} {since} becomes {printed}"
        yield words, (*version.path, "value"), (replace(version, value=figure, unit=unit),)
