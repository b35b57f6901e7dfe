"""What radios and amplifiers put out in a slot, and the outputs at which their draw is stated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from afield.core.api import _, amount_in, frozen, local_digits, marked, trimmed
from afield.plugins.power.stated import Thing, number

AT_MOST = marked("No power is planned: {name} is taken at its greatest output.")
TOO_MUCH = marked("{planned} W is planned, more than {name} gives: it is taken at its greatest output, {most} W.")
DRIVES = marked("{radio} is taken to drive {amplifier} with {drive} W.")
AT_RATING = marked("No power is planned: {name} is taken at its rated output.")
NO_GAIN = marked("The gain of {name} is not stated: it is taken at its rated output.")
DRIVEN = marked("{name}, driven with {drive} W, is taken to give {output} W.")


@frozen
class Output:
    """RF power in W, None where the draw is stated for no output; and what is taken for granted, if anything."""

    watts: float | None
    note: str | None = None


@frozen
class Chain:
    """Radios and the amplifiers behind them.

    Attributes:
        drives: radio -> amplifier behind it.
        behind: amplifier -> radio that drives it.

    """

    drives: Mapping[str, Thing] = field(default_factory=dict)
    behind: Mapping[str, Thing] = field(default_factory=dict)

    def output(self, thing: Thing, planned_w: float | None) -> Output:
        """What the item puts out.

        Raises:
            CannotTell: the drive of an amplifier is not known.

        """
        if "amplifier" in thing.data:
            return _of_amplifier(thing, self.behind.get(thing.key), planned_w)
        amplifier = self.drives.get(thing.key)
        return _of_radio(thing, planned_w) if amplifier is None else _driving(thing, amplifier, planned_w)


def most_output(thing: Thing) -> float | None:
    """The greatest output of a radio, in W: as its description says, else the greatest with a stated current."""
    power = thing.part("transmitter").get("power")
    if power:
        return amount_in(power[1], "W")
    return max((amount_in(load["at"], "W") for load in thing.data.get("loads", ()) if "at" in load), default=None)


def _of_radio(radio: Thing, planned_w: float | None) -> Output:
    most = most_output(radio)
    if planned_w is None:
        return Output(most, _(AT_MOST).format(name=radio.name))
    if most is not None and planned_w > most:
        return Output(most, _(TOO_MUCH).format(planned=_figure(planned_w), name=radio.name, most=_figure(most)))
    return Output(planned_w)


def _driving(radio: Thing, amplifier: Thing, planned_w: float | None) -> Output:
    """The planned power is the radio's, if it can give so much; else it is the amplifier's."""
    most, stated = most_output(radio), amplifier.part("amplifier")
    if planned_w is not None and (most is None or planned_w <= most):
        return Output(planned_w)
    if planned_w is not None and "gain" in stated:
        drive = planned_w / _times(stated)
    elif "drive" in stated:
        drive = amount_in(stated["drive"][1], "W")
    else:
        raise amplifier.silent(marked("the drive of {name} is not stated"), "amplifier.drive")
    drive = drive if most is None else min(drive, most)
    note = _(DRIVES).format(radio=radio.name, amplifier=amplifier.name, drive=number(drive, ".3g"))
    return Output(drive, note)


def _figure(watts: float) -> str:
    return local_digits(trimmed(watts))


def _times(stated: Mapping[str, str]) -> float:
    return float(10 ** (amount_in(stated["gain"], "dB") / 10))


def _of_amplifier(amplifier: Thing, radio: Thing | None, planned_w: float | None) -> Output:
    stated = amplifier.part("amplifier")
    rated = amount_in(stated["output"], "W") if "output" in stated else None
    most = most_output(radio) if radio is not None else None
    if planned_w is None:
        return Output(rated, _(AT_RATING).format(name=amplifier.name))
    if most is None or planned_w > most:
        return Output(planned_w if rated is None else min(planned_w, rated))
    if "gain" not in stated:
        return Output(rated, _(NO_GAIN).format(name=amplifier.name))
    output = planned_w * _times(stated)
    output = output if rated is None else min(output, rated)
    figures = {"drive": _figure(planned_w), "output": number(output, ".3g")}
    return Output(output, _(DRIVEN).format(name=amplifier.name, **figures))
