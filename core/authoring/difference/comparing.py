"""Two versions of a pack compared, and what that demands of the newer one's version."""

from __future__ import annotations

from afield.core.authoring.difference.replaying import Versions
from afield.core.authoring.difference.rules import Progress, RuleDifference, demanded_by, rule_differences
from afield.core.authoring.difference.surroundings import PackChange, pack_changes
from afield.core.authoring.difference.versions import fits, greatest, least_version, written_bump
from afield.core.frozen import frozen
from afield.core.host.registry import Registry
from afield.core.packs.cases import Case, read_cases
from afield.core.packs.model import Pack


@frozen(slots=False)
class Difference:
    """What changed from one version of a pack to another.

    Attributes:
        old, new: the versions.
        rules: of every rule, also those that are as they were.
        changes: outside of the rules.

    """

    old: Pack
    new: Pack
    rules: tuple[RuleDifference, ...]
    changes: tuple[PackChange, ...]

    @property
    def demanded(self) -> str:
        """none, patch, minor or major."""
        return greatest([demanded_by(list(self.rules)), *(change.demands for change in self.changes)])

    @property
    def written(self) -> str | None:
        """What the newer version says; None where it goes back."""
        return written_bump(self.old.version, self.new.version)

    @property
    def fits(self) -> bool:
        """Whether the newer version says at least what is demanded."""
        return fits(self.written, self.demanded)

    @property
    def least(self) -> str:
        """The lowest version that fits."""
        return least_version(self.old.version, self.demanded)

    @property
    def is_looser_unclaimed(self) -> bool:
        """Whether a required rule became looser, or is gone, and the version does not say so."""
        return any(rule.is_looser for rule in self.rules) and self.written != "major"


def difference_of(old: Pack, new: Pack, registry: Registry, progress: Progress = lambda done, of: None) -> Difference:
    """The difference of two versions of one pack.

    Raises:
        InputError: cases of either that cannot be read or run.

    """
    versions = Versions(old, new, _runnable_cases(old, registry), _runnable_cases(new, registry), registry)
    rules = rule_differences(versions, progress)
    return Difference(old, new, tuple(rules), tuple(pack_changes(old, new)))


def _runnable_cases(pack: Pack, registry: Registry) -> list[Case]:
    """The pack's cases, each run once under its own version: one that cannot be run is not passed over."""
    cases = read_cases(pack, registry)
    for case in cases:
        case.result()
    return cases
