"""What `afield place` is asked: options as figures, refused with the reason where nothing can be made of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from afield.core.api import Engine, QuantityError, UsageError, altered, amount_in, frozen
from afield.plugins.geometry.pacing import paced
from afield.plugins.geometry.placement.candidates import Fix, candidate_patch
from afield.plugins.geometry.placement.search import Search

MOST_HALF_M = 5000.0
"""Beyond this true north turns too much across the window for one plane."""
WITHIN = "500 m"
"""How far is looked to each side, if not said."""
Place = tuple[float, float]
LAT_LON = 'Write latitude and longitude in degrees, for example "39.90412,-117.30288".'


@frozen(slots=False)
class Flags:
    """How what is asked is written: as the command's options, or as settings of the briefing's section.

    Attributes:
        before: before a name, such as "--".
        between: between a name and its value.

    """

    before: str = "--"
    between: str = " "

    def __call__(self, name: str, value: str | None = None) -> str:
        """The name as it is written, with a value where one is given."""
        return f"{self.before}{name}" if value is None else f"{self.before}{name}{self.between}{value}"


PLAIN_FLAGS = Flags()
"""How the options are called on the command line."""


@frozen(slots=False)
class Wanted:
    """What is asked.

    Attributes:
        half_m: half side of the window.
        middle: of the window; None: where the plan stands.
        access: from where one comes, None where that is not told.
        accuracy: of the fix, a 68 % circle; None: as the plan says.
        flags: how it was written.

    """

    half_m: float
    middle: Place | None
    access: Place | None
    accuracy: str | None
    flags: Flags


def wanted(settings: Mapping[str, str], flags: Flags = PLAIN_FLAGS) -> Wanted:
    """What the settings "within", "around", "from" and "accuracy" ask.

    Raises:
        UsageError: one that is no length or no position.

    """
    half_m = half_side_m(settings.get("within", WITHIN), flags)
    middle, access = (place_named(flags(name), settings.get(name)) for name in ("around", "from"))
    return Wanted(half_m, middle, access, settings.get("accuracy"), flags)


def half_side_m(within: str, flags: Flags = PLAIN_FLAGS) -> float:
    """Half side of the window.

    Raises:
        UsageError: no length, none above 0, or too long.

    """
    half = _length("within", within, "500 m", flags)
    if half > MOST_HALF_M:
        what = f"{flags('within', within)}: at most {paced(MOST_HALF_M)} can be searched at once"
        why = "True north turns across a wider window, so that bearings would not hold in all of it"
        raise UsageError(f"{what}\n    = {why}; search around several middles with {flags('around')}.")
    return half


def _length(name: str, text: str, example: str, flags: Flags) -> float:
    try:
        length = amount_in(text, "m")
    except QuantityError as error:
        raise UsageError(f"{flags(name)}: {error.what}\n    = {error.advice}") from error
    if not length > 0:
        advice = f"Write for example {flags(name, repr(example))}."
        raise UsageError(f"{flags(name, text)}: it must be more than 0\n    = {advice}")
    return length


def place_named(flag: str, text: str | None) -> Place | None:
    """Latitude and longitude of a place as a plan would write it, None where it is not given.

    Raises:
        UsageError: it is no position.

    """
    if text is None:
        return None
    from afield.plugins.geometry.positions import PositionError, read_position

    try:
        form = read_position(text, _no_file)
    except PositionError as error:
        raise UsageError(f"{flag}: {error.what}\n    = {LAT_LON}") from error
    return form.lat_deg, form.lon_deg


def _no_file(file: str, layer: str | None) -> Any:
    raise AssertionError(f"a bare text names no file: {file}, {layer}")


def stated_place(trip: Any) -> Place | None:
    """Where the plan puts the station, however well that is known; None where it does not say.

    Raises:
        InputError: what it says is no position.

    """
    at = _at(trip)
    if not at:
        return None
    # Where it is does not depend on how well that is known, but an unstated accuracy would hide it.
    told = trip if "accuracy" in at else altered(trip, {"station": {"at": {"accuracy": "5 m"}}})
    record = told.world.value("trip", "station.position")
    return None if record.value is None else (record.value.lat_deg, record.value.lon_deg)


class Unplaced(UsageError):
    """Neither the plan nor the command says where to look."""

    def __init__(self, flags: Flags) -> None:
        advice = f"Write `station.at` in the plan, or name the middle of the window with {flags('around', 'LAT,LON')}."
        super().__init__(f"cannot tell: position of the station is not stated\n    = {advice}")


def _at(trip: Any) -> Mapping[str, Any]:
    at: Mapping[str, Any] = (trip.document.data.get("station") or {}).get("at") or {}
    return at


def placed(
    trip: Any, engine: Engine, asked: Wanted, tell: Callable[[str], None] = lambda word: None
) -> tuple[dict[str, Any], list[str]]:
    """The answer as JSON, and what failed on the way.

    Args:
        trip: loaded.
        engine: by which candidates are judged.
        asked: where to look, and how well the place will be found.
        tell: called with a word on each turn that is looked at.

    Raises:
        Unplaced: neither the plan nor what is asked says where to look.
        UsageError: nor how well the place will be found; the plan claims nothing.
        InputError: what the plan says of its position is wrong.

    """
    planned = stated_place(trip)
    middle = asked.middle or planned
    if middle is None:
        raise Unplaced(asked.flags)
    return answer(search_for(trip, engine, asked, middle, tell), planned, asked.access)


def search_for(trip: Any, engine: Engine, asked: Wanted, middle: Place, tell: Callable[[str], None]) -> Search:
    """The search, not yet run.

    Raises:
        UsageError: neither the plan nor what is asked says how well the place will be found; the plan claims nothing.

    """
    from afield.plugins.geometry.computations.plane import plane_at

    if not any(subject.kind == "claim" for subject in trip.subjects.values()):
        what = "the plan claims nothing, so any place will do"
        raise UsageError(f"{what}\n    = Name under `claims:` what is to count, with its program and reference.")
    fix = fix_of(_at(trip), asked.accuracy, asked.flags)
    there = altered(trip, candidate_patch(trip.document.data, *middle, 0.0, fix))
    return Search(there, engine, plane_at(*middle), asked.half_m, fix, tell)


def fix_of(at: Mapping[str, Any], accuracy: str | None, flags: Flags = PLAIN_FLAGS) -> Fix:
    """The accuracy as asked, a 68 % circle as phones show it; else that of the plan.

    Raises:
        UsageError: there is none, or it is no length.

    """
    from afield.plugins.geometry.computations.doubt import sigma_m

    if accuracy is not None:
        return Fix(accuracy, "68 %", sigma_m(_length("accuracy", accuracy, "5 m", flags), 68))
    if "accuracy" not in at:
        what = "the plan states no accuracy of its position, so it is not known how well the place will be found"
        raise UsageError(
            f"{what}\n    = Add what your receiver shows (68 %), for example {flags('accuracy', repr('5 m'))}."
        )
    level = at.get("level")
    percent = amount_in(level, "%") if level else 68.0
    return Fix(str(at["accuracy"]), level, sigma_m(amount_in(at["accuracy"], "m"), percent))


def answer(search: Search, plan: Place | None, access: Place | None) -> tuple[dict[str, Any], list[str]]:
    """The answer as JSON, and what failed on the way."""
    from afield.plugins.geometry.placement.solution import solution

    found = solution(search, plan, access)
    worlds = [search.trip.world, *(candidate.judgement.trip.world for candidate in search.candidates)]
    crashes = [crash.text for world in worlds for crash in world.crashes]
    return found, list(dict.fromkeys([*crashes, *search.engine.failures()]))
