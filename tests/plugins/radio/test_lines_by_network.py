"""Line loss against scikit-rf, which works with waves and matrices and knows none of our closed forms."""

from __future__ import annotations

from math import log10, pi

import numpy as np
import pytest
import skrf
from skrf.media import DefinedGammaZ0, DistributedCircuit

from afield.plugins.radio.computations.lines import NEPER_DB, input_swr_of_lossy_line, line_total_loss

AT_14_MHZ = skrf.Frequency(14, 14, 1, "MHz")
WAVE_M = 20.0
"""Length of a wave on the line."""

REAL_IMPEDANCE_DB = 1e-6
"""Tolerance where the line's impedance is real: both are exact."""

LONG_LINE_DB = 0.01
"""Tolerance for a line whose impedance has an imaginary part, ten waves long."""


def real_line(matched_db: float, waves: float) -> skrf.Network:
    """A line of 50 ohm, without an imaginary part."""
    length_m = waves * WAVE_M
    alpha = matched_db / NEPER_DB / 2 / length_m
    return DefinedGammaZ0(AT_14_MHZ, z0=50, gamma=alpha + 2j * pi / WAVE_M).line(length_m, "m")


def resistive_line(matched_db: float, waves: float) -> skrf.Network:
    """A line that loses in its conductors only, as coaxial cable does at HF."""
    capacitance, inductance = 100e-12, 250e-9
    length_m = waves / (14e6 * (capacitance * inductance) ** 0.5)
    resistance = matched_db / NEPER_DB / length_m * 50
    medium = DistributedCircuit(AT_14_MHZ, z0_port=50, C=capacitance, L=inductance, R=resistance, G=0)
    return medium.line(length_m, "m")


def load(gamma: complex) -> skrf.Network:
    """A load of that reflection at 50 ohm."""
    return skrf.Network(frequency=AT_14_MHZ, s=np.array([[[gamma]]]), z0=50)


def loss_db(line: skrf.Network, gamma: complex) -> float:
    """Power into the line over power into the load, from the waves at both ends of the line."""
    reflected = (line ** load(gamma)).s[0, 0, 0]
    into_load = line.s[0, 1, 0] / (1 - line.s[0, 1, 1] * gamma)
    return float(10 * log10((1 - abs(reflected) ** 2) / (abs(into_load) ** 2 * (1 - abs(gamma) ** 2))))


@pytest.mark.parametrize("matched_db", [0.1, 0.6, 1.0, 3.0, 10.0])
@pytest.mark.parametrize("gamma", [0.0, 0.2, -0.5, 0.3 + 0.4j, 0.9j, 0.98])
@pytest.mark.parametrize("waves", [0.03, 0.25, 3.4])
def test_a_line_of_real_impedance_loses_what_we_say(matched_db: float, gamma: complex, waves: float) -> None:
    swr = (1 + abs(gamma)) / (1 - abs(gamma))
    line = real_line(matched_db, waves)
    assert line_total_loss(matched_db, swr).total_db == pytest.approx(loss_db(line, gamma), abs=REAL_IMPEDANCE_DB)
    assert input_swr_of_lossy_line(matched_db, swr) == pytest.approx((line ** load(gamma)).s_vswr[0, 0, 0])


@pytest.mark.parametrize("matched_db", [0.6, 1.0, 3.0])
@pytest.mark.parametrize("gamma", [0.5, -0.5, 2 / 3])
def test_a_long_line_that_loses_in_its_conductors_is_near(matched_db: float, gamma: float) -> None:
    swr = (1 + abs(gamma)) / (1 - abs(gamma))
    line = resistive_line(matched_db, waves=10)
    assert line_total_loss(matched_db, swr).total_db == pytest.approx(loss_db(line, gamma), abs=LONG_LINE_DB)


def test_a_short_line_can_lose_less_than_when_matched() -> None:
    line = resistive_line(0.05, waves=0.05)
    # 200 ohm: less current for the same power.
    assert loss_db(line, 0.6) < 0.03 < 0.05 < line_total_loss(0.05, 4).total_db
