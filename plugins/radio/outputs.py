"""What a radio puts out, and what an amplifier makes of it."""

from __future__ import annotations

from typing import NamedTuple

from afield.core.api import _, amount_in, local_digits, marked, trimmed
from afield.plugins.radio.figures import Draw, Figure
from afield.plugins.radio.planned import Planned
from afield.plugins.radio.things import Thing
from afield.plugins.radio.walks import Leg

GAIN_OWN, GAIN_TYPICAL = 0.5, 1.0
GAIN_NOTE = marked(
    "A stated gain is taken as good to ± 0.5 dB, the catalogue's to ± 1 dB (95 %; common practice, no source)."
)
"""95 %, dB, of an amplifier's gain, and in words: of this one, and of its sort. Common practice, no source."""
UNPLANNED = marked("No power is planned: {name} is taken at its greatest output.")
TOO_LITTLE = marked("{watts} W is planned; {name} is taken at its least output.")
FOR_AMPLIFIER = marked("{watts} W is planned, more than {name} gives: taken as the output of the amplifier.")
TOO_MUCH = marked("{watts} W is planned, more than {name} gives: taken at its greatest output.")
NO_GAIN = marked("The gain of {name} is not stated: full output from its least drive on, or only at its greatest.")
RATED, DRIVEN = marked("rated output of {name}"), marked("drive and gain of {name}")


class Output(NamedTuple):
    """Watts, and what sets them: "planned", "least" or "greatest" of a radio, in words of an amplifier."""

    watts: float
    because: str


def radio_output(leg: Leg, planned: Planned, draw: Draw) -> Output:
    """What the radio puts out: the planned power, else its greatest; never more or less than it can.

    Raises:
        CannotTell: no power is planned and the radio's is not stated.

    """
    radio = leg.source
    power = radio.of("transmitter").get("power")
    peak = next((port.get("watts_peak") for port in radio.ports("RF", "source") if port["name"] == leg.port), None)
    group, greatest = ("transmitter", power[1]) if power else ("ports", peak)
    if planned.power_w is None and greatest is None:
        raise radio.lacking(marked("the output of {name} is not stated"), "transmitter.power")
    most = None if greatest is None else amount_in(str(greatest), "W")
    least = amount_in(power[0], "W") if power else 0.0
    value, because = _settled(planned.power_w, least, most)
    share = radio.share(group) if because == "greatest" else radio.share("")
    return Output(draw(Figure(value, share * value, f"output of {radio.name}")), because)


def _settled(planned: float | None, least: float, most: float | None) -> tuple[float, str]:
    if planned is None or (most is not None and planned > most):
        assert most is not None
        return most, "greatest"
    return (least, "least") if planned < least else (planned, "planned")


def output_note(leg: Leg, planned: Planned, output: Output, amplified: bool) -> str | None:
    """What is taken for granted of the radio's output; None where it is as planned."""
    name = leg.source.name
    if output.because == "planned":
        return None
    if planned.power_w is None:
        return _(UNPLANNED).format(name=name)
    text = TOO_LITTLE if output.because == "least" else FOR_AMPLIFIER if amplified else TOO_MUCH
    return _(text).format(watts=local_digits(trimmed(planned.power_w)), name=name)


def rated_w(amplifier: Thing) -> tuple[str, str] | None:
    """The amplifier's rated output as text, and the group that states it; its output port's where none is stated."""
    written = amplifier.of("amplifier").get("output")
    if written is not None:
        return str(written), "amplifier.output"
    peaks = [port["watts_peak"] for port in amplifier.ports("RF", "source") if "watts_peak" in port]
    return (str(peaks[0]), "ports") if peaks else None


def amplified(amplifier: Thing, drive_w: float, draw: Draw) -> Output:
    """What the amplifier makes of its drive: by its gain, up to its rated output; and which of the two sets it.

    Without a stated gain the output at a drive between the least and the greatest lies between rising in proportion up
    to the greatest drive and being full from the least one on; so does it below the least drive.

    Raises:
        CannotTell: neither its gain nor its drive is stated, or no output is.

    """
    told, rated = amplifier.of("amplifier"), rated_w(amplifier)
    if rated is None:
        raise amplifier.lacking(marked("the rated output of {name} is not stated"), "amplifier.output")
    limit = draw(amplifier.figure(rated[1], rated[0], "W", f"rated output of {amplifier.name}"))
    if "gain" in told:
        around = GAIN_TYPICAL if amplifier.typical("amplifier.gain") else GAIN_OWN
        gain_db = draw(Figure(amount_in(told["gain"], "dB"), around, f"gain of {amplifier.name}"))
        watts = drive_w * 10 ** (gain_db / 10)
    elif "drive" in told:
        watts = _between(amplifier, drive_w, limit, draw)
    else:
        raise amplifier.lacking(marked("the gain of {name} is not stated (nor its drive)"), "amplifier.gain")
    return Output(min(watts, limit), _(RATED if watts >= limit else DRIVEN).format(name=amplifier.name))


def gain_note(amplifier: Thing) -> str:
    """What is taken for granted of the amplifier's gain."""
    if "gain" in amplifier.of("amplifier"):
        return _(GAIN_NOTE)
    return _(NO_GAIN).format(name=amplifier.name)


def _between(amplifier: Thing, drive_w: float, limit: float, draw: Draw) -> float:
    least, greatest = (amount_in(text, "W") for text in amplifier.of("amplifier")["drive"])
    fullest = limit if drive_w >= least else limit * drive_w / least
    slowest = limit if drive_w >= greatest else limit * drive_w / greatest
    # At a drive that gives full output either way there is nothing to be unsure of.
    where = draw(Figure(0.0, 1.0, f"gain of {amplifier.name}", -1.0)) if fullest > slowest else 0.0
    return (fullest + slowest) / 2 + where * (fullest - slowest) / 2
