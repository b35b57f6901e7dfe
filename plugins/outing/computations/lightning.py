"""How far away lightning was."""

from __future__ import annotations

from typing import NamedTuple

from afield.plugins.outing.computations.checked import within

SHELTER_S = 30.0
RESUME_AFTER_MIN = 30.0
HEARD_S = 75.0
"""Thunder from farther than 15 miles, 25 km, is not heard."""


class Lightning(NamedTuple):
    """What the time from flash to thunder says.

    `shelter` is true for every thunder that is heard, as the weather service has it today; `within_30_s` is the rule's
    own bound. `resume_after_min` counts from the last flash or thunder.
    """

    distance_mi: float
    distance_km: float
    within_30_s: bool
    shelter: bool
    resume_after_min: float


def lightning_30_30(flash_to_thunder_s: float) -> Lightning:
    """Distance of a flash whose thunder was heard, and what the 30-30 rule makes of it.

    Formula: t / 5 miles, t / 3 km, each its own rule of thumb; shelter at 30 s or less, until 30 min after the last.
    Source: US NOAA, National Severe Storms Laboratory, 30-30 rule; National Weather Service: thunder heard, indoors.
    Valid: 0 to 75 s, as far as thunder carries. More than 30 s is no leave to stay: any thunder means stop.

    Args:
        flash_to_thunder_s: from the flash to its thunder.

    Raises:
        ValueError: negative, or so long that the thunder belongs to another flash.

    """
    if flash_to_thunder_s > HEARD_S:
        late = f"thunder after {flash_to_thunder_s:.12g} s belongs to a later, nearer flash: none carries {HEARD_S:g} s"
        raise ValueError(late)
    time_s = within(0, HEARD_S, flash_to_thunder_s, "flash to thunder", "s")
    return Lightning(time_s / 5, time_s / 3, time_s <= SHELTER_S, True, RESUME_AFTER_MIN)
