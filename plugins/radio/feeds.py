"""What the antenna shows to the line on a frequency, and whether it is made for it."""

from __future__ import annotations

from afield.core.api import _, amount_in, marked
from afield.plugins.radio.bands import band_of
from afield.plugins.radio.figures import Figure
from afield.plugins.radio.planned import Planned
from afield.plugins.radio.things import Thing

READ_OWN, READ_TYPICAL = 0.1, 0.2
READ_NOTE = marked(
    "A stated SWR is taken as good to ± 10 %, the catalogue's to ± 20 % (95 %; common practice, no source)."
)
"""95 %, of a standing wave ratio, and in words: read of this antenna, and of its sort. Common practice, no source."""
USUAL_SWR, USUAL_AROUND = 1.5, 0.5
USUAL_NOTE = marked(
    "An SWR that is not stated is taken as 1 to 2 on a band of the antenna (common practice, no source)."
)


def bands_of(antenna: Thing) -> list[str] | None:
    """The bands that the antenna is made for; those of its stated ratios where no list is stated; None for neither."""
    told = antenna.of("antenna")
    if "bands" in told:
        return [str(band) for band in told["bands"]]
    found = [_band(entry) for entry in told.get("swr", ())]
    return [band for band in found if band is not None] or None


def covers(antenna: Thing, planned: Planned) -> bool | None:
    """Whether the antenna is made for the planned band; None where that is not stated, or no band is planned."""
    bands = bands_of(antenna)
    return None if bands is None or planned.band is None else planned.band in bands


def swr_of(antenna: Thing, planned: Planned) -> Figure | None:
    """The standing wave ratio at the feed point: as stated for the band, else usual for a band that it is made for."""
    entries = antenna.of("antenna").get("swr", ())
    near = [entry for entry in entries if planned.band is not None and _band(entry) == planned.band]
    if near:
        ratio = float(min(near, key=lambda entry: _distance(entry, planned))["ratio"])
        share = READ_TYPICAL if antenna.typical("antenna.swr") else READ_OWN
        return Figure(ratio, share * ratio, f"swr of {antenna.name} on {planned.band}", 1.0)
    if covers(antenna, planned):
        return Figure(USUAL_SWR, USUAL_AROUND, f"swr of {antenna.name} on {planned.band}", 1.0)
    return None


def swr_note(antenna: Thing, planned: Planned) -> str | None:
    """What is taken for granted of the ratio; None where there is none."""
    if swr_of(antenna, planned) is None:
        return None
    entries = antenna.of("antenna").get("swr", ())
    return _(READ_NOTE if any(_band(entry) == planned.band for entry in entries) else USUAL_NOTE)


def _band(entry: dict[str, object]) -> str | None:
    if "band" in entry:
        return str(entry["band"])
    return band_of(amount_in(str(entry["at"]), "MHz"))


def _distance(entry: dict[str, object], planned: Planned) -> float:
    """A ratio of the whole band stands for what no ratio at a frequency is near to."""
    if "at" not in entry:
        return 0.0 if planned.mhz is None or planned.mhz.around else float("inf")
    return abs(amount_in(str(entry["at"]), "MHz") - planned.frequency().value)
