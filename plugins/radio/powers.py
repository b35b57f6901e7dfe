"""Watts from the radio to the antenna on one frequency: through amplifiers, lines, a tuner and a standing wave."""

from __future__ import annotations

from collections.abc import Sequence
from math import log10
from typing import NamedTuple

from afield.core.api import CannotTell, _, local_digits, marked, trimmed
from afield.plugins.radio.computations.paths import PathLoss, feed_path_loss
from afield.plugins.radio.feeds import swr_of
from afield.plugins.radio.figures import Draw, Figure
from afield.plugins.radio.outputs import Output, amplified, radio_output
from afield.plugins.radio.pieces import fitting_db, line_db
from afield.plugins.radio.planned import Planned
from afield.plugins.radio.things import Thing
from afield.plugins.radio.walks import Leg, Walk

GREATEST_SWR = 2.0
"""Up to here transmitters hold their forward power (common practice, no source)."""
HIGH_SWR = marked(
    "{name} works into an SWR of {swr} : 1 without a tuner; how far it reduces its power above {most} : 1 is not known"
)


class Stage(NamedTuple):
    """An amplifier with the drive at its input and its output."""

    amplifier: Thing
    drive_w: float
    output: Output


class AtAntenna(NamedTuple):
    """What the station puts into the antenna, and what is lost on the way to it from the last output."""

    radio: Output
    stages: tuple[Stage, ...]
    output: Output
    line_db: float
    fittings_db: float
    path: PathLoss

    @property
    def watts(self) -> float:
        """Power at the antenna."""
        return self.output.watts * float(10 ** (-self.path.total_db / 10))

    @property
    def level(self) -> float:
        """The same in dB over 1 W."""
        return 10 * log10(self.watts)

    @property
    def loss_db(self) -> float:
        """All that is lost between the last output and the antenna."""
        return self.path.total_db


def stages(legs: Sequence[Leg], planned: Planned, draw: Draw) -> tuple[Output, tuple[Stage, ...], Output]:
    """The radio's output, each amplifier on the way, and what comes out of the last of them."""
    radio = output = radio_output(legs[0], planned, draw)
    found: list[Stage] = []
    for leg in legs:
        if not leg.target.is_one("amplifier"):
            break
        drive = output.watts * 10 ** (-line_and_fittings_db(leg.pieces, planned, draw) / 10)
        output = amplified(leg.target, drive, draw)
        found.append(Stage(leg.target, drive, output))
    return radio, tuple(found), _as_planned(radio, output, planned) if found else output


def arriving_w(walk: Walk, planned: Planned, draw: Draw) -> float:
    """Watts at the input of what the walk ends at, all before it at its full output."""
    found = stages(walk[:-1], planned, draw)[1] if len(walk) > 1 else ()
    output = found[-1].output if found else radio_output(walk[0], planned, draw)
    return output.watts * float(10 ** (-line_and_fittings_db(walk[-1].pieces, planned, draw) / 10))


def _as_planned(radio: Output, output: Output, planned: Planned) -> Output:
    """The last amplifier's output; the planned power where that is more than the radio gives by itself."""
    if planned.power_w is None or radio.because != "greatest" or output.watts <= planned.power_w:
        return output
    return Output(planned.power_w, _("planned power"))


def line_and_fittings_db(pieces: Sequence[Thing], planned: Planned, draw: Draw) -> float:
    """Matched loss of pieces in a row, dB."""
    return sum(line_db(piece, planned, draw) + fitting_db(piece, draw) for piece in pieces)


def at_antenna(walk: Walk, planned: Planned, draw: Draw) -> AtAntenna:
    """The power at the antenna that the walk ends at.

    Raises:
        CannotTell: a figure is lacking, or the SWR is so high that the transmitter reduces its power.

    """
    planned.frequency()
    radio, found, output = stages(walk, planned, draw)
    if output.watts <= 0:
        raise CannotTell(_("no power is planned to go out: 0 W"), "schedule.power", subject="trip")
    leg = walk[-1]
    before, tuner, beyond = _around_tuner(leg)
    before_db, beyond_db = (line_and_fittings_db(side, planned, draw) for side in (before, beyond))
    lines = sum(line_db(piece, planned, draw) for piece in (*before, *beyond))
    tuner_db = None if tuner is None else fitting_db(tuner, draw)
    swr = _swr(leg.target, planned, draw, matters=tuner is None or beyond_db > 0)
    path = _as_held(feed_path_loss(beyond_db, swr, before_db, tuner_db), leg.source, draw)
    return AtAntenna(radio, found, output, lines, before_db + beyond_db - lines, path)


def _as_held(path: PathLoss, source: Thing, draw: Draw) -> PathLoss:
    """The loss, unsure by whether the transmitter makes up for what is reflected, or gives as much less again."""
    if not path.mismatch_db:
        return path
    mismatch = path.mismatch_db * draw(Figure(1.0, 1.0, f"forward power of {source.name} under mismatch"))
    return path._replace(mismatch_db=mismatch, total_db=path.total_db - path.mismatch_db + mismatch)


def _around_tuner(leg: Leg) -> tuple[Sequence[Thing], Thing | None, Sequence[Thing]]:
    """The pieces before the tuner, the tuner, and those beyond it; the one nearest to the antenna counts."""
    places = [place for place, piece in enumerate(leg.pieces) if piece.tunes]
    if places:
        return leg.pieces[: places[-1]], leg.pieces[places[-1]], leg.pieces[places[-1] + 1 :]
    return (), leg.source if leg.source.tunes else None, leg.pieces


def tuner_of(leg: Leg) -> Thing | None:
    """What tunes the antenna of a leg; None where nothing does."""
    return _around_tuner(leg)[1]


def _swr(antenna: Thing, planned: Planned, draw: Draw, matters: bool) -> float:
    figure = swr_of(antenna, planned)
    if figure is not None:
        return draw(figure)
    if not matters:
        return 1.0
    what = _("the SWR of {name} on {band} is not stated").format(name=antenna.name, band=planned.label)
    raise CannotTell(what, antenna.written_at("antenna.swr"), "not stated", f"item:{antenna.key}")


def refuse_high_swr(found: AtAntenna, walk: Walk) -> None:
    """Raise CannotTell where the transmitter sees an SWR at which it may reduce its power."""
    swr = found.path.swr_at_source
    if swr > GREATEST_SWR:
        source, antenna = walk[-1].source.name, walk[-1].target.name
        printed_swr = local_digits(trimmed(round(swr, 1)))
        what = _(HIGH_SWR).format(name=source, swr=printed_swr, most=f"{GREATEST_SWR:g}")
        settle = _("a tuner between {radio} and {antenna}").format(radio=source, antenna=antenna)
        raise CannotTell(what, settle, subject="trip")
