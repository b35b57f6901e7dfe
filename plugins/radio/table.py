"""The power at the antenna for each planned frequency, as plain rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import CannotTell, _, marked
from afield.plugins.radio.feeds import swr_note
from afield.plugins.radio.figures import Spread, combined, spread
from afield.plugins.radio.outputs import gain_note, output_note
from afield.plugins.radio.pieces import notes_on
from afield.plugins.radio.planned import Planned, planned_uses
from afield.plugins.radio.powers import AtAntenna, at_antenna, refuse_high_swr, tuner_of
from afield.plugins.radio.serving import serving
from afield.plugins.radio.things import Thing, things_of
from afield.plugins.radio.walks import Walk, legs_of, to_antennas, walks

Row = dict[str, Any]
MATCHED = marked("Between radio and amplifier the line is taken as matched.")
TUNED = marked("A tuner is taken to tune to 1 : 1.")
HELD = marked("Without a tuner the forward power is taken to hold up to 2 : 1, unsure by as much as is reflected.")
FEW_PERCENT = marked(
    "Stated powers and losses are taken as good to ± 5 %, the catalogue's to ± 20 % (95 %; common practice)."
)
CENTRE = marked("Of {band} no frequency is planned: its centre is taken, {mhz} MHz (ADIF 3.1.6, Band).")


def power_table(
    ways: Sequence[Mapping[str, Any]], things: Mapping[str, Any], planned: Sequence[Mapping[str, Any]]
) -> list[Row]:
    """One row for each planned use and frequency, in order.

    Raises:
        CannotTell: nothing that fits joins a radio to an antenna.

    """
    found = to_antennas(walks(legs_of(ways, things_of(things))))
    uses = {(use.label, use.power_w): use for use in planned_uses(planned)}
    return [_row(found, use) for use in uses.values()]


def _row(found: Sequence[Walk], planned: Planned) -> Row:
    """The least power of all ways that serve the frequency; the first that cannot be told stands for all."""
    rows = [_known_or_not(walk, planned) for walk in serving(found, planned)]
    unknown = [row for row in rows if row["unknown"]]
    return unknown[0] if unknown else min(rows, key=lambda row: float(row["watts"]))


def _known_or_not(walk: Walk, planned: Planned) -> Row:
    named = _named(walk, planned)
    try:
        found = spread(lambda draw: at_antenna(walk, planned, draw))
        refuse_high_swr(found.result, walk)
    except CannotTell as silence:
        reason = silence.reason
        told = {"text": reason.text, "settle": reason.settle, "code": reason.code, "subject": reason.subject}
        return {**named, "unknown": told}
    return {**named, "unknown": None, **_figures(found), "notes": _notes(walk, planned, found.result)}


def _named(walk: Walk, planned: Planned) -> Row:
    tuner = tuner_of(walk[-1])
    return {
        "frequency": planned.label or _("no frequency planned"),
        "radio": walk[0].source.name,
        "amplifiers": [leg.source.name for leg in walk[1:]],
        "antenna": walk[-1].target.name,
        "tuner": tuner.name if tuner else None,
        "planned_w": planned.power_w,
    }


def _figures(found: Spread[AtAntenna]) -> Row:
    result = found.result
    watts, loss = found.parts(lambda one: one.level), found.parts(lambda one: one.loss_db)
    outputs = {"radio_around_w": combined(found.parts(lambda one: one.radio.watts)),
               "output_around_w": combined(found.parts(lambda one: one.output.watts))}  # fmt: skip
    return {
        "radio_w": result.radio.watts, "output_w": result.output.watts, **outputs,
        "set_by": result.output.because if result.stages else "", "line_db": result.line_db,
        "fittings_db": result.fittings_db, "standing_wave_db": result.path.standing_wave_db,
        "tuner_db": result.path.tuner_db, "mismatch_db": result.path.mismatch_db, "loss_db": result.loss_db,
        "loss_parts_db": loss, "swr_at_transmitter": result.path.swr_at_source, "watts": result.watts,
        "level_parts_db": watts, "grounds": {name: [one.value, one.around] for name, one in found.grounds.items()},
    }  # fmt: skip


def _notes(walk: Walk, planned: Planned, result: AtAntenna) -> list[str]:
    """What is taken for granted, each once."""
    last = walk[-1]
    passed: list[Thing] = [piece for leg in walk for piece in leg.pieces]
    tuner = tuner_of(last)
    built_in = [tuner] if tuner is not None and tuner not in passed else []
    notes = [
        output_note(walk[0], planned, result.radio, amplified=len(walk) > 1),
        *(_band_note(planned)),
        *(note for piece in [*passed, *built_in] for note in notes_on(piece)),
        swr_note(last.target, planned),
        *(gain_note(leg.source) for leg in walk[1:]),
        _(MATCHED) if len(walk) > 1 else None,
        _(TUNED if tuner else HELD),
        _(FEW_PERCENT),
    ]
    return list(dict.fromkeys(note for note in notes if note))


def _band_note(planned: Planned) -> list[str]:
    if planned.mhz is None or not planned.mhz.around:
        return []
    return [_(CENTRE).format(band=planned.band, mhz=f"{planned.mhz.value:g}")]
