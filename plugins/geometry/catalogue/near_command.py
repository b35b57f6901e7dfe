"""`afield near`."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any

from afield.core.api import Argument, Option, UsageError

_At = Annotated[
    str | None,
    Argument(
        metavar="POSITION",
        help='"LAT, LON", a grid locator, UTM, MGRS, or FILE or FILE:POINT; left out, that of --trip. '
        'Of one that begins with a minus, write "33.9 S 18.4 E", or -- before it.',
        show_default=False,
    ),
]
_Catalogue = Annotated[
    str | None,
    Option("--catalogue", help="The catalogue; else refs.sqlite beside, or in the folder of the user's data."),
]


def near(
    position: _At = None,
    catalogue: _Catalogue = None,
    within: Annotated[str, Option("--within", help="How far to look.")] = "5 km",
    reach: Annotated[
        str | None, Option("--reach", help="How far the station reaches from the position, such as 25m.")
    ] = None,
    trip: Annotated[Path | None, Option("--trip", help="Judge what is found by this plan's station and packs.")] = None,
    accuracy: Annotated[str | None, Option("--accuracy", help="How accurate the position is.")] = None,
    level: Annotated[str | None, Option("--level", help="Level of --accuracy: 68% (if unsaid) or 95%.")] = None,
    format: Annotated[str, Option("--format", help="text or json.")] = "text",
) -> int:
    """List the references that hold a position or come near it."""
    if format not in ("text", "json"):
        raise UsageError(f"--format {format} is not known\n    = Write --format text or --format json.")
    if reach is not None and trip is not None:
        raise UsageError("--reach and --trip both say how far the station reaches\n    = Keep one of them.")
    if position is None and trip is None:
        raise UsageError('near needs a position\n    = Write one, such as afield near "39.90412, -117.30288".')
    found = _found(position, catalogue, within, reach, trip, accuracy, level)
    print(json.dumps(found, indent=2, ensure_ascii=False) if format == "json" else _text(found))
    return 0


def _found(
    position: str | None, catalogue: str | None, within: str, reach: str | None, trip: Path | None,
    accuracy: str | None, level: str | None,
) -> dict[str, Any]:  # fmt: skip
    from afield.plugins.geometry.catalogue import asked as asking
    from afield.plugins.geometry.catalogue.findings import findings
    from afield.plugins.geometry.catalogue.layout import CatalogueError
    from afield.plugins.geometry.catalogue.opening import opened

    within_m = asking.within_m(within)
    reach_m = None if reach is None else asking.length_m("--reach", reach)
    asked = None if position is None else asking.position_asked(position, accuracy, level)
    path, shown = asking.catalogue_path(catalogue, None if trip is None else trip.parent)
    try:
        with opened(path, shown) as connection:
            if trip is not None:
                from afield.plugins.geometry.catalogue.judging import judged

                return judged(connection, (path, shown), trip, asked, within_m)
            assert asked is not None
            return findings(connection, shown, asked, within_m, reach_m)
    except CatalogueError as error:
        raise asking.catalogue_input_error(error) from error


def _text(found: dict[str, Any]) -> str:
    from afield.plugins.geometry.catalogue.saying import near_text

    return near_text(found).removesuffix("\n")
