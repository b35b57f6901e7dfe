"""The amateur bands that the ionosphere carries, by their names in metres."""

from __future__ import annotations

from typing import NamedTuple


class Band(NamedTuple):
    """A band, and the part of it that all three regions share."""

    name: str
    low_mhz: float
    high_mhz: float

    @property
    def centre_mhz(self) -> float:
        """Middle of that part; it stands for the whole band."""
        return round((self.low_mhz + self.high_mhz) / 2, 4)


BANDS = (
    Band("160 m", 1.81, 1.85),
    Band("80 m", 3.5, 3.8),
    Band("60 m", 5.3515, 5.3665),
    Band("40 m", 7.0, 7.2),
    Band("30 m", 10.1, 10.15),
    Band("20 m", 14.0, 14.35),
    Band("17 m", 18.068, 18.168),
    Band("15 m", 21.0, 21.45),
    Band("12 m", 24.89, 24.99),
    Band("10 m", 28.0, 29.7),
)
"""Source: ITU Radio Regulations (2024), article 5, the parts that Regions 1, 2 and 3 share.

They say what a band's frequency is, not what an operator may use: that is for the local rules and the licence.
"""
