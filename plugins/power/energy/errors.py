"""What the errors of the figures do to the answers of a battery's balance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from afield.plugins.power.energy.model import HORIZON_H, Answers, Model

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Series = NDArray[Any]


class Result(NamedTuple):
    """Answers with their uncertainty.

    Attributes:
        answers: at the figures' own values.
        parts: answer -> what each origin adds to its uncertainty.
        low, high: the band of the charge, per cent.
        endless: whether the battery does not end within the horizon somewhere in the figures' uncertainty.

    """

    answers: Answers
    parts: Mapping[str, Mapping[str, float]]
    low: Series
    high: Series
    endless: bool


NUMBERS = ("used", "reserve", "left", "lasts", "least_capacity", "longest_on_air")


def evaluate(model: Model) -> Result:
    """The answers, and what the error of each figure does to them.

    Source: JCGM 100:2008, 5.1.3, note 2 (one input changed at a time); the greater of the two changes counts.

    Raises:
        CannotTell: what an item draws is not stated.

    """
    import numpy as np

    value = model.answers({})
    parts: dict[str, dict[str, float]] = {name: {} for name in NUMBERS}
    down, up, endless = np.zeros_like(value.charge), np.zeros_like(value.charge), False
    for origin, figure in model.figures.items():
        if not figure.around:
            continue
        sides = [model.answers({origin: figure.value + sign * figure.around}) for sign in (1, -1)]
        endless = endless or any(side.lasts >= HORIZON_H for side in sides)
        for name in NUMBERS:
            _add(parts[name], origin, value, sides, name)
        changes = np.stack([side.charge - value.charge for side in sides] + [np.zeros_like(value.charge)])
        down, up = np.hypot(down, changes.min(axis=0)), np.hypot(up, changes.max(axis=0))
    return Result(value, parts, value.charge - down, np.minimum(value.charge + up, 100.0), endless)


def _add(parts: dict[str, float], origin: str, value: Answers, sides: Sequence[Answers], name: str) -> None:
    """The greater of the two changes, with the sign of the slope; a side on which there is no end tells no size."""
    above, below = (getattr(side, name) for side in sides)
    ends = name in ("lasts", "longest_on_air")
    sizes = [
        abs(getattr(side, name) - getattr(value, name)) for side in sides if not (ends and side.lasts >= HORIZON_H)
    ]
    size = max((size for size in sizes if size > 0), default=0.0)
    if size:
        parts[origin] = -size if above < below else size
