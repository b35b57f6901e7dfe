"""What stands around the map: frame, grid figures, scale bars in metres and feet, the north arrow."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

from afield.core.api import _, local_digits
from afield.plugins.geometry.pacing import FOOT_M
from afield.plugins.geometry.sheet import LEFT, Sheet
from afield.plugins.geometry.strokes import INK, number, stroked, words

SMALL = 12.0
MEDIUM = 13.5
BAR = 8.0
DIGIT = 0.68
"""Width of a figure by its height, in the widest fonts that are usual."""


def furniture(sheet: Sheet, declination_deg: float | None) -> str:
    """Everything around the map's frame.

    Args:
        sheet: what is drawn on.
        declination_deg: of the magnetic needle, east positive; None if not known.

    """
    border = sheet.frame_rect.replace("/>", f' fill="none" stroke="{INK}" stroke-width="1.6"/>')
    return f"{border}{''.join(_grid_figures(sheet))}{_bars(sheet)}{north_arrow(sheet, declination_deg)}"


def _grid_figures(sheet: Sheet) -> Iterator[str]:
    frame = sheet.frame
    for east, x in _apart(sheet.easts, 34):
        if frame.left + 8 <= x <= frame.right - 10:
            yield words(local_digits(f"{east:g}"), x, frame.bottom + 15, SMALL, "middle")
    for north, y in _apart(sheet.norths, 18):
        if frame.top + 6 <= y <= frame.bottom - 4:
            yield words(local_digits(f"{north:g}"), frame.left - 5, y + 4, SMALL, "end")


def _apart(lines: list[tuple[float, float]], least: float) -> list[tuple[float, float]]:
    """Every line, or every second or fifth if the figures would run into each other; 0 is always among them."""
    if len(lines) < 2:
        return lines
    step = abs(lines[1][0] - lines[0][0])
    gap = abs(lines[1][1] - lines[0][1])
    every = next((count for count in (1, 2, 5, 10) if gap * count >= least), 20)
    return [line for line in lines if round(line[0] / step) % every == 0]


def _bars(sheet: Sheet) -> str:
    top = sheet.frame.bottom + 32
    metres = _bar(sheet, top, sheet.view["scale_m"], "m", 1.0)
    return metres + _bar(sheet, top + 32, sheet.view["scale_ft"], "ft", FOOT_M)


def _bar(sheet: Sheet, top: float, length: float, unit: str, unit_m: float) -> str:
    """A bar of two halves, one black and one white, with its figures to its right."""
    width = length * unit_m * sheet.scale
    half, end = number(width / 2), local_digits(f"{length:g} {unit}")
    box = f'y="{number(top)}" height="{number(BAR)}" stroke="{INK}" stroke-width="1.4"'
    return (
        f'<g data-bar="{unit}" data-length="{length:g}">'
        f'<rect x="{number(LEFT)}" width="{number(width)}" {box} fill="#fff"/>'
        f'<rect x="{number(LEFT)}" width="{half}" {box} fill="{INK}"/></g>'
        + words("0", LEFT, top + BAR + 13, SMALL, "middle")
        + _half_figure(local_digits(f"{length / 2:g}"), width / 2, top, len(end))
        + words(end, LEFT + width, top + BAR + 13, MEDIUM, "middle")
    )


def _half_figure(figure: str, half: float, top: float, letters: int) -> str:
    """The figure in the middle of a bar; none where it would run into the one at its end."""
    needed = DIGIT * (len(figure) * SMALL + letters * MEDIUM) / 2
    return words(figure, LEFT + half, top + BAR + 13, SMALL, "middle") if half > needed else ""


def north_arrow(sheet: Sheet, declination_deg: float | None) -> str:
    """An arrow to true north with, where it is known, a dashed line along the magnetic needle."""
    x, top, bottom = sheet.frame.right - 46, sheet.frame.bottom + 22, sheet.frame.bottom + 84
    arrow = f'<path d="M{number(x)} {number(top)}l7 20l-7 -5l-7 5Z" fill="{INK}"/>' + stroked(
        f"M{number(x)} {number(top + 14)}V{number(bottom)}", 2
    )
    true = words(_("N true"), x - 12, top + 14, MEDIUM, "end")
    return f'<g data-north="true">{arrow}{true}{_needle(x, bottom, declination_deg)}</g>'


def _needle(x: float, bottom: float, declination_deg: float | None) -> str:
    if declination_deg is None:
        return ""
    turn = radians(declination_deg)
    tip_x, tip_y = x + 50 * sin(turn), bottom - 50 * cos(turn)
    line = stroked(f"M{number(x)} {number(bottom)}L{number(tip_x)} {number(tip_y)}", 1.4, dash="3 2")
    told = _("compass {degrees}° E") if declination_deg >= 0 else _("compass {degrees}° W")
    return line + words(told.format(degrees=f"{abs(declination_deg):.0f}"), x - 12, bottom - 6, MEDIUM, "end")
