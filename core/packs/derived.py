"""Subjects that plugins derive from the plan, and the kinds whose subjects could not be had."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from afield.core.documents import Document
from afield.core.facts.measured import Reason
from afield.core.facts.plain_values import print_of
from afield.core.facts.subjects import Subject
from afield.core.host.registry import Registry

HOOK = "afield_subjects"


def derived_subjects(registry: Registry, document: Document, subjects: Mapping[str, Subject]) -> dict[str, Subject]:
    """The subjects that the plugins' hooks give, by key, each with all that is around it.

    A plugin whose subjects do not fit the others counts as failed, and gives none.
    """
    found: dict[str, Subject] = {}
    before = print_of(document.data)
    for plugin, derived in registry.host.results(HOOK, plan=document):
        try:
            _refuse_changed(before, document)
            found |= _fitting(derived, {**subjects, **found}, registry)
        except ValueError as error:
            before = print_of(document.data)
            registry.host.failed(plugin, HOOK, error)
    return found


def _refuse_changed(before: bytes | None, document: Document) -> None:
    if print_of(document.data) != before:
        raise ValueError("it changed the plan that it was given to read")


def _fitting(derived: Iterable[Subject], others: Mapping[str, Subject], registry: Registry) -> dict[str, Subject]:
    found: dict[str, Subject] = {}
    for subject in derived:
        if subject.key in others or subject.key in found:
            raise ValueError(f"it derives the subject {subject.key}, which is there already")
        if subject.kind not in registry.kinds:
            raise ValueError(f"it derives {subject.key} of the kind {subject.kind}, which nothing declares")
        found[subject.key] = enclosed(subject, {**others, **found})
    return found


def enclosed(subject: Subject, others: Mapping[str, Subject]) -> Subject:
    """The subject with the parents of its parents, and with the program that it lies in.

    Raises:
        ValueError: a parent that is not there.

    """
    absent = [key for key in subject.parents.values() if key not in others]
    if absent:
        raise ValueError(f"it derives {subject.key} within {absent[0]}, which is not there")
    around = [others[key] for key in subject.parents.values()]
    parents = {kind: key for other in around for kind, key in other.parents.items()}
    program = next((other.program for other in around if other.program), subject.program)
    return replace(subject, parents={**parents, **subject.parents, "trip": "trip"}, program=program)


def failed_kinds(registry: Registry) -> dict[str, Reason]:
    """Kinds whose plugin failed to say which subjects there are."""
    failed = {failure.plugin: failure for failure in registry.host.failures if failure.hook == HOOK}
    owners = {name.removeprefix("kind:"): owner for name, owner in registry.owners.items() if ":" in name}
    return {
        kind: Reason("plugin failed", failed[owner].text, f"plugin {owner.name}")
        for kind, owner in owners.items()
        if owner in failed
    }
