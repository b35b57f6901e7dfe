"""What the cautions page says: quoted figures with their sources, the same for every trip.

Nothing here is worked out for a station. Where a figure has no letter behind it, it is a word of sense, not a rule.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from afield.core.api import _, local_digits, marked
from afield.plugins.outing.caution_sources import SOURCES, said_source

OPENING = marked(
    "Nothing on this page is worked out for this station; it quotes general figures. The law of the place, the land "
    "manager, the power company and your licence come first; where they ask for more, do more. Leave wiring, climbing "
    "and rigging to those who are trained and licensed for it."
)


def _caution(text: str, *sources: str) -> dict[str, Any]:
    return {"text": text, "sources": list(sources)}


def _topic(
    title: str,
    cautions: Sequence[dict[str, Any]],
    figures: Sequence[tuple[str, str]] = (),
    blanks: Sequence[str] = (),
) -> dict[str, Any]:
    rows = [{"name": name, "value": value} for name, value in figures]
    return {"title": title, "cautions": list(cautions), "figures": rows, "blanks": list(blanks)}


POWER_LINES = _topic(
    marked("Overhead power lines"),
    [
        _caution(marked("Look up before anything goes up or comes down. A touch, or a near miss, can kill.")),
        _caution(
            marked("The largest of these distances governs; if the voltage is not known, ask the power company first:")
        ),
        _caution(marked("twice the height of the mast and the length of the antenna together;"), "a"),
        _caution(marked("the whole height that could fall, and 10 ft (3.0 m) more;"), "b"),
        _caution(marked("the power company's own distance, often 1.5 to 2 times the height;"), "b"),
        _caution(
            marked("from any reach of mast, wire, throw line or person, house wires too, the clearance in air:"), "c"
        ),
    ],
    [
        (marked("up to 50 kV"), "10 ft (3.0 m)"),
        (marked("over 50 to 200 kV"), "15 ft (4.6 m)"),
        (marked("over 200 to 350 kV"), "20 ft (6.1 m)"),
        (marked("over 350 to 500 kV"), "25 ft (7.6 m)"),
        (marked("over 500 to 750 kV"), "35 ft (10.7 m)"),
        (marked("over 750 to 1000 kV"), "45 ft (13.7 m)"),
    ],
    [marked("Largest for this station, and by which rule:")],
)
LIGHTNING = _topic(
    marked("Lightning: 30-30"),
    [
        _caution(
            marked("Any thunder means stop: the storm is near enough to strike. Leave antenna, mast and wires alone.")
        ),
        _caution(marked("Flash to thunder 30 s or less: be in a closed building or a hard-topped vehicle."), "d"),
        _caution(marked("Wait 30 min after the last flash or thunder. Seconds divided by 3 are km, by 5 miles."), "d"),
    ],
)
FIELDS = _topic(
    marked("Radio fields"),
    [
        _caution(
            marked(
                "Exposure is not worked out here. Do the evaluation that your licence asks for before you transmit."
            ),
            "e",
        ),
        _caution(
            marked(
                "Keep people and animals away from antenna, wire ends and counterpoise while transmitting: they burn."
            )
        ),
        _caution(
            marked(
                "Only the licensee and the household may be held to the occupational limits; a visitor is the public."
            ),
            "e",
        ),
    ],
)
MASTS = _topic(
    marked("Masts, wires and wind"),
    [
        _caution(
            marked("Twice the wind is four times the force: 61 Pa at 10 m/s (22 mph), 245 Pa at 20 m/s (45 mph)."), "f"
        ),
        _caution(marked("Take masts and kites down before the wind rises; stand where nothing can fall on you.")),
        _caution(
            marked("Throw lines only with nobody before or below, never towards a power line. Flag guys and low wires.")
        ),
    ],
)
WATER = _topic(
    marked("Water and boats"),
    [
        _caution(
            marked("Wear the life jacket; stowed, it does not help. Tell someone the route and the time of return.")
        ),
        _caution(
            marked("Cold water: about 1 min to master the breath, 10 min of useful movement, 1 h of consciousness."),
            "g",
        ),
        _caution(marked("A mast on a boat reaches lines over water and draws lightning. Keep supplies dry and fused.")),
    ],
)
WEATHER = _topic(
    marked("Heat and cold"),
    [
        _caution(marked("Heat index charts hold for shade; full sun can add up to 15 °F (8 °C)."), "h"),
        _caution(marked("At a wind chill of -18 °F (-28 °C) bare skin freezes in about 30 min."), "i"),
        _caution(
            marked(
                "Confusion, hot dry skin, slurred words, shivering that stops: an emergency. Cool or warm, and call."
            )
        ),
    ],
)
BATTERIES = _topic(
    marked("Batteries"),
    [
        _caution(
            marked("Fuse at the battery, sized for the thinnest wire behind it. Terminals covered on the way."), "b"
        ),
        _caution(marked("Charge lithium packs between 0 °C and 45 °C (32 °F and 113 °F) only, never unattended."), "b"),
        _caution(
            marked("Swollen, dented, wet or hot: do not carry or use it. Get away from a pack that smokes or hisses."),
            "b",
        ),
        _caution(
            marked("By air: ask the carrier first; nothing above 160 Wh in baggage, spares in the cabin only."), "j"
        ),
    ],
)
CAUTIONS: dict[str, Any] = {
    "not_computed": True,
    "opening": OPENING,
    "topics": [POWER_LINES, LIGHTNING, FIELDS, MASTS, WATER, WEATHER, BATTERIES],
    "sources": SOURCES,
}
"""The JSON of the section in English (schemas/sections/cautions.json)."""


def said_cautions() -> dict[str, Any]:
    """The cautions in the reader's language."""
    topics = [_said_topic(topic) for topic in CAUTIONS["topics"]]
    return {**CAUTIONS, "opening": _(OPENING), "topics": topics, "sources": list(map(said_source, SOURCES))}


def _said_topic(topic: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "title": _(topic["title"]),
        "cautions": [{**caution, "text": _(caution["text"])} for caution in topic["cautions"]],
        "figures": [{"name": _(row["name"]), "value": local_digits(row["value"])} for row in topic["figures"]],
        "blanks": [_(blank) for blank in topic["blanks"]],
    }
