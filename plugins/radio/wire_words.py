"""The sentences of the section on the antenna, and the words in them that are data of others."""

from __future__ import annotations

from afield.core.api import marked

TOO_SHORT = marked("{multiple}, {percent} % too short: add {change} for {mhz} MHz")
TOO_LONG = marked("{multiple}, {percent} % too long: take off {change} for {mhz} MHz")
ELSEWHERE = marked(
    "By its length it is right for {right} MHz, which lies outside the part of the band that all ITU regions share, "
    "{low} to {high} MHz: where you may use it, state the frequency under schedule.frequency."
)
TUNER = marked(
    "Tuner of the kit: {names}. Within its range it matches a wire that is off, with more loss the farther it is off."
)
NO_TUNER = marked("The kit has no tuner, which would match a wire that is off.")
UNTOLD, STATE = marked("Cannot tell: {reason}."), marked("Cannot tell: {reason}. State `{settle}`.")
NO_GROUND = marked("What the ground does at low angles cannot be told: {reason}.")
GROUND = marked(
    "Over {ground}, {wave} waves, {mhz} MHz: {value} dB by the ground at 10 degrees ({low} to {high}). Over the sea it "
    "would be {sea}, over average ground {average}."
)
GROUNDS = (
    marked("sea"), marked("fresh water"), marked("good ground"), marked("average ground"), marked("poor ground"),
    marked("city"), marked("vertical"), marked("horizontal"),
)  # fmt: skip
"""What `ground` and `wave` may be."""
FIT = marked("half wave {half}, quarter wave {quarter}; it is nearest to {fit}.")
