"""What the schedule says of frequency, power, mode and share of transmitting."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from afield.core.api import CannotTell, _, frozen, quoted_list, trimmed
from afield.plugins.radio.bands import BANDS, band_of
from afield.plugins.radio.figures import Figure

Stated = Mapping[str, Any]
WHERE = ("band", "frequency_mhz")
SHARE_AROUND = 0.05
"""95 %, of the time: how well a planned share of transmitting is kept. Common practice, no source."""


@frozen
class Planned:
    """One use of the station.

    Attributes:
        label: frequency or band, as it is shown; "" where neither is stated.
        band: of the table; None where it is not known.
        mhz: the frequency, of a band its centre and half its width; None where it is not known.
        written: the band as the plan has it, where the table does not know it or the frequency lies elsewhere.
        power_w, mode, share: planned output, mode and share of transmitting; None where not stated.

    """

    label: str = ""
    band: str | None = None
    mhz: Figure | None = None
    written: str | None = None
    power_w: float | None = None
    mode: str | None = None
    share: float | None = None

    def frequency(self) -> Figure:
        """The frequency.

        Raises:
            CannotTell: neither a frequency nor a band that the table knows is planned, or the two disagree.

        """
        if self.mhz is not None and self.written is not None:
            what = _("{frequency} is planned on {band}, where it does not lie")
            what = what.format(frequency=self.label, band=self.written)
            raise CannotTell(what, "schedule.frequency", "cannot be computed", "trip")
        if self.mhz is not None:
            return self.mhz
        if self.written is not None:
            what = _("the band {band} is not one of {known}").format(band=self.written, known=quoted_list(BANDS))
            raise CannotTell(what, "schedule.band", "cannot be computed", "trip")
        raise CannotTell(_("no band and no frequency is planned"), "schedule.band", "not stated", "trip")

    def known_band(self) -> str:
        """The band.

        Raises:
            CannotTell: no band is planned, or the planned frequency lies in none.

        """
        self.frequency()
        if self.band is None:
            what = _("{frequency} lies in no amateur band").format(frequency=self.label)
            raise CannotTell(what, "schedule.frequency", "outside validity", "trip")
        return self.band


def merged(common: Stated, slots: Sequence[Stated]) -> list[dict[str, Any]]:
    """What holds in each slot: its own, else the schedule's; a slot with a band or a frequency has only its own."""
    return [_merged(common, slot) for slot in slots] or [dict(common)]


def _merged(common: Stated, slot: Stated) -> dict[str, Any]:
    elsewhere = any(slot.get(key) is not None for key in WHERE)
    kept = {key: value for key, value in common.items() if not (elsewhere and key in WHERE)}
    return {key: kept.get(key) if slot.get(key) is None else slot[key] for key in common}


def planned_uses(uses: Sequence[Stated]) -> list[Planned]:
    """Each use that differs from the others, in order; one that says nothing where there is none."""
    return list(dict.fromkeys(_planned(use) for use in uses or [{}]))


def _planned(use: Stated) -> Planned:
    power, mode, share = use.get("power_w"), use.get("mode"), use.get("transmit_share")
    planned = _where(use.get("frequency_mhz"), use.get("band"))
    return replace(planned, power_w=power, mode=mode, share=share)


def _where(mhz: float | None, name: str | None) -> Planned:
    if mhz is not None:
        label, band = f"{trimmed(mhz)} MHz", band_of(mhz)
        beside = name in BANDS and name != band
        return Planned(label, band, Figure(mhz, 0.0, "frequency"), name if beside else None)
    if name is None or name not in BANDS:
        return Planned(name or "", written=name)
    low, high = BANDS[name]
    return Planned(name, name, Figure((low + high) / 2, (high - low) / 2, f"frequency on {name}"))
