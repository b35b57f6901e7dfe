"""What the timeline says of light: how much is left when work is done, and why light sets no time to turn back."""

from __future__ import annotations

from collections.abc import Iterator

from afield.plugins.timing.timeline_places import Facts
from afield.plugins.timing.timeline_words import length_words

LIGHT = {
    "schedule.set_up_light_left": "Setting up",
    "schedule.pack_up_light_left": "Packing up",
    "travel.walk_light_left": "The walk back",
}
ALWAYS = 1439.0
"""Minutes of light, or of dark, from which it is called unbroken."""


def light_lines(facts: Facts) -> Iterator[str]:
    """A sentence for each piece of work whose light is known, and one where light sets no time to turn back."""
    for name, what in LIGHT.items():
        record = facts[name].get("trip")
        if record and record["reason"] is None:
            yield f"{what} {_light_words(record['value'], record['detail'].get('dark'))}."
    record = facts["travel.turn_back_at"].get("trip")
    if record and record["reason"] and record["reason"]["code"] == "cannot be computed":
        text = record["reason"]["text"]
        yield f"{text[:1].upper()}{text[1:]}."


def _light_words(left: float, dark: str | None) -> str:
    if abs(left) >= ALWAYS:
        return f"is done in {'light: it does not get dark' if left > 0 else 'the dark: it does not get light'}"
    if dark == "before dawn":
        return f"begins {length_words(left)} before civil light"
    return f"ends {length_words(left)} {'after' if dark else 'before'} the end of civil light"
