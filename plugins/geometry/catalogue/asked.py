"""What `afield near` is asked: the position in any of its forms, a length, and which catalogue."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from afield.core.api import InputError, Place, Problem, QuantityError, UsageError, convert, frozen, parse_quantity
from afield.plugins.geometry.catalogue.layout import CatalogueError
from afield.plugins.geometry.catalogue.looking import FARTHEST_M
from afield.plugins.geometry.computations.doubt import sigma_m
from afield.plugins.geometry.position_form import PositionError, PositionForm
from afield.plugins.geometry.positions import from_text, read_position
from afield.plugins.geometry.readers import GeoFileError, read_layer

USUAL_NAME = "refs.sqlite"
_SUFFIXES = (".gpx", ".geojson", ".json", ".kml", ".gpkg", ".shp", ".fgb")


@frozen(slots=False)
class Asked:
    """The position that is asked for.

    Attributes:
        at: as a plan states it.
        form: the same, read.
        accuracy_m, level: its stated accuracy; None if there is none.

    """

    at: Mapping[str, Any]
    form: PositionForm
    accuracy_m: float | None = None
    level: int | None = None

    @property
    def sigma_m(self) -> float:
        """Of each axis; 0 where no accuracy is stated."""
        return 0.0 if self.accuracy_m is None else sigma_m(self.accuracy_m, self.level or 68)


def position_asked(text: str, accuracy: str | None, level: str | None) -> Asked:
    """The position that the words on the command line mean.

    Raises:
        UsageError: they mean none, or the accuracy is none.
        InputError: the file that they name cannot be used.

    """
    if not any(character.isdigit() for character in text) and _file_in(text) is None:
        raise UsageError(f'"{text}" is no position\n    = {_AS_WRITTEN}')
    if level is not None and accuracy is None:
        raise UsageError("--level stands without --accuracy\n    = Write both, or neither.")
    try:
        at = _file_in(text) or from_text(text)
        form = read_position(at, lambda file, layer: read_layer(Path(file), file, layer))
    except GeoFileError as error:
        raise input_error(at["file"], error.what, error.advice) from error
    except PositionError as error:
        # A plan's forms are not what one types here.
        advice = _AS_WRITTEN if error.advice.startswith("Write {") else error.advice
        raise UsageError(f"{error.what}\n    = {advice}") from None
    accuracy_m = None if accuracy is None else length_m("--accuracy", accuracy)
    return Asked(at, form, accuracy_m, None if accuracy_m is None else level_percent(level))


_AS_WRITTEN = 'Write "39.90412, -117.30288", "39 54.247 N 117 18.173 W", DM19iv, or points.gpx:NAME.'


def _file_in(text: str) -> Mapping[str, Any] | None:
    """FILE or FILE:POINT, if the words look like one."""
    name, mark, point = text.rpartition(":")
    if mark and (Path(name).is_file() or name.lower().endswith(_SUFFIXES)):
        return {"file": name, "point": point}
    if Path(text).is_file() or text.lower().endswith(_SUFFIXES):
        return {"file": text}
    return None


def input_error(file: str, what: str, advice: str) -> InputError:
    """A reader's complaint as the command line prints it; its words begin with the file's name."""
    # Its words for a file that is not there take it for one that a plan names.
    advice = advice.replace(
        "Write its path as seen from the folder of the file that names it.", "Check its name and folder."
    )
    place, _, rest = what.removeprefix(file).partition(": ")
    numbers = [int(number) for number in place.split(":")[1:] if number.isdigit()]
    line, column = (*numbers, 0, 0)[:2]
    return InputError([Problem(Place(file, line, column), rest, advice)])


def catalogue_input_error(error: CatalogueError) -> InputError:
    """The complaint about a catalogue as the command line prints it."""
    return InputError([Problem(Place(error.file), error.what, error.advice)])


def length_m(flag: str, text: str) -> float:
    """A length of the command line in metres. Raises UsageError where it is none, or below 0."""
    try:
        quantity = parse_quantity(text, "m")
        metres = convert(float(quantity.digits), quantity.unit, "m")
    except QuantityError as error:
        raise UsageError(f"{flag} {text}: {error.what}\n    = {error.advice}") from error
    if metres < 0:
        raise UsageError(f"{flag} {text} is below 0\n    = Write a length, such as {flag} 25m.")
    return metres


def within_m(text: str) -> float:
    """How far to look. Raises UsageError for more than the distances are right for."""
    metres = length_m("--within", text)
    if metres > FARTHEST_M:
        most = f"{FARTHEST_M / 1000:g} km"
        what = f"--within {text} is more than {most}, up to which distances are right to a centimetre"
        raise UsageError(f"{what}\n    = Ask for {most} at most.")
    return metres


def level_percent(text: str | None) -> int:
    """The level of an accuracy, 68 if unsaid. Raises UsageError for any but 68 % and 95 %."""
    if text is None:
        return 68
    if text.replace(" ", "").removesuffix("%") not in ("68", "95"):
        raise UsageError(f"--level {text} is not known\n    = Write 68% or 95%.")
    return int(text.replace(" ", "").removesuffix("%"))


def catalogue_path(named: str | None, folder: Path | None) -> tuple[Path, str]:
    """The catalogue to ask, and how messages call it: the one named, else the usual one, beside or in the user's data.

    Raises:
        UsageError: none is found.

    """
    if named is not None:
        return Path(named), named
    for beside in dict.fromkeys([folder or Path(), Path()]):
        if (beside / USUAL_NAME).exists():
            return beside / USUAL_NAME, str(beside / USUAL_NAME)
    from platformdirs import user_data_path

    kept = user_data_path("afield") / USUAL_NAME
    if kept.exists():
        return kept, str(kept)
    raise UsageError(
        f"there is no catalogue: neither {USUAL_NAME} here, nor {kept}\n"
        "    = Build one: `afield catalogue build FILES... -o refs.sqlite`; or name one with --catalogue."
    )
