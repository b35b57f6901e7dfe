"""The section of the briefing that shows which bands carry how far, and when."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

from afield.core.api import Section
from afield.plugins.ionosphere.chart import panel_figure, swatch
from afield.plugins.ionosphere.plain import outlook_text
from afield.plugins.ionosphere.section_data import WANTS, outlook_data

PANELS = 3
STATES = {
    "open": ("open", ""), "near": ("marginal", "frequency"), "weak": ("marginal", "signal"),
    "above": ("closed", "frequency"), "too weak": ("closed", "signal"),
}  # fmt: skip
"""Drawing of the key -> state, and what it lacks."""


def sections() -> list[Section]:
    """The band outlook."""
    schema: dict[str, Any] = json.loads(files("afield.schemas").joinpath("sections", "outlook.json").read_text("utf-8"))
    figures = {f"panel {index}": panel_figure(index) for index in range(PANELS)}
    return [
        Section(
            name="outlook", title="Band outlook", order=160, wants=WANTS, data=outlook_data, schema=schema,
            template="outlook.html", package="afield.plugins.ionosphere", text=outlook_text,
            figures={**figures, **{name: swatch(*pair) for name, pair in STATES.items()}},
        )
    ]  # fmt: skip
