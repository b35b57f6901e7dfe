"""What an amplifier's output stage must bear: the planned bands, and the average power."""

from __future__ import annotations

from collections.abc import Iterable

from afield.core.api import CannotTell, Estimate, _, local_digits, marked
from afield.plugins.radio.computations.exposure import mode_duty_factor, time_averaged_power
from afield.plugins.radio.driving import stated_limit
from afield.plugins.radio.figures import Draw, Figure, spread
from afield.plugins.radio.planned import SHARE_AROUND, Planned
from afield.plugins.radio.powers import stages
from afield.plugins.radio.things import Thing
from afield.plugins.radio.walks import Walk

VOICE = ("conversational SSB, no speech processing", "conversational SSB, heavy speech processing")
NAMED = {"CW": "conversational CW", "FM": "voice FM", "NFM": "voice FM", "RTTY": "FSK", "FSK": "FSK", "AFSK": "AFSK"}
SOURCE = "FCC OET Bulletin 65, Supplement B, edition 97-01, Table 2"
KEYED = marked("A mode that the table of duty factors does not name is taken at its full power while keyed.")
SPEECH = marked("SSB is taken from 20 % without speech processing to 50 % with heavy processing.")
EVEN = marked("The planned share of transmitting is taken to hold within every averaging time.")
NO_FILTERS = marked("the list of bands with a filter of {name} is not stated")
NO_RATING = marked("the average rating of {name} is not stated (the average output at which it cuts out)")
METHOD = marked("output times duty factor ({source}) times share of transmitting")


def filters_cover(amplifier: Thing, uses: Iterable[Planned]) -> Estimate:
    """Whether there is an output filter for every planned band.

    Raises:
        CannotTell: the filters are not stated, or no band is planned.

    """
    written = amplifier.of("amplifier").get("filters")
    if written is None:
        raise amplifier.lacking(NO_FILTERS, "amplifier.filters")
    having = [str(band) for band in written]
    planned = list(dict.fromkeys(use.known_band() for use in uses))
    lacks = [band for band in planned if band not in having]
    detail = {"lacks": ", ".join(lacks), "filters": ", ".join(having), "planned": ", ".join(planned)}
    return Estimate(not lacks, detail=detail, method=_("planned bands against the stated filters"))


def duty_of(mode: str) -> tuple[Figure, str | None]:
    """Average over peak power while the mode is transmitted, and what is taken for granted."""
    name = mode.strip().upper()
    if name in ("SSB", "USB", "LSB"):
        low, high = (mode_duty_factor(row) for row in VOICE)
        return Figure((low + high) / 2, (high - low) / 2, "duty factor of SSB"), _(SPEECH)
    if name in NAMED:
        return Figure(mode_duty_factor(NAMED[name]), 0.0, ""), None
    return Figure(1.0, 0.0, ""), _(KEYED)


def average_share(walk: Walk, uses: Iterable[Planned]) -> Estimate:
    """The greatest average output over the plan, as percent of the amplifier's average rating.

    Raises:
        CannotTell: the rating, a mode or a share of transmitting is not stated.

    """
    rating = _rating(walk[-1].target)
    return max((_average(walk, use, rating) for use in uses), key=lambda one: float(one.value))


def _rating(amplifier: Thing) -> Figure:
    written = amplifier.of("amplifier").get("average")
    if written is not None:
        return stated_limit(amplifier, "amplifier.average", written, "W", "average rating")
    found = [port["watts_average"] for port in amplifier.ports("RF", "source") if "watts_average" in port]
    if not found:
        raise amplifier.lacking(NO_RATING, "amplifier.average")
    return stated_limit(amplifier, "ports", str(found[0]), "W", "average rating")


def _average(walk: Walk, planned: Planned, rating: Figure) -> Estimate:
    if planned.mode is None:
        raise CannotTell(_("no mode is planned"), "schedule.mode", "not stated", "trip")
    if planned.share is None:
        what = _("the share of time on transmit is not planned")
        raise CannotTell(what, "schedule.transmit_share", "not stated", "trip")
    (duty, note), share = duty_of(planned.mode), Figure(planned.share, SHARE_AROUND, "share of transmitting")

    def average_w(draw: Draw) -> float:
        output = stages(walk, planned, draw)[2]
        return time_averaged_power(output.watts, min(1.0, draw(duty)), min(1.0, draw(share)), 1.0)

    found = spread(lambda draw: 100 * average_w(draw) / draw(rating))
    detail = {**_printed(average_w(Draw()), rating), "mode": planned.mode, "share": _share_words(planned.share)}
    method, notes = _(METHOD).format(source=SOURCE), (*([note] if note else []), _(EVEN))
    return Estimate(found.result, parts=found.parts(lambda one: one), detail=detail, method=method, notes=notes)


def _printed(average_w: float, rating: Figure) -> dict[str, str]:
    return {"average": local_digits(f"{average_w:.2g} W"), "rating": local_digits(f"{rating.value:g} W")}


def _share_words(share: float) -> str:
    return _("{percent}%").format(percent=f"{100 * share:.0f}")
