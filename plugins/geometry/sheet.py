"""The sheet that a map is drawn on: metres of the plane to units of the drawing, with room for scale and north."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import hypot
from typing import Any

from afield.core.api import frozen
from afield.plugins.geometry.labels import Box
from afield.plugins.geometry.strokes import number
from afield.plugins.geometry.windows import Point, Window, multiples

MAP_WIDTH = 376.0
SMALL_WIDTH = 300.0
LEFT = 44.0
TOP = 6.0
RIGHT = 8.0
BELOW = 98.0
GRID = "#b4b4b4"


@frozen
class Sheet:
    """A window of the plane on the drawing.

    Attributes:
        name: prefix of the drawing's ids.
        window: what is shown, metres.
        scale: units of the drawing to a metre.
        width: of the map's frame, units of the drawing.
        view: the view's JSON.

    """

    name: str
    window: Window
    scale: float
    width: float
    view: Mapping[str, Any]

    @classmethod
    def of(cls, view: Mapping[str, Any], name: str, width: float) -> Sheet:
        """The sheet for a view of the map's JSON."""
        window = Window(**view["window"])
        return cls(name, window, width / window.width, width, view)

    @property
    def frame(self) -> Box:
        """The map's frame on the drawing."""
        return Box(LEFT, TOP, LEFT + self.width, TOP + self.window.height * self.scale)

    @property
    def page_width(self) -> float:
        """Width of the whole drawing."""
        return LEFT + self.width + RIGHT

    @property
    def page_height(self) -> float:
        """Height of the whole drawing."""
        return self.frame.bottom + BELOW

    @property
    def frame_rect(self) -> str:
        """The frame as an SVG rectangle without style."""
        frame = self.frame
        size = f'width="{number(self.width)}" height="{number(frame.bottom - frame.top)}"'
        return f'<rect x="{number(frame.left)}" y="{number(frame.top)}" {size}/>'

    @property
    def grid(self) -> str:
        """The metric grid as one light path."""
        frame = self.frame
        across = "".join(f"M{number(frame.left)} {number(y)}H{number(frame.right)}" for _, y in self.norths)
        down = "".join(f"M{number(x)} {number(frame.top)}V{number(frame.bottom)}" for _, x in self.easts)
        return f'<path d="{across}{down}" fill="none" stroke="{GRID}" stroke-width="0.7"/>'

    @property
    def easts(self) -> list[tuple[float, float]]:
        """The grid's eastings in metres, each with its x."""
        return [(e, self.at((e, 0))[0]) for e in multiples(self.window.west, self.window.east, self.view["grid_m"])]

    @property
    def norths(self) -> list[tuple[float, float]]:
        """The grid's northings in metres, each with its y."""
        return [(n, self.at((0, n))[1]) for n in multiples(self.window.south, self.window.north, self.view["grid_m"])]

    def at(self, point: Point) -> tuple[float, float]:
        """Where a point of the plane lies on the drawing."""
        x = LEFT + (point[0] - self.window.west) * self.scale
        return x, TOP + (self.window.north - point[1]) * self.scale

    def thinned(self, path: Sequence[Point]) -> list[tuple[float, float]]:
        """A path on the drawing without the vertices that are too close together to be seen apart."""
        kept: list[tuple[float, float]] = []
        for point in path:
            x, y = self.at(point)
            if not kept or hypot(x - kept[-1][0], y - kept[-1][1]) > 0.4:
                kept.append((x, y))
        return kept
