"""Turns of the station as arcs of a circle, with what was found in each."""

from __future__ import annotations

from afield.core.api import frozen

FITS, FITS_NOT, UNDECIDED = "fits", "does not fit", "cannot tell"


@frozen(slots=False)
class Arc:
    """Turns of the station between two, degrees clockwise from the plan, and what was found.

    Attributes:
        middle_deg, width_deg: of the arc.
        found: FITS: all claims count somewhere at its middle; FITS_NOT: at no turn in it; UNDECIDED: neither.

    """

    middle_deg: float
    width_deg: float
    found: str


@frozen(slots=False)
class Turns:
    """All turns, as arcs that follow each other."""

    arcs: tuple[Arc, ...]

    @property
    def fitting(self) -> tuple[float, ...]:
        """At which all claims count somewhere."""
        return self._middles(FITS)

    @property
    def undecided(self) -> tuple[float, ...]:
        """Turns near which nothing was found, nor ruled out."""
        return self._middles(UNDECIDED)

    def _middles(self, found: str) -> tuple[float, ...]:
        return tuple(sorted(arc.middle_deg for arc in self.arcs if arc.found == found))
