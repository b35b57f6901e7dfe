"""What the cautions page says: quoted figures with their sources, the same for every trip.

Nothing here is worked out for a station. Where a figure has no letter behind it, it is a word of sense, not a rule.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

OPENING = (
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


def _source(key: str, document: str, section: str | None, edition: str | None, grade: str) -> dict[str, Any]:
    return {"key": key, "document": document, "section": section, "edition": edition, "grade": grade}


POWER_LINES = _topic(
    "Overhead power lines",
    [
        _caution("Look up before anything goes up or comes down. A touch, or a near miss, can kill."),
        _caution("The largest of these distances governs; if the voltage is not known, ask the power company first:"),
        _caution("twice the height of the mast and the length of the antenna together;", "a"),
        _caution("the whole height that could fall, and 10 ft (3.0 m) more;", "b"),
        _caution("the power company's own distance, often 1.5 to 2 times the height;", "b"),
        _caution("from any reach of mast, wire, throw line or person, house wires too, the clearance in air:", "c"),
    ],
    [
        ("up to 50 kV", "10 ft (3.0 m)"),
        ("over 50 to 200 kV", "15 ft (4.6 m)"),
        ("over 200 to 350 kV", "20 ft (6.1 m)"),
        ("over 350 to 500 kV", "25 ft (7.6 m)"),
        ("over 500 to 750 kV", "35 ft (10.7 m)"),
        ("over 750 to 1000 kV", "45 ft (13.7 m)"),
    ],
    ["Largest for this station, and by which rule:"],
)
LIGHTNING = _topic(
    "Lightning: 30-30",
    [
        _caution("Any thunder means stop: the storm is near enough to strike. Leave antenna, mast and wires alone."),
        _caution("Flash to thunder 30 s or less: be in a closed building or a hard-topped vehicle.", "d"),
        _caution("Wait 30 min after the last flash or thunder. Seconds divided by 3 are km, by 5 miles.", "d"),
    ],
)
FIELDS = _topic(
    "Radio fields",
    [
        _caution(
            "Exposure is not worked out here. Do the evaluation that your licence asks for before you transmit.", "e"
        ),
        _caution(
            "Keep people and animals away from antenna, wire ends and counterpoise while transmitting: they burn."
        ),
        _caution(
            "Only the licensee and the household may be held to the occupational limits; a visitor is the public.", "e"
        ),
    ],
)
MASTS = _topic(
    "Masts, wires and wind",
    [
        _caution("Twice the wind is four times the force: 61 Pa at 10 m/s (22 mph), 245 Pa at 20 m/s (45 mph).", "f"),
        _caution("Take masts and kites down before the wind rises; stand where nothing can fall on you."),
        _caution("Throw lines only with nobody before or below, never towards a power line. Flag guys and low wires."),
    ],
)
WATER = _topic(
    "Water and boats",
    [
        _caution("Wear the life jacket; stowed, it does not help. Tell someone the route and the time of return."),
        _caution("Cold water: about 1 min to master the breath, 10 min of useful movement, 1 h of consciousness.", "g"),
        _caution("A mast on a boat reaches lines over water and draws lightning. Keep supplies dry and fused."),
    ],
)
WEATHER = _topic(
    "Heat and cold",
    [
        _caution("Heat index charts hold for shade; full sun can add up to 15 °F (8 °C).", "h"),
        _caution("At a wind chill of -18 °F (-28 °C) bare skin freezes in about 30 min.", "i"),
        _caution("Confusion, hot dry skin, slurred words, shivering that stops: an emergency. Cool or warm, and call."),
    ],
)
BATTERIES = _topic(
    "Batteries",
    [
        _caution("Fuse at the battery, sized for the thinnest wire behind it. Terminals covered on the way.", "b"),
        _caution("Charge lithium packs between 0 °C and 45 °C (32 °F and 113 °F) only, never unattended.", "b"),
        _caution(
            "Swollen, dented, wet or hot: do not carry or use it. Get away from a pack that smokes or hisses.", "b"
        ),
        _caution("By air: ask the carrier first; nothing above 160 Wh in baggage, spares in the cabin only.", "j"),
    ],
)
SOURCES = [
    _source("a", "US CPSC, warnings with antennas", "16 CFR 1402", "as of 2007", "published"),
    _source("b", "Practice among operators and sellers", None, None, "common practice"),
    _source("c", "US OSHA, equipment near power lines", "29 CFR 1926.1408, Table A", "2010", "published"),
    _source("d", "US NOAA severe storms laboratory, 30-30 rule", None, "undated page", "published"),
    _source("e", "US FCC, limits of exposure", "47 CFR 1.1310", "in force since 3 May 2021", "published"),
    _source("f", "ASCE 7, velocity pressure q = 0.613 V²", "V in m/s, q in Pa", "SI form", "from memory"),
    _source("g", "Cold water teaching, the 1-10-1 rule", None, None, "common practice"),
    _source("h", "US weather service, heat index", "Technical Attachment SR 90-23", "1990", "published"),
    _source("i", "US weather service, wind chill chart", None, "2001", "published"),
    _source("j", "US TSA and FAA, lithium batteries; IATA dangerous goods", None, "undated page", "published"),
]
CAUTIONS: dict[str, Any] = {
    "not_computed": True,
    "opening": OPENING,
    "topics": [POWER_LINES, LIGHTNING, FIELDS, MASTS, WATER, WEATHER, BATTERIES],
    "sources": SOURCES,
}
"""The JSON of the section (schemas/sections/cautions.json)."""
