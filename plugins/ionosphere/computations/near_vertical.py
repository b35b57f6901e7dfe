"""Working frequencies for near-vertical paths."""

from __future__ import annotations

from typing import NamedTuple

from afield.plugins.ionosphere.computations.checked import within

LEAST_SHARE, BEST_SHARE, GREATEST_SHARE = 0.8, 0.85, 0.9


class NearVertical(NamedTuple):
    """Lowest, best and highest frequency to work on a near-vertical path."""

    low_mhz: float
    best_mhz: float
    high_mhz: float


def nvis_frequency(foF2_mhz: float, factor: float = BEST_SHARE) -> float:  # noqa: N803 - the field's symbol
    """Frequency to work on a near-vertical path, in MHz.

    Formula: factor times foF2.
    Source: common practice, no source: 80 to 90 % of the ordinary wave's critical frequency, 85 % if one figure is
    wanted.
    Valid: paths to about 300 km by the F2 layer. The lower, the more the D layer takes by day.

    Args:
        foF2_mhz: critical frequency of the F2 layer overhead, 0.5 to 30.
        factor: the share, 0.5 to 1.

    Raises:
        ValueError: a figure out of range.

    """
    return within(0.5, 1, factor, "factor") * within(0.5, 30, foF2_mhz, "foF2", "MHz")


def near_vertical_band(foF2_mhz: float) -> NearVertical:  # noqa: N803
    """Lowest, best and highest frequency to work on a near-vertical path, in MHz.

    Formula: `nvis_frequency` with 0.8, 0.85 and 0.9. Source and validity: as there.

    Args:
        foF2_mhz: critical frequency of the F2 layer overhead, 0.5 to 30.

    Raises:
        ValueError: a figure out of range.

    """
    return NearVertical(*(nvis_frequency(foF2_mhz, share) for share in (LEAST_SHARE, BEST_SHARE, GREATEST_SHARE)))
