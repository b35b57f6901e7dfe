"""The highest frequency that a hop carries, from what an ionosonde would show."""

from __future__ import annotations

from math import cos, radians, sin

from afield.plugins.ionosphere.computations.checked import within
from afield.plugins.ionosphere.computations.hops import hop_elevation, incidence

LONGEST_HOP_KM = 4000.0
E_LAYER_KM = 110.0
LONGEST_E_HOP_KM = 2000.0


def muf_from_m3000(
    foF2_mhz: float,  # noqa: N803 - the field's symbols
    m3000: float,
    foE_mhz: float,  # noqa: N803
    fH_mhz: float,  # noqa: N803
    hop_km: float,
    dmax_km: float | None = None,
) -> float:
    """Basic maximum usable frequency of one hop by the F2 layer, in MHz.

    Formula: (1 + (C_D / C_3000) (B - 1)) foF2 + (fH / 2) (1 - D / dmax), with
    B = M - 0.124 + (M^2 - 4) (0.0215 + 0.005 sin(7.854 / x - 1.9635)), x = foF2 / foE, at least 2;
    C_D = 0.74 - 0.591 Z - 0.424 Z^2 - 0.090 Z^3 + 0.088 Z^4 + 0.181 Z^5 + 0.096 Z^6, Z = 1 - 2 D / dmax.
    Source: ITU-R P.533-14, section 3.5.1.1, equations (3) to (6); the same in ITU-R P.1240, section 3.1.
    Valid: hops of 0 to dmax; a monthly median: on half of the days the limit is lower. At no distance it is that of the
    extraordinary wave, foF2 + fH / 2; the ordinary one ends at foF2.

    Args:
        foF2_mhz: critical frequency of the F2 layer at mid-path, 0.5 to 30.
        m3000: M(3000)F2 there, 1.5 to 5.
        foE_mhz: critical frequency of the E layer there, 0 to 8.
        fH_mhz: gyrofrequency there at 300 km, 0 to 2.
        hop_km: length of the hop.
        dmax_km: the longest hop, to 4,000; left out, `longest_hop`.

    Raises:
        ValueError: a figure out of range, or a hop beyond the longest.

    """
    b = _b(foF2_mhz, m3000, foE_mhz)
    longest = longest_hop(foF2_mhz, m3000, foE_mhz) if dmax_km is None else within(3000, 4000, dmax_km, "dmax", "km")
    hop = within(0, LONGEST_HOP_KM, hop_km, "hop", "km")
    if hop > longest:
        raise ValueError(f"hop {hop:g} km is beyond the longest of {longest:.0f} km; divide the path into more hops")
    factor = 1 + _shape(hop, longest) / _shape(3000, longest) * (b - 1)
    return factor * float(foF2_mhz) + within(0, 2, fH_mhz, "fH", "MHz") / 2 * (1 - hop / longest)


def longest_hop(foF2_mhz: float, m3000: float, foE_mhz: float) -> float:  # noqa: N803
    """Length of the longest hop by the F2 layer, in km, 4,000 at most.

    Formula: 4780 + (12610 + 2140 / x^2 - 49720 / x^4 + 688900 / x^6) (1 / B - 0.303); B and x as in `muf_from_m3000`.
    Source: ITU-R P.533-14, section 3.5.1.1, equation (5).
    Valid: as `muf_from_m3000`; at least 3,000 km, which M(3000)F2 itself is about.

    Args:
        foF2_mhz: critical frequency of the F2 layer at mid-path.
        m3000: M(3000)F2 there.
        foE_mhz: critical frequency of the E layer there.

    Raises:
        ValueError: a figure out of range.

    """
    b, x = _b(foF2_mhz, m3000, foE_mhz), _ratio(foF2_mhz, foE_mhz)
    length = 4780 + (12610 + 2140 / x**2 - 49720 / x**4 + 688900 / x**6) * (1 / b - 0.303)
    return min(max(length, 3000.0), LONGEST_HOP_KM)


def mirror_height(m3000: float) -> float:
    """Height of the mirror that stands for the F2 layer, in km.

    Formula: 1490 / M - 176, at most 500.
    Source: ITU-R P.533-14, section 3.5.1, from ITU-R P.1239.
    Valid: M(3000)F2 of 1.5 to 5.

    Args:
        m3000: M(3000)F2 at mid-path.

    Raises:
        ValueError: a figure out of range.

    """
    return min(1490 / _m(m3000) - 176, 500.0)


def e_layer_muf(foE_mhz: float, hop_km: float) -> float:  # noqa: N803
    """Basic maximum usable frequency of one hop by the E layer, in MHz.

    Formula: foE sec i110, i110 the incidence of a hop mirrored at 110 km.
    Source: ITU-R P.533-14, section 3.3.
    Valid: hops of 0 to 2,000 km; sporadic E is not in it.

    Args:
        foE_mhz: critical frequency of the E layer at mid-path, 0 to 8.
        hop_km: length of the hop.

    Raises:
        ValueError: a figure out of range.

    """
    hop = within(0, LONGEST_E_HOP_KM, hop_km, "hop", "km")
    return _secant_at_e(hop_elevation(hop, E_LAYER_KM)) * within(0, 8, foE_mhz, "foE", "MHz")


def e_layer_screening(foE_mhz: float, hop_km: float, height_km: float) -> float:  # noqa: N803
    """Frequency below which the E layer keeps a ray from the F2 layer, in MHz.

    Formula: 1.05 foE sec i, i the incidence at 110 km of a hop that is mirrored at the F2 layer.
    Source: ITU-R P.533-14, section 4, equation (11).
    Valid: hops to 4,000 km.

    Args:
        foE_mhz: critical frequency of the E layer at mid-path, 0 to 8.
        hop_km: length of the hop.
        height_km: height of the F2 layer's mirror.

    Raises:
        ValueError: a figure out of range, or a mirror below the horizon.

    """
    return 1.05 * within(0, 8, foE_mhz, "foE", "MHz") * _secant_at_e(hop_elevation(hop_km, height_km))


def _b(foF2_mhz: float, m3000: float, foE_mhz: float) -> float:  # noqa: N803
    m = _m(m3000)
    return m - 0.124 + (m * m - 4) * (0.0215 + 0.005 * sin(7.854 / _ratio(foF2_mhz, foE_mhz) - 1.9635))


def _ratio(foF2_mhz: float, foE_mhz: float) -> float:  # noqa: N803
    f2, e = within(0.5, 30, foF2_mhz, "foF2", "MHz"), within(0, 8, foE_mhz, "foE", "MHz")
    # Without an E layer the method's software takes 2, not infinity.
    return max(f2 / e, 2.0) if e else 2.0


def _shape(hop: float, longest: float) -> float:
    z = 1 - 2 * hop / longest
    return 0.74 + z * (-0.591 + z * (-0.424 + z * (-0.090 + z * (0.088 + z * (0.181 + z * 0.096)))))


def _m(m3000: float) -> float:
    return within(1.5, 5, m3000, "M(3000)F2")


def _secant_at_e(elevation_deg: float) -> float:
    return 1 / cos(radians(incidence(elevation_deg, E_LAYER_KM)))
