"""`afield place`."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any

import typer

from afield.core.api import Engine, UsageError, _, load, named_as_given, refuse_standing
from afield.plugins.geometry.placement import asking
from afield.plugins.geometry.placement.telling import Teller

FILES = ("placement.html", "placement.geojson", "placement.gpx", "placement.kml", "placement.json")
"""What `-o` writes."""
STATUS = {"fits": 0, "nothing fits": 1, "cannot tell": 3}
CRASHED = 4


def place(
    plan: Annotated[Path, typer.Argument(help="The plan, a YAML file.", show_default=False)],
    within: Annotated[
        str, typer.Option("--within", help="How far to look to each side of the middle.")
    ] = asking.WITHIN,
    around: Annotated[
        str | None, typer.Option("--around", help="Middle of the window, as LAT,LON; else where the plan stands.")
    ] = None,
    start: Annotated[
        str | None, typer.Option("--from", help="Access point, as LAT,LON: the way from there is told, too.")
    ] = None,
    accuracy: Annotated[
        str | None,
        typer.Option("--accuracy", help="How well the place will be found, as 5 m (68 %); else as the plan says."),
    ] = None,
    variant: Annotated[str | None, typer.Option("--variant", help="Place this variant.", show_default=False)] = None,
    folder: Annotated[
        Path | None, typer.Option("-o", "--output", help="Also write page, map files and JSON to this folder.")
    ] = None,
    format: Annotated[str, typer.Option("--format", help="text or json.")] = "text",
    force: Annotated[bool, typer.Option("--force", help="Write over files that stand already.")] = False,
) -> int:
    """Say where the station can stand, and which way it can lie, so that all claims count."""
    if format not in ("text", "json"):
        raise UsageError(f"--format {format} is not known\n    = Write --format text or --format json.")
    given = (("within", within), ("around", around), ("from", start), ("accuracy", accuracy))
    asked = asking.wanted({name: text for name, text in given if text is not None})
    if folder is not None:
        # Said before the work is done, not after it.
        refuse_standing([folder / name for name in FILES], force)
    engine = Engine()
    try:
        with named_as_given(plan), Teller() as teller:
            found, crashes = asking.placed(load(plan, engine, variant), engine, asked, teller.tell)
    except asking.Unplaced as unplaced:
        typer.echo(str(unplaced), err=True)
        return STATUS["cannot tell"]
    return _told(found, crashes, folder, format, force)


def _told(found: dict[str, Any], crashes: list[str], folder: Path | None, format: str, force: bool) -> int:
    from afield.plugins.geometry.placement.text import placement_text

    as_json = format == "json"
    text = json.dumps(found, indent=2, ensure_ascii=False) + "\n"
    typer.echo(text if as_json else placement_text(found), nl=False)
    if folder is not None:
        _write(found, text, folder, force)
        written = _("{file} is written; print it, or open it on the phone.").format(file=folder / FILES[0])
        typer.echo(written, err=as_json)
    for crash in crashes:
        typer.echo(_("failed: {what}").format(what=crash), err=True)
    return CRASHED if crashes else STATUS[found["outcome"]]


def _write(found: dict[str, Any], text: str, folder: Path, force: bool) -> None:
    from afield.core.api import write_all
    from afield.plugins.geometry.placement.exports import geojson, gpx, kml
    from afield.plugins.geometry.placement.page import placement_html

    texts = (placement_html(found), geojson(found), gpx(found), kml(found), text)
    write_all({folder / name: each for name, each in zip(FILES, texts, strict=True)}, force)
