"""The classes, roles and features of items, with what follows from them."""

from __future__ import annotations

CLASSES = (
    "shelter", "furniture", "safety gear", "mast", "line", "antenna", "counterpoise", "ground", "feed line", "filter",
    "switch", "meter", "tuner", "amplifier", "radio", "battery", "supply", "solar panel", "charger", "converter",
    "lead", "adapter", "fuse", "key", "microphone", "headphones", "interface", "computer", "phone", "receiver", "clock",
    "log", "light", "tool", "clothing", "food", "other",
)  # fmt: skip
"""In the order of setting up: what stands first is needed first."""

CABLES = ("feed line", "lead", "adapter")
ANY_ROLE = ("RF", "DC", "USB", "keying", "data", "audio", "ground", "mains")
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


def setting_up(class_: str | None) -> int:
    """Place in the order of setting up; an item without a class comes last."""
    return CLASSES.index(class_) if class_ in CLASSES else len(CLASSES)
