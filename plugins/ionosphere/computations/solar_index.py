"""Sunspot number and 10.7 cm solar radio flux, each from the other."""

from __future__ import annotations

from math import sqrt
from typing import Literal

from afield.plugins.ionosphere.computations.checked import within

Model = Literal["IRI", "IPS"]
"""IRI: the formula inside the International Reference Ionosphere; IPS: that of the Australian forecasting service."""

IRI_AT_0, IRI_LINEAR, IRI_SQUARE = 63.75, 0.728, 8.9e-4
IPS_AT_0 = 67.0


def f107_from_sunspot(r: float, model: Model = "IRI") -> float:
    """Solar radio flux at 10.7 cm that goes with a sunspot number, in solar flux units.

    Formula: IRI 63.75 + 0.728 R + 0.00089 R^2; IPS 67.0 + 0.572 R + (0.0575 R)^2 - (0.0209 R)^3.
    Source: IRI: Bilitza and others, Reviews of Geophysics 60 (2022), from ITU-R P.371 (which begins at 63.7); IPS:
    Australian Space Weather Forecasting Centre, page on the 10 cm flux.
    Valid: means over 12 months (R12) or 81 days; R 0 to 250. A single day's flux is no planning figure. The sunspot
    numbers of the scale of 2015 are about 1.4 times those that the maps were made with.

    Args:
        r: sunspot number.
        model: `IRI` or `IPS`.

    Raises:
        ValueError: a figure out of range, or another model.

    """
    number = within(0, 250, r, "sunspot number")
    if _known(model) == "IPS":
        return IPS_AT_0 + 0.572 * number + (0.0575 * number) ** 2 - (0.0209 * number) ** 3
    return IRI_AT_0 + number * (IRI_LINEAR + IRI_SQUARE * number)


def sunspot_from_f107(f107: float, model: Model = "IRI") -> float:
    """Sunspot number that goes with a solar radio flux at 10.7 cm.

    Formula: IRI: the root of its formula in `f107_from_sunspot`; IPS: with d = F - 67,
    1.61 d - (0.0733 d)^2 + (0.0240 d)^3.
    Source: as `f107_from_sunspot`; the IPS inverse is the service's own and agrees with its forward one to about 1.
    Valid: means over 12 months or 81 days; 63.75 (IRI) or 67 (IPS) to 310 solar flux units.

    Args:
        f107: the flux.
        model: `IRI` or `IPS`.

    Raises:
        ValueError: a figure out of range, or another model.

    """
    if _known(model) == "IPS":
        excess = within(IPS_AT_0, 310, f107, "F10.7") - IPS_AT_0
        return 1.61 * excess - (0.0733 * excess) ** 2 + (0.0240 * excess) ** 3
    flux = within(IRI_AT_0, 310, f107, "F10.7")
    return (sqrt(IRI_LINEAR**2 + 4 * IRI_SQUARE * (flux - IRI_AT_0)) - IRI_LINEAR) / (2 * IRI_SQUARE)


def _known(model: str) -> str:
    if model not in ("IRI", "IPS"):
        raise ValueError(f'model "{model}" is not known; known are IRI, IPS')
    return model
