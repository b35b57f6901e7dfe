"""Draws the README's picture from the demo: `python tests/project/readme_picture.py` writes it anew."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from afield.core.engine import Engine, judge, load, report

PICTURE = Path(__file__).parents[2] / ".pictures" / "demo-map.svg"


def drawn() -> str:
    """The map of the demo's briefing on white paper, as a file of its own."""
    engine = Engine()
    plan = Path(str(files("afield.programs").joinpath("demo", "trip.yaml")))
    found = report(judge(load(plan, engine), engine), engine, briefing=True)
    data = next(section["data"] for section in found["sections"] if section["name"] == "map")
    figure = next(section for section in engine.sections if section.name == "map").figures["map"](data)
    head, tail = figure.split(">", 1)
    box = head.split('viewBox="', 1)[1].split('"', 1)[0]
    framed = head.replace('font-family="inherit"', 'font-family="sans-serif" width="640"')
    width, height = box.split()[2:]
    paper = f'<rect width="{width}" height="{height}" fill="#fff"/>'
    return f"{framed}>{paper}{tail}\n"


if __name__ == "__main__":
    PICTURE.parent.mkdir(exist_ok=True)
    PICTURE.write_text(drawn(), encoding="utf-8")
