"""What is said of a joint that does not fit, or of which that cannot be told."""

from __future__ import annotations

from afield.core.api import _, local_digits, marked, trimmed

SILENT = {
    "watts_peak": (marked("the watts peak of {port} are not stated"), marked("the watts peak of {port}")),
    "watts_average": (marked("the watts average of {port} are not stated"), marked("the watts average of {port}")),
    "volts": (marked("the volts of {port} are not stated"), marked("the volts of {port}")),
    "amperes": (marked("the amperes of {port} are not stated"), marked("the amperes of {port}")),
}
"""Figure of a port -> what is said where it has to be known, and where it is not compared."""
OVERCHARGED = marked(
    "{giver} gives up to {most} V, {battery} has {volts} V at most and is charged with {percent} % more at most "
    "(common practice, no source)"
)
UNCOMPARED = {
    "volts": marked("the volts of {source} and {sink}"), "amperes": marked("the amperes of {source} and {sink}"),
}  # fmt: skip
SAID_LEVELS = (marked("3.3 V"), marked("open collector"), marked("microphone"), marked("headphones"))
POLARITIES = (marked("active low"), marked("active high"), marked("centre positive"), marked("centre negative"))
"""As a kit file writes them; said where they are shown."""
IN_PLACE = marked("an item that bears {figure} in place of {item}")


def charge_controller(giver: str, battery: str) -> str:
    """The piece that what charges needs where it gives more volts than the battery bears."""
    return _("a charge controller from {giver} to {battery}").format(giver=giver, battery=battery)


def range_words(volts: tuple[float, float] | None) -> str:
    """One voltage, or the lowest and the highest, in V."""
    low, high = volts or (0.0, 0.0)
    if low == high:
        return number_words(low)
    return _("{low} to {high}").format(low=number_words(low), high=number_words(high))


def level_words(name: str) -> str:
    """A level as it is shown: figures and standards as they are written, the rest in words."""
    return _(name) if name in SAID_LEVELS else name


def number_words(value: float) -> str:
    """A figure as it is printed in a sentence."""
    return local_digits(trimmed(value))
