"""The whole way against scikit-rf: adapters, line and antenna as networks of waves, with and without a tuner."""

from __future__ import annotations

from math import log10, pi, sqrt

import numpy as np
import pytest
import skrf
from skrf.media import DefinedGammaZ0

from afield.plugins.radio.computations.lines import NEPER_DB
from afield.plugins.radio.computations.paths import feed_path_loss

AT_14_MHZ = skrf.Frequency(14, 14, 1, "MHz")
WAVE_M = 20.0


def line(matched_db: float, waves: float) -> skrf.Network:
    """A line of 50 ohm."""
    length_m = waves * WAVE_M
    alpha = matched_db / NEPER_DB / 2 / length_m
    return DefinedGammaZ0(AT_14_MHZ, z0=50, gamma=alpha + 2j * pi / WAVE_M).line(length_m, "m")


def pad(loss_db: float) -> skrf.Network:
    """An adapter or a meter: matched, with a loss."""
    through = 10 ** (-loss_db / 20)
    return skrf.Network(frequency=AT_14_MHZ, s=np.array([[[0, through], [through, 0]]]), z0=50)


def load(gamma: complex) -> skrf.Network:
    return skrf.Network(frequency=AT_14_MHZ, s=np.array([[[gamma]]]), z0=50)


def tuner_for(gamma: complex) -> skrf.Network:
    """A tuner without loss that turns the impedance of a reflection into 50 ohm."""
    through = sqrt(1 - abs(gamma) ** 2)
    s = np.array([[[-gamma, through], [through, np.conj(gamma)]]])
    return skrf.Network(frequency=AT_14_MHZ, s=s, z0=50)


def reflection(network: skrf.Network) -> complex:
    return complex(network.s[0, 0, 0])


def delivered_db(path: skrf.Network, gamma: complex) -> float:
    """Forward power of a source of 50 ohm over power into the load."""
    wave = path.s[0, 1, 0] / (1 - path.s[0, 1, 1] * gamma)
    return float(-10 * log10(abs(wave) ** 2 * (1 - abs(gamma) ** 2)))


GAMMAS = [0.0, 0.2, -0.33, 0.3 + 0.4j, 0.8j]


@pytest.mark.parametrize("gamma", GAMMAS)
@pytest.mark.parametrize("waves", [0.05, 0.25, 1.37])
def test_adapter_line_and_adapter_without_a_tuner(gamma: complex, waves: float) -> None:
    swr = (1 + abs(gamma)) / (1 - abs(gamma))
    network = pad(0.05) ** line(0.9, waves) ** pad(0.2)
    path = feed_path_loss(0.9 + 0.05 + 0.2, swr)
    assert path.total_db == pytest.approx(delivered_db(network, gamma), abs=1e-9)
    assert path.swr_at_source == pytest.approx((network ** load(gamma)).s_vswr[0, 0, 0])


@pytest.mark.parametrize("gamma", GAMMAS)
@pytest.mark.parametrize("waves", [0.05, 0.25, 1.37])
def test_a_tuner_between_two_lines(gamma: complex, waves: float) -> None:
    swr = (1 + abs(gamma)) / (1 - abs(gamma))
    beyond = line(0.9, waves) ** pad(0.05)
    tuner = pad(0.4) ** tuner_for(reflection(beyond ** load(gamma)))
    network = line(0.3, 0.4) ** tuner**beyond
    assert abs(reflection(network ** load(gamma))) == pytest.approx(0, abs=1e-9)
    path = feed_path_loss(0.95, swr, 0.3, 0.4)
    assert path.total_db == pytest.approx(delivered_db(network, gamma), abs=1e-9)


@pytest.mark.parametrize("ratio", [1.5, 2.0, 4.0])
def test_a_load_of_more_and_one_of_less_than_the_line_are_alike(ratio: float) -> None:
    above = (ratio - 1) / (ratio + 1)
    high, low = (delivered_db(line(0.9, 0.6), gamma) for gamma in (above, -above))
    assert high == pytest.approx(low)
    assert feed_path_loss(0.9, ratio).total_db == pytest.approx(high)
