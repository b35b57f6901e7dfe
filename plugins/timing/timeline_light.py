"""What the timeline says of light: how much is left when work is done, and why light sets no time to turn back."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.api import _, in_context, marked
from afield.plugins.timing.timeline_places import Facts
from afield.plugins.timing.timeline_words import length_words

LIGHT = {
    "schedule.set_up_light_left": marked("work|Setting up"),
    "schedule.pack_up_light_left": marked("work|Packing up"),
    "travel.walk_light_left": marked("work|The walk back"),
}
ALL_LIGHT = marked("{work} is done in light: it does not get dark.")
ALL_DARK = marked("{work} is done in the dark: it does not get light.")
ALWAYS = 1439.0
"""Minutes of light, or of dark, from which it is called unbroken."""


def light_lines(facts: Facts) -> Iterator[str]:
    """A sentence for each piece of work whose light is known, and one where light sets no time to turn back."""
    for name, what in LIGHT.items():
        record = facts[name].get("trip")
        if record and record["reason"] is None:
            left = float(record["value"])
            sentence = _light_sentence(left, record["detail"].get("dark"))
            yield sentence.format(work=in_context(what), length=length_words(left))
    record = facts["travel.turn_back_at"].get("trip")
    if record and record["reason"] and record["reason"]["code"] == "cannot be computed":
        text = record["reason"]["text"]
        yield f"{text[:1].upper()}{text[1:]}."


def _light_sentence(left: float, dark: str | None) -> str:
    if abs(left) >= ALWAYS:
        return _(ALL_LIGHT if left > 0 else ALL_DARK)
    if dark == "before dawn":
        return _("{work} begins {length} before civil light.")
    if dark:
        return _("{work} ends {length} after the end of civil light.")
    return _("{work} ends {length} before the end of civil light.")
