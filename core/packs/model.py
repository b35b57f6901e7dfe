"""A rule pack as read: its rules, limits, references and program facts, each with where it was written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from afield.core.documents import Document, Place
from afield.core.frozen import frozen
from afield.core.language import marked
from afield.core.packs.origins import Change, LimitOrigin, PackName
from afield.core.rules.conditions import Condition
from afield.core.rules.limits import Limit, Source

if TYPE_CHECKING:
    from afield.core.packs.outlines import RuleElsewhere
    from afield.core.packs.waivers import Waiver

SEVERITIES = (marked("required"), marked("advised"), marked("note"))
STAGES = (
    marked("home"), marked("pack"), marked("travel"), marked("arrive"), marked("set up"), marked("operate"),
    marked("leave"),
)  # fmt: skip
TEXTS = ("if_failed", "if_cannot_tell", "if_passed")


@frozen
class Rule:
    """One rule, or one checklist item (`confirm` in place of `require`).

    Attributes:
        key: "pack/rule", the name that verdicts, cases and `why` use; the pack is the one that judges.
        require: the condition, None for a checklist item.
        from_, until: when the rule itself is in force (inclusive, exclusive).
        texts: if_failed, if_cannot_tell, if_passed as written.
        by: the pack that writes it, which may be one that the judging pack extends.
        change: of its severity, by a pack that extends that one.

    """

    key: str
    id: str
    pack: str
    title: str
    why: str
    severity: str
    for_each: str
    place: Place
    require: Condition | None = None
    where: Condition | None = None
    confirm: str | None = None
    when: str | None = None
    evidence: str | None = None
    assumes: tuple[str, ...] = ()
    decision: str = "guarded"
    from_: date | None = None
    until: date | None = None
    source: Source | None = None
    texts: Mapping[str, str] = field(default_factory=dict)
    path: tuple[str | int, ...] = ()
    by: PackName | None = None
    change: Change | None = None


@frozen
class DatedFact:
    """One version of a program fact: a plain value, or the limit whose value it takes.

    Attributes:
        path: of the version in pack.yaml.
        value_path: of its value, or of the limit's name.

    """

    value: Any
    limit: str | None
    from_: date | None
    until: date | None
    path: tuple[str | int, ...]
    value_path: tuple[str | int, ...]


@frozen
class Reference:
    """One place of the program, as dated entry of its references file."""

    id: str
    title: str
    from_: date | None
    until: date | None
    path: tuple[str | int, ...]


@frozen
class Pack:
    """A rule pack.

    Attributes:
        id: also the program's name in a plan's claims.
        judges: "program" or "trip".
        date_basis: "utc" or "local".
        review_days: limits last checked longer ago than this are warned of.
        documents: what was read of its own folder, by role ("pack", "rules", "references").
        absent: those of `needs` that are not installed, or that failed to declare what they have.
        references: None where the pack keeps no list.
        sha256: over all its files, in the order of their names.
        rules, limits, facts, references: those of the packs that it extends included, as far as it keeps them.
        origins: whose each limit is, by its name.
        base: the pack that it extends.
        waivers: of rules of the packs that it extends.
        elsewhere: rules of other packs, as "pack/rule", whose verdicts its rules may ask for.

    """

    id: str
    version: str
    title: str
    publisher: str
    licence: str
    judges: str
    date_basis: str
    review_days: float
    folder: Path
    shown: str
    sha256: str
    documents: Mapping[str, Document]
    notice: str = ""
    needs: tuple[str, ...] = ()
    absent: tuple[str, ...] = ()
    sources: tuple[Mapping[str, Any], ...] = ()
    rules: tuple[Rule, ...] = ()
    limits: Mapping[str, Limit] = field(default_factory=dict)
    facts: Mapping[str, tuple[DatedFact, ...]] = field(default_factory=dict)
    references: tuple[Reference, ...] | None = None
    origins: Mapping[str, LimitOrigin] = field(default_factory=dict)
    base: Pack | None = None
    waivers: tuple[Waiver, ...] = ()
    elsewhere: Mapping[str, RuleElsewhere] = field(default_factory=dict)

    @property
    def name(self) -> PackName:
        """The pack with its version."""
        return PackName(self.id, self.version)

    def lineage(self) -> Iterator[Pack]:
        """The pack, the one that it extends, the one that this extends, and so on."""
        yield self
        if self.base is not None:
            yield from self.base.lineage()

    def writer(self, by: PackName | None) -> Pack:
        """The pack of the lineage that goes by the name; this one where none does."""
        return next((pack for pack in self.lineage() if pack.name == by), self)

    def writes(self, rule: Rule) -> bool:
        """Whether the rule stands in the pack's own file."""
        return rule.by == self.name

    def fact_writer(self, name: str) -> Pack:
        """The pack of the lineage whose word on a program fact holds."""
        return next((pack for pack in self.lineage() if name in pack.documents["pack"].data.get("facts", {})), self)

    def references_writer(self) -> Pack:
        """The pack of the lineage whose list of references holds."""
        return next((pack for pack in self.lineage() if "references" in pack.documents), self)
