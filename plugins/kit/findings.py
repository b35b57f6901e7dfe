"""What is said of a joint: whether it fits, why not, and what it needs."""

from __future__ import annotations

from collections.abc import Iterable

from afield.core.api import frozen

WRONG, UNKNOWN, NOT_COMPARED = "wrong", "unknown", "not compared"


@frozen
class Finding:
    """One thing about a joint.

    Attributes:
        kind: wrong; unknown (a figure that has to be compared is not stated); not compared (a cable's limit that
            nobody states).
        why: what is wrong, or not known.
        needs: the missing piece, or the input that would settle it.

    """

    kind: str
    why: str
    needs: str = ""


@frozen
class Fit:
    """Whether a joint fits.

    Attributes:
        fits: None = cannot be told.
        why, needs: in words; empty where it fits.
        settle: what to state where it cannot be told.
        not_compared: limits that nobody states.

    """

    fits: bool | None
    why: str = ""
    needs: str = ""
    settle: str = ""
    not_compared: tuple[str, ...] = ()


def fit_of(findings: Iterable[Finding]) -> Fit:
    """The findings as one: wrong if one is, else unknown if one is."""
    found = list(findings)
    silent = tuple(finding.why for finding in found if finding.kind == NOT_COMPARED)
    wrong = [finding for finding in found if finding.kind == WRONG]
    if wrong:
        needs = "; ".join(dict.fromkeys(finding.needs for finding in wrong if finding.needs))
        return Fit(False, "; ".join(finding.why for finding in wrong), needs, "", silent)
    unknown = [finding for finding in found if finding.kind == UNKNOWN]
    if unknown:
        return Fit(None, "; ".join(finding.why for finding in unknown), "", unknown[0].needs, silent)
    return Fit(True, not_compared=silent)
