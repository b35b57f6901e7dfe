"""The low angles of an antenna over ground, on the planned frequencies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from afield.core.api import CannotTell, _, frozen, marked, quoted_list
from afield.plugins.ionosphere.computations.bands import BANDS
from afield.plugins.ionosphere.ground_facts import LOW_DEG

TIMES = 3.0
"""How far real ground may be off its table, upwards and downwards (ITU-R P.527-3, as an order of size)."""

Constants = tuple[float, float]


@frozen
class Antenna:
    """An antenna as the plan places it; its top, or the level wire, at a height in metres."""

    height_m: float
    upright: bool

    @property
    def wave(self) -> str:
        """The polarisation."""
        return marked("vertical") if self.upright else marked("horizontal")

    @property
    def middle_m(self) -> float:
        """Height of its middle: half way up where it stands on the ground."""
        return self.height_m / 2 if self.upright else self.height_m


class Gain(NamedTuple):
    """The ground's gain on one frequency, dB, and how far its constants may put it off."""

    mhz: float
    gain_db: float
    around_db: float


def planned_mhz(slots: Sequence[Mapping[str, Any]], band: str | None, mhz: float | None) -> list[float]:
    """The planned frequencies; of a band its middle.

    Raises:
        CannotTell: none is planned, or a band is not one of the short-wave ones.

    """
    stated = [(slot["band"], slot["frequency_mhz"]) for slot in slots]
    own = [(band, mhz) if pair == (None, None) else pair for pair in stated] or [(band, mhz)]
    found = [frequency if frequency is not None else _middle(name) for name, frequency in own]
    return list(dict.fromkeys(found))


def _middle(written: str | None) -> float:
    if written is None:
        raise CannotTell(_("no band and no frequency is planned"), "schedule.band", "not stated", "trip")
    name = "".join(written.split()).lower()
    middles = {band.name.replace(" ", ""): band.centre_mhz for band in BANDS}
    if name not in middles:
        text = _("the band {band} is not one of {known}").format(band=written, known=quoted_list(middles))
        raise CannotTell(text, "schedule.frequency", "cannot be computed", "trip")
    return middles[name]


def gain_at(antenna: Antenna, mhz: float, constants: Constants) -> float:
    """What the ground adds at the low angle, dB over free space.

    Raises:
        CannotTell: a frequency or height for which the ground is not computed.

    """
    from afield.plugins.ionosphere.computations.ground import ground_gain

    try:
        return ground_gain(*constants, mhz, LOW_DEG, antenna.middle_m, "vertical" if antenna.upright else "horizontal")
    except ValueError as error:
        raise CannotTell(str(error), "schedule.frequency", "outside validity", "trip") from error


def weakest(antenna: Antenna, frequencies: Sequence[float], constants: Constants) -> Gain:
    """The planned frequency with the least gain."""
    permittivity, conductivity = constants
    grounds = [(er, sigma) for er in _around(permittivity, 1.0, 100.0) for sigma in _around(conductivity, 0.0, 1e8)]
    rows = []
    for mhz in frequencies:
        gain = gain_at(antenna, mhz, constants)
        rows.append(Gain(mhz, gain, max(abs(gain_at(antenna, mhz, ground) - gain) for ground in grounds)))
    return min(rows, key=lambda row: row.gain_db)


def _around(value: float, least: float, most: float) -> tuple[float, float]:
    return max(least, value / TIMES), min(most, value * TIMES)
