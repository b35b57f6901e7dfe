"""A place and a turn as a change of the plan, so that the unchanged rules judge it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import cos, radians, sin
from typing import Any

from afield.core.api import amount_in, frozen

OTHER_FORMS = ("utm", "mgrs", "locator", "file", "layer", "point")
Json = dict[str, Any]


@frozen(slots=False)
class Fix:
    """How well the position will be found on the ground.

    Attributes:
        accuracy: radius of its circle, as a plan writes it.
        level: of the circle, as a plan writes it; None where the plan does not say, which is taken as 68 %.
        sigma_m: the same per axis.

    """

    accuracy: str
    level: str | None
    sigma_m: float


@frozen(slots=False)
class Candidate:
    """An operating position and a turn, with what the rules say of it.

    Attributes:
        room_m: by how much the rules are met beyond their limits and all uncertainty; below 0, missed.
        slack_m: how far the position may move, at that turn, before a claim is lost; 0 for a miss.
        judgement: of the plan with the station put there.
        verdicts: its required ones that the place decides.

    """

    east_m: float
    north_m: float
    lat_deg: float
    lon_deg: float
    turn_deg: float
    room_m: float
    slack_m: float
    judgement: Any
    verdicts: Sequence[Any]

    @property
    def verified(self) -> bool:
        """Whether every required verdict on the claims passed or does not apply, and each claim has one that passed."""
        passed = {verdict.subject.key for verdict in self.verdicts if verdict.word == "passed"}
        claims = {key for key, subject in self.judgement.trip.subjects.items() if subject.kind == "claim"}
        return claims <= passed and all(verdict.word in ("passed", "not applicable") for verdict in self.verdicts)


def candidate_patch(plan: Mapping[str, Any], lat_deg: float, lon_deg: float, turn_deg: float, fix: Fix) -> Json:
    """The merge patch (RFC 7396) that puts the station there, its parts turned clockwise.

    Args:
        plan: as written.
        lat_deg, lon_deg: written to 7 places, 1 cm, as text: a number would lose its last noughts, and with them its
            precision.
        turn_deg: clockwise.
        fix: by which the place will be found.

    """
    station = plan.get("station", {})
    at = {"lat": f"{lat_deg:.7f}", "lon": f"{lon_deg:.7f}", "accuracy": fix.accuracy, "level": fix.level}
    parts = [turned_part(part, turn_deg) for part in station.get("parts", ())]
    return {"station": {"at": {**dict.fromkeys(OTHER_FORMS), **at}, **({"parts": parts} if parts else {})}}


def turned_part(part: Mapping[str, Any], turn_deg: float) -> Json:
    """A part as the plan writes it, turned; what has no bearing stays."""
    offsets = {name: turned_offset(part[name], turn_deg) for name in ("at", "from", "to") if name in part}
    radials = {"radials": _turned_bearing(part["radials"], turn_deg)} if "radials" in part else {}
    return {**part, **offsets, **radials}


def turned_offset(offset: Any, turn_deg: float) -> Any:
    """An offset, as east and north or as bearing and distance, turned clockwise."""
    if not isinstance(offset, list):
        return _turned_bearing(offset, turn_deg)
    east, north = (amount_in(text, "m") for text in offset)
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
    return [f"{east * c + north * s:.3f} m", f"{north * c - east * s:.3f} m"]


def _turned_bearing(written: Mapping[str, Any], turn_deg: float) -> Json:
    if "bearing" not in written:
        return dict(written)
    return {**written, "bearing": f"{(amount_in(written['bearing'], 'deg') + turn_deg) % 360:.2f} deg"}
