"""What the outlook rests on, in words: model, sun, power and mode, and what is assumed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from string import ascii_letters
from typing import Any

from afield.core.api import _, marked
from afield.plugins.ionosphere.computations.iri import model_words
from afield.plugins.ionosphere.wording import plain

NOISE = {
    "business": marked("business noise"), "residential": marked("residential noise"), "rural": marked("rural noise"),
    "quiet rural": marked("quiet rural noise"), "galactic": marked("galactic noise"),
}  # fmt: skip
MODEL = marked("ITU-R P.533 with {model}; solar flux {flux} (sunspot number {number}).")
ASSUMED = marked(
    "{sent}, both antennas together {gains} dB, {noise} at the other end. The ionosphere over the station stands "
    "for that of the whole path: beyond 500 km the chart runs early to the west and late to the east."
)


def mark(index: int) -> str:
    """A letter for each power and mode."""
    return ascii_letters[index]


def sent_words(index: int, sent: Sequence[Mapping[str, Any]]) -> str:
    """One power and mode with its letter: "a: 10 W, CW"."""
    return f"{mark(index)}: {plain(sent[index]['power_w'])} W, {sent[index]['mode']}"


def basis_words(outlook: Mapping[str, Any]) -> Iterator[str]:
    """Model and sun, then power, mode and the rest of what is assumed."""
    assumed, index, sent = outlook["assumed"], outlook["index"], outlook["sent"]
    flux, number = (f"{index[key]:.0f}" for key in ("f107", "sunspot_number"))
    yield _(MODEL).format(model=model_words(outlook["model"]), flux=flux, number=number)
    gains, noise = plain(assumed["gains_db"]), _(NOISE[assumed["noise"]])
    yield _(ASSUMED).format(sent=_sent(sent), gains=gains, noise=noise)


def _sent(sent: Sequence[Mapping[str, Any]]) -> str:
    if len(sent) == 1:
        return f"{plain(sent[0]['power_w'])} W, {sent[0]['mode']}"
    words = "; ".join(sent_words(index, sent) for index in range(len(sent)))
    return _('Power and mode as the row "sent" has them ({sent})').format(sent=words)
