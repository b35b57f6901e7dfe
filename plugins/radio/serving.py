"""Which antenna serves which band."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from afield.core.api import CannotTell, Estimate, Subject, _, marked
from afield.plugins.radio.feeds import bands_of, covers
from afield.plugins.radio.planned import Planned
from afield.plugins.radio.powers import tuner_of
from afield.plugins.radio.things import Thing
from afield.plugins.radio.walks import Walk, up_to

MADE, TUNED, UNSAID, OTHER = range(4)
"""How an antenna stands to a band: made for it; tuned to it; made for what is not said; made for others."""
NO_BANDS = marked("the list of bands of {name} is not stated")
NO_PORTS = marked("the ports of {name} are not stated, and it may be the antenna for {bands}")
METHOD = marked("planned bands against the antennas' and the tuners on their way")


def rank(walk: Walk, planned: Planned) -> int:
    """How the antenna that a walk ends at stands to the planned band; less is better."""
    made = covers(walk[-1].target, planned)
    if made:
        return MADE
    if tuner_of(walk[-1]) is not None:
        return TUNED
    return UNSAID if made is None else OTHER


def serving(found: Sequence[Walk], planned: Planned) -> list[Walk]:
    """The walks to the antennas that serve the planned band best."""
    ranks = [rank(walk, planned) for walk in found]
    return [walk for walk, one in zip(found, ranks, strict=True) if one == min(ranks)]


def covers_bands(found: Sequence[Walk], uses: Sequence[Planned], subject: Subject) -> Estimate:
    """Whether every planned band is served, by the subject's antenna or by another.

    Raises:
        CannotTell: no band is planned, or for which bands an antenna is made is not stated and nothing else serves.

    """
    to_antennas = [walk for walk in found if walk[-1].target.is_one("antenna")]
    planned = {use.known_band(): use for use in uses}
    best = {band: min((rank(walk, use) for walk in to_antennas), default=OTHER) for band, use in planned.items()}
    walk = up_to(found, subject.key.partition(":")[2])
    antenna = walk[-1].target if walk else Thing(subject.key, subject.label)
    lacks = [band for band, one in best.items() if one == OTHER]
    if not lacks and UNSAID in best.values():
        raise _unsaid(to_antennas, antenna).lacking(NO_BANDS, "antenna.bands")
    tuner = tuner_of(walk[-1]) if walk else None
    detail = {"lacks": ", ".join(lacks), "made_for": ", ".join(bands_of(antenna) or [_("no band that is stated")]),
              "tuner": tuner.name if tuner else ""}  # fmt: skip
    return Estimate(not lacks, detail=detail, method=_(METHOD))


def refuse_unjoined(things: Iterable[Thing], uses: Sequence[Planned], lacks: str) -> None:
    """Raise CannotTell for an antenna without ports, no spare, that may serve a band which no other serves."""
    open_uses = [use for use in uses if use.band is not None and use.band in lacks.split(", ")]
    for thing in things:
        blank = thing.is_one("antenna") and "ports" not in thing.data and not thing.spare
        if blank and any(covers(thing, use) is not False for use in open_uses):
            what = _(NO_PORTS).format(name=thing.name, bands=lacks)
            raise CannotTell(what, thing.written_at("ports"), "not stated", f"item:{thing.key}")


def _unsaid(found: Sequence[Walk], antenna: Thing) -> Thing:
    """The antenna itself, or the first of which it is not stated."""
    if bands_of(antenna) is None:
        return antenna
    return next(walk[-1].target for walk in found if bands_of(walk[-1].target) is None)
