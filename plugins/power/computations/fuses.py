"""Fuses: the most that a thin wire may have and the least that a lasting load needs."""

from __future__ import annotations

from afield.plugins.power.computations.amounts import not_negative
from afield.plugins.power.computations.wire_sizes import checked_gauge, gauge_name

SMALL_CONDUCTOR_FUSES_A = {18: 7.0, 16: 10.0, 14: 15.0, 12: 20.0, 10: 30.0}
"""Gauge of a copper wire -> its greatest fuse."""

AMPACITIES_60C_A = {
    8: 40.0, 6: 55.0, 4: 70.0, 3: 85.0, 2: 95.0, 1: 110.0, 0: 125.0, -1: 145.0, -2: 165.0, -3: 195.0,
}  # fmt: skip
"""Gauge of a copper wire with insulation for 60 °C -> the current that it may carry."""


def small_conductor_max_fuse(awg: int, material: str = "copper") -> float:
    """The greatest fuse of a thin copper wire, in ampere.

    Formula: by table: 7 A for 18 AWG, 10 A for 16, 15 A for 14, 20 A for 12, 30 A for 10.
    Source: NFPA 70 (NEC), 240.4(D) (read in public copies).
    Valid: copper, 18 to 10 AWG in even gauges. A ceiling for the fuse, not the current that the wire may carry: 10 AWG
    with insulation for 75 °C may carry 35 A and is fused at 30 A.

    Args:
        awg: gauge.
        material: copper; aluminium has lower limits of its own.

    Raises:
        ValueError: the table has no such wire.

    """
    if material != "copper":
        raise ValueError(f'the fuses of wires of "{material}" are not known; known are those of copper')
    if checked_gauge(awg) not in SMALL_CONDUCTOR_FUSES_A:
        raise ValueError(f"NEC 240.4(D) has no fuse for {gauge_name(awg)}; it has 18, 16, 14, 12 and 10 AWG")
    return SMALL_CONDUCTOR_FUSES_A[awg]


def fuse_for_continuous_load(continuous_a: float, other_a: float = 0.0) -> float:
    """The least rating of a fuse that carries a load for three hours or more, in ampere.

    Formula: 1.25 x continuous load + other load.
    Source: NFPA 70 (NEC), 210.20(A) and 215.3.
    Valid: fuses and breakers not rated for 100 % continuous load. Next come the ratings that are sold, and the wire's
    own ceiling from above.

    Args:
        continuous_a: current that lasts three hours or more.
        other_a: current that does not.

    Raises:
        ValueError: a current is negative.

    """
    return 1.25 * not_negative(continuous_a, "continuous load", "A") + not_negative(other_a, "other load", "A")


def copper_ampacity_60c(awg: int) -> float:
    """The current that a thick copper wire with insulation for 60 °C may carry, in ampere.

    Formula: by table: 40 A for 8 AWG, 55 for 6, 70 for 4, 85 for 3, 95 for 2, 110 for 1, 125, 145, 165 and 195 for 1/0
    to 4/0.
    Source: NFPA 70 (NEC), table 310.16, copper, column of 60 °C (read in public copies that agree).
    Valid: 8 to 4/0 AWG in air of 30 °C or less, no more than three current-carrying wires together; thinner wires are
    fused by `small_conductor_max_fuse`. Insulation for more than 60 °C may carry more.

    Args:
        awg: gauge; 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0.

    Raises:
        ValueError: the table's part that is kept here has no such wire.

    """
    if checked_gauge(awg) not in AMPACITIES_60C_A:
        raise ValueError(f"no ampacity of {gauge_name(awg)} is kept; there are 8, 6, 4, 3, 2, 1 and 1/0 to 4/0 AWG")
    return AMPACITIES_60C_A[awg]
