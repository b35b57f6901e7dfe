"""The picture in the README is the one that the program draws."""

from __future__ import annotations

import runpy
from pathlib import Path


def test_the_picture_is_what_the_demo_draws_today() -> None:
    drawing = runpy.run_path(str(Path(__file__).parent / "readme_picture.py"))
    kept = drawing["PICTURE"].read_text(encoding="utf-8")
    assert kept == drawing["drawn"](), "run `python tests/project/readme_picture.py`"


def test_the_readme_shows_it() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    assert "](.pictures/demo-map.svg)" in readme
