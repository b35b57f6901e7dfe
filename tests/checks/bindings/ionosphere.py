"""Cases of power_rf.yaml about antennas over ground, adapted to the computations.

Their figures are of the method of moments; the computation takes the current for a sine and reproduces the gains of
upright wires. Those of level wires ask for the impedance too, which a sine does not give closely enough: their gains
are held against the computation in tests/plugins/ionosphere.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.plugins.ionosphere.computations.antennas import upright_dipole_over_ground

CHECK_FILE = "power_rf.yaml"

Inputs = Mapping[str, Any]
Answer = dict[str, Any]


def _nec2_vertical_over_ground(inputs: Inputs) -> Answer:
    ground = inputs["er"], inputs["sigma_s_per_m"]
    found = upright_dipole_over_ground(
        inputs["length_wavelengths"], inputs["lower_end_m"], *ground, inputs["frequency_mhz"]
    )
    return found._asdict()


BINDINGS: dict[str, Callable[[Inputs], Answer]] = {"nec2_vertical_over_ground": _nec2_vertical_over_ground}

IGNORED = {"nec2_vertical_over_ground": {"radius_mm"}}
"""Thin wire: its radius does not matter to the gain."""
