"""One long path against the shipped example output of the ITU-R reference software for P.533 (version 14.1).

KRANJI to BEIJING, 4,477.003 km, January 1981, 02 UTC, R12 140, 6.2 MHz, 1 kW, isotropic antennas, rural noise. The
software mirrors these hops at the height of the control point with the smallest foF2, 1490 / 3.091 - 176 km, and takes
the absorption at several points of the path; here it is taken in the middle.
"""

from __future__ import annotations

from math import log10, radians, sin

import pytest

from afield.plugins.ionosphere.computations.absorption import hop_absorption
from afield.plugins.ionosphere.computations.hops import hop_elevation, slant_range
from afield.plugins.ionosphere.computations.muf import mirror_height
from afield.plugins.ionosphere.computations.signals import GROUND_DB, NEEDED_DBHZ, signal_margin

PATH_KM, MHZ = 4477.003, 6.2
LOSS_OF_ITS_VERSION_DB = 8.72
HEIGHT_KM = mirror_height(3.091)
MODES = [(2, 9.884, 161.250), (3, 18.454, 177.583), (4, 25.578, 200.157), (5, 31.707, 203.190), (6, 37.018, 201.519)]
"""Hops, elevation in degrees, basic loss in dB."""


def way_km(hops: int) -> float:
    return hops * slant_range(PATH_KM / hops, HEIGHT_KM)


def absorption_db(hops: int) -> float:
    middle = {"lat": 20.824, "month": 1, "zenith_deg": 70.719, "noon_zenith_deg": 20.824 + 21.262, "foE_mhz": 2.953}
    along = 1.168 * sin(radians(26.837))
    return hops * hop_absorption(MHZ, PATH_KM / hops, HEIGHT_KM, **middle, longitudinal_mhz=along, r12=140)


@pytest.mark.parametrize(("hops", "elevation", "loss"), MODES)
def test_elevations(hops: int, elevation: float, loss: float) -> None:
    assert hop_elevation(PATH_KM / hops, HEIGHT_KM) == pytest.approx(elevation, abs=0.01)


def test_the_way_of_six_hops() -> None:
    assert way_km(6) == pytest.approx(5873.171, abs=1)


@pytest.mark.parametrize(("hops", "elevation", "loss"), MODES)
def test_absorption_within_six_parts_in_a_hundred(hops: int, elevation: float, loss: float) -> None:
    spread = 32.45 + 20 * log10(MHZ) + 20 * log10(way_km(hops)) + GROUND_DB * (hops - 1) + LOSS_OF_ITS_VERSION_DB
    assert absorption_db(hops) == pytest.approx(loss - spread, rel=0.06)


def test_signal_over_noise_of_the_dominant_mode() -> None:
    # -3.335 dB in 1 kHz, with lightning 0.2 dB noisier, the loss of that version, and its 0.6 dB for the receiver.
    margin = signal_margin(MHZ, way_km(2), 2, absorption_db(2), 1000.0, "CW", "rural", 0.0)
    assert margin + NEEDED_DBHZ["CW"] - 30 == pytest.approx(-3.335 + 0.2 - 0.42 + 0.6, abs=1.5)
