"""`afield catalogue build` and `afield catalogue show`."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Any

import typer

from afield.core.api import UsageError, did_you_mean

ACTIONS = ("build", "show")
_Texts = list[str] | None


def catalogue(
    action: Annotated[str, typer.Argument(metavar="ACTION", help="build or show.", show_default=False)],
    files: Annotated[
        list[Path] | None,
        typer.Argument(
            help="build: GeoJSON, GPX, KML, shapefile, GeoPackage or FlatGeobuf files, or CSV with name, lat and lon; "
            "show: a catalogue.",
            show_default=False,
        ),
    ] = None,
    output: Annotated[Path, typer.Option("-o", "--output", help="Where to write it.")] = Path("refs.sqlite"),
    program: Annotated[str | None, typer.Option("--program", help="The award program of all references.")] = None,
    program_field: Annotated[
        str | None, typer.Option("--program-field", help="The field that holds each one's program.")
    ] = None,
    name_field: Annotated[
        str | None,
        typer.Option("--name-field", help="The field that holds each one's name; else name, title or label."),
    ] = None,
    skip_unnamed: Annotated[bool, typer.Option("--skip-unnamed", help="Leave out features without a name.")] = False,
    join: Annotated[
        bool, typer.Option("--join", help="Features of one name, kind and layer are parts of one reference.")
    ] = False,
    source: Annotated[
        _Texts, typer.Option("--source", help="Who made the map; once for all files, or for each.")
    ] = None,
    licence: Annotated[_Texts, typer.Option("--licence", help="Its licence; once, or for each file.")] = None,
    dated: Annotated[_Texts, typer.Option("--dated", help="Of which date it is; once, or for each file.")] = None,
    map_accuracy: Annotated[
        _Texts, typer.Option("--map-accuracy", help="Its accuracy, such as 5m; once, or for each file.")
    ] = None,
    level: Annotated[
        str | None, typer.Option("--level", help="Level of the maps' accuracy: 68% (if unsaid) or 95%.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Write over a catalogue that stands already.")] = False,
) -> int:
    """Build a catalogue of references, or show what is in one."""
    if action == "show":
        return _show(files or [])
    if action != "build":
        guess = did_you_mean(action, ACTIONS)
        advice = f"Did you mean {guess}?" if guess else "Write build or show."
        raise UsageError(f"catalogue {action} is not known\n    = {advice}")
    if program is not None and program_field is not None:
        raise UsageError("--program and --program-field both name the program\n    = Keep one of them.")
    from afield.plugins.geometry.catalogue.naming import Naming

    naming = Naming(name_field, program, program_field, skip_unnamed)
    stated = {"source": source, "licence": licence, "dated": dated, "map_accuracy": map_accuracy}
    return _build(files or [], output, naming, join, stated, level, force)


def _build(
    files: Sequence[Path], output: Path, naming: Any, join: bool, stated: dict[str, _Texts], level: str | None,
    force: bool,
) -> int:  # fmt: skip
    from afield.core.api import refuse_standing
    from afield.plugins.geometry.catalogue.asked import catalogue_input_error, input_error
    from afield.plugins.geometry.catalogue.building import build
    from afield.plugins.geometry.catalogue.layout import CatalogueError
    from afield.plugins.geometry.catalogue.saying import printable
    from afield.plugins.geometry.readers import GeoFileError

    if not files:
        raise UsageError(
            "there is nothing to build it from\n    = Name one or more files: afield catalogue build FILES..."
        )
    refuse_standing([output], force)
    wanted = wanted_files(files, stated, level)
    try:
        with progress_shown() as progress:
            counts = build(wanted, output, naming, join, progress)
    except GeoFileError as error:
        shown = max((str(file) for file in files if error.what.startswith(str(file))), key=len, default=str(output))
        raise input_error(shown, error.what, error.advice) from error
    except CatalogueError as error:
        raise catalogue_input_error(error) from error
    print("\n".join(map(printable, _summary(counts, output))))
    return 0


def wanted_files(files: Sequence[Path], stated: dict[str, _Texts], level: str | None) -> list[Any]:
    """Each file with what is stated of it. Raises UsageError where an option is given neither once nor for each."""
    from afield.plugins.geometry.catalogue.building import Wanted

    shares = {key: _shared_out(key, values, len(files)) for key, values in stated.items()}
    return [
        Wanted(file, str(file), _provenance({key: values[number] for key, values in shares.items()}, level))
        for number, file in enumerate(files)
    ]


def _shared_out(key: str, values: _Texts, count: int) -> list[str | None]:
    if not values:
        return [None] * count
    if len(values) not in (1, count):
        flag = f"--{key.replace('_', '-')}"
        what = f"{flag} is given {len(values)} times for {count} file{'' if count == 1 else 's'}"
        raise UsageError(f"{what}\n    = Give it once, or once for each file.")
    return [*values] if len(values) == count else [values[0]] * count


def _provenance(stated: dict[str, str | None], level: str | None) -> Any:
    from afield.plugins.geometry.catalogue.asked import length_m, level_percent
    from afield.plugins.geometry.catalogue.rows import Provenance

    accuracy = stated["map_accuracy"]
    metres = None if accuracy is None else length_m("--map-accuracy", accuracy)
    if metres == 0:
        advice = "A map is never exact; write what its maker states, such as --map-accuracy 5m."
        raise UsageError(f"--map-accuracy {accuracy} is not above 0\n    = {advice}")
    if level is not None and metres is None:
        raise UsageError("--level stands without --map-accuracy\n    = Write both, or neither.")
    return Provenance(**stated, map_accuracy_m=metres, level=None if level is None else level_percent(level))


@contextmanager
def progress_shown() -> Iterator[Callable[[str, int, float], None] | None]:
    """Tells on a terminal how far the work is; silent in a pipe."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TaskID, TextColumn

    columns = (TextColumn("{task.description}", markup=False), BarColumn(), TextColumn("{task.fields[count]} features"))
    bars: dict[str, TaskID] = {}
    with Progress(*columns, console=Console(stderr=True), transient=True) as shown_bars:

        def tell(shown: str, count: int, share: float) -> None:
            if shown not in bars:
                bars[shown] = shown_bars.add_task(shown, total=1.0, count="0")
            shown_bars.update(bars[shown], completed=share, count=f"{count:,}")

        yield tell


def _summary(counts: Any, output: Path) -> Iterator[str]:
    plural = {"area": "areas", "line": "lines", "point": "points"}
    kinds = [f"{count:,} {kind if count == 1 else plural[kind]}" for kind, count in sorted(counts.kinds.items())]
    layers = f"{counts.layers} layer{'' if counts.layers == 1 else 's'}"
    yield f"{output} is written: {', '.join(kinds)} from {layers}."
    if counts.unnamed:
        left_out = "feature has no name and was" if counts.unnamed == 1 else "features have no name and were"
        yield f"{counts.unnamed:,} {left_out} left out."
    yield from (f"note: {note}" for note in counts.notes)


def _show(files: Sequence[Path]) -> int:
    from afield.plugins.geometry.catalogue.asked import catalogue_input_error
    from afield.plugins.geometry.catalogue.layout import CatalogueError
    from afield.plugins.geometry.catalogue.opening import opened
    from afield.plugins.geometry.catalogue.showing import shown_lines

    if len(files) != 1:
        raise UsageError("catalogue show needs one catalogue\n    = Name it: afield catalogue show refs.sqlite.")
    try:
        with opened(files[0], str(files[0])) as connection:
            lines = list(shown_lines(connection))
    except CatalogueError as error:
        raise catalogue_input_error(error) from error
    print("\n".join(lines))
    return 0
