"""Finds packs: those of installed distributions, by the entry-point group `afield.packs`; folders and zip files."""

from __future__ import annotations

import hashlib
import importlib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from afield.core.documents import (
    OutsideFolder,
    Place,
    Problem,
    did_you_mean,
    inside_folder,
    quoted_list,
    read_document,
)
from afield.core.frozen import frozen
from afield.core.host.entry_points import entry_points
from afield.core.packs.zipped import UnfitZip, unzipped

GROUP = "afield.packs"


class NoSuchPack(Exception):
    """No pack of that name or at that path; the text says what there is."""

    def __init__(self, what: str, advice: str, guess: str | None = None) -> None:
        super().__init__(f"{what}: {advice}")
        self.what, self.advice, self.guess = what, advice, guess


@frozen
class Found:
    """A pack that was found.

    Attributes:
        where: in words.
        folder: of the pack, unpacked where it is a zip file.

    """

    where: str
    folder: Path


def installed_packs() -> dict[str, Path]:
    """Pack id (its folder's name) -> folder, of every installed pack."""
    return {folder.name: folder for root in roots() for folder in _packs_in(root)}


@cache
def roots() -> list[Path]:
    """The folders that hold installed packs, a folder each; what is installed does not change while a command runs."""
    modules = [importlib.import_module(entry_point.module) for entry_point in entry_points(group=GROUP)]
    return [Path(place) for module in modules for place in module.__path__]


def _packs_in(root: Path) -> list[Path]:
    return sorted(path.parent for path in root.glob("*/pack.yaml"))


def pack_folder(name: str, beside: Path, whose: str = "the plan") -> Path:
    """The folder of a pack named by its id, or by the path of a folder or zip file.

    Args:
        name: its id, or its path.
        beside: where paths begin, and packs that are not installed are looked up.
        whose: what lies there, in words.

    Raises:
        NoSuchPack: neither an installed pack nor a folder or zip file that holds a pack.yaml.

    """
    if is_path(name):
        return _pack_at(name, beside / name)
    found = next(_places_of(name, beside), None)
    if found is not None:
        return found.folder
    installed = installed_packs()
    guess = did_you_mean(name, [*installed, *_names_beside(beside)])
    advice = f'Did you mean "{guess}"?' if guess else f"Installed are {quoted_list(sorted(installed)) or 'none'}."
    own = f"A pack of your own is a folder or zip file of that name beside {whose}."
    raise NoSuchPack(f"there is no pack {name}", f"{advice} {own}", guess)


def _names_beside(folder: Path) -> list[str]:
    return [*(pack.name for pack in _packs_in(folder)), *(path.stem for path in sorted(folder.glob("*.zip")))]


def is_path(name: str) -> bool:
    """Whether a pack is named by its path, not by its id."""
    return "/" in name or name.startswith(".") or name.endswith(".zip")


def pinned_folder(name: str, version: str, beside: Path) -> Path:
    """The folder of a pack in one version: installed, or beside the plan as a folder, NAME.zip or NAME-ANYTHING.zip.

    Raises:
        NoSuchPack: there is no such pack, or none in that version; the advice says which versions there are.
        InputError: a pack.yaml that cannot be read.

    """
    if is_path(name):
        places = [Found(name, _pack_at(name, beside / name))]
    else:
        places = [*_places_of(name, beside), *_zips_of_versions(name, beside)]
    versions = [(_version_in(found.folder), found) for found in places]
    fitting = next((found.folder for each, found in versions if each == version), None)
    if fitting is not None:
        return fitting
    if not places:
        return pack_folder(name, beside)
    there = " and ".join(f"{each} ({found.where})" for each, found in versions)
    advice = f"There is {there}: write one of these, or put the pack of that version beside the plan."
    raise NoSuchPack(f"there is no {name} of version {version}", advice)


def _places_of(name: str, beside: Path) -> Iterator[Found]:
    """Where a pack of that id is, the first of them being the one that goes by the id alone."""
    installed = installed_packs()
    if name in installed:
        yield Found("installed", installed[name])
    if (beside / name / "pack.yaml").is_file():
        yield Found(f"the folder {name}", beside / name)
    if (beside / f"{name}.zip").is_file():
        yield Found(f"{name}.zip", _unzipped(beside / f"{name}.zip", f"{name}.zip"))


def _zips_of_versions(name: str, beside: Path) -> Iterator[Found]:
    """Zip files whose names go on behind the pack's; one that holds another pack or none is none of ours."""
    for path in sorted(beside.glob(f"{name}-*.zip")):
        try:
            folder = unzipped(path, path.name)
        except UnfitZip:
            continue
        if folder.name == name:
            yield Found(path.name, folder)


def _version_in(folder: Path) -> str:
    return str(read_document(folder / "pack.yaml", f"pack:{folder.name}/pack.yaml").data.get("version", "none"))


def _pack_at(name: str, place: Path) -> Path:
    if (place / "pack.yaml").is_file():
        return place
    if place.is_dir():
        raise NoSuchPack(f"the folder {name} is no pack", "It holds no pack.yaml; name the folder that does.")
    if place.is_file():
        return _unzipped(place, name)
    what = "zip file" if name.endswith(".zip") else "pack folder"
    raise NoSuchPack(f"there is no {what} {name}", "Check the path; it is looked up beside the plan.")


def _unzipped(path: Path, shown: str) -> Path:
    try:
        return unzipped(path, shown)
    except UnfitZip as error:
        raise NoSuchPack(error.what, error.advice) from error


def base_folder(name: str, pack: Path) -> Path:
    """The folder of a pack that another extends: an installed one, or one inside or beside that one's folder.

    A zip file is unpacked.

    Args:
        name: as `extends:` has it, an id or a path; a path that climbs out is refused: packs come from strangers.
        pack: folder of the pack that extends it.

    Raises:
        NoSuchPack: there is none.

    """
    if not is_path(name):
        return pack_folder(name, pack.parent, "the pack that extends it")
    try:
        places = [inside_folder(place, name) for place in (pack, pack.parent)]
    except OutsideFolder as error:
        advice = "Put the pack that it extends inside or beside its folder, and write `./NAME`."
        raise NoSuchPack(error.what, advice) from error
    zipped = next((place for place in places if place.is_file()), None)
    found = next((place for place in places if (place / "pack.yaml").is_file()), None)
    if found is None and zipped is not None:
        return _unzipped(zipped, name)
    if found is None:
        advice = "It is looked up inside the folder of the pack that extends it, then beside that folder."
        raise NoSuchPack(f"there is no pack folder {name}", advice)
    return found


def linked_problem(name: str) -> Problem:
    """What is wrong with a pack's file that is a symbolic link."""
    return Problem(Place(name), "this is a symbolic link; a pack holds its own files", "Put the file itself there.")


def pack_hash(folder: Path) -> str:
    """sha256 over every file of the pack, names and contents, in the order of their names."""
    total = hashlib.sha256()
    for path in sorted(path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts):
        total.update(path.relative_to(folder).as_posix().encode() + b"\0")
        total.update(hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()
