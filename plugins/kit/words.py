"""The classes, roles and features of items, with what follows from them."""

from __future__ import annotations

from afield.core.api import _, in_context, marked

CLASSES = (
    marked("shelter"), marked("furniture"), marked("safety gear"), marked("mast"), "line", marked("antenna"),
    marked("counterpoise"), marked("ground"), marked("feed line"), marked("filter"), marked("switch"),
    marked("meter"), marked("tuner"), marked("amplifier"), marked("radio"), marked("battery"), marked("supply"),
    marked("solar panel"), marked("charger"), marked("converter"), marked("lead"), marked("adapter"), marked("fuse"),
    marked("key"), marked("microphone"), marked("headphones"), marked("interface"), marked("computer"),
    marked("phone"), marked("receiver"), marked("clock"), marked("log"), marked("light"), marked("tool"),
    marked("clothing"), marked("food"), marked("other"),
)  # fmt: skip
"""In the order of setting up: what stands first is needed first."""

CABLES = ("feed line", "lead", "adapter")
ANY_ROLE = (
    marked("RF"), marked("DC"), marked("USB"), marked("keying"), marked("data"), marked("audio"), marked("ground"),
    marked("mains"),
)  # fmt: skip
JOINS = {
    "lead": ANY_ROLE, "adapter": ANY_ROLE, "interface": ("data", "audio", "keying"), "converter": ("DC",),
    **dict.fromkeys(("feed line", "filter", "switch", "meter", "tuner", "amplifier"), ("RF",)),
}  # fmt: skip
"""Classes of items that may be the piece which joins two others, with the roles in which they may."""

POWERS = ("battery", "supply")
"""Classes of items that can feed a station by themselves."""

CONVERTS = ("converter", "charger")
"""Classes of items that are of no use by themselves: what they feed says whether the outing ends without them."""
FED = {"computer": ("USB", "a USB source"), "phone": ("USB", "a USB source"), "charger": ("mains", "an inverter")}
"""Classes of items that are fed if anything in the kit can feed them, with the role, and what feeds them."""

CHARGES = ("charger", "converter", "solar panel")
"""Classes of items that charge a battery to whose terminals they are joined."""

CHANGES_BAND = ("amplifier", "filter", "antenna")
KEEPS_TIME = ("computer",)
WITH_FEATURES = (*CHANGES_BAND, *KEEPS_TIME, "tuner")
"""Classes of items of which it matters what they do by themselves."""


def class_words(class_: str) -> str:
    """A class of items for the reader; a line to throw is no line on a map."""
    return in_context("thing|line") if class_ == "line" else _(class_)


def setting_up(class_: str | None) -> int:
    """Place in the order of setting up; an item without a class comes last."""
    return CLASSES.index(class_) if class_ in CLASSES else len(CLASSES)


WANTED = (
    marked("an antenna"), marked("a radio"), marked("a battery or a supply"),
    marked("a solar panel, a battery or a supply"), marked("a battery"), marked("a USB source"), marked("an inverter"),
    marked("a key"), marked("a microphone"), marked("a computer"),
)  # fmt: skip
"""What a chain may need that the kit has none of, or several."""


def end_words(name: str) -> str:
    """An end of a chain as it is shown: what is wanted is said, the name of an item stays as it was written."""
    return _(name) if name in WANTED else name


def key_of(key: str, name: str, file: str) -> str:
    """What to state, of which item or port, and in which file; the key is as it stands in a kit file."""
    return _("{key} of {name} in {file}").format(key=key, name=name, file=file)


def silent_ports(name: str) -> str:
    """That the ports of an item are not stated."""
    return _("the ports of {name} are not stated").format(name=name)
