"""Finds packs: those of installed distributions, by the entry-point group `afield.packs`, and folders by path."""

from __future__ import annotations

import hashlib
import importlib
from functools import cache
from importlib.metadata import entry_points
from pathlib import Path

from afield.core.documents import OutsideFolder, did_you_mean, inside_folder, quoted_list

GROUP = "afield.packs"


class NoSuchPack(Exception):
    """No pack of that name or at that path; the text says what there is."""

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}: {advice}")
        self.what, self.advice = what, advice


def installed_packs() -> dict[str, Path]:
    """Pack id (its folder's name) -> folder, of every installed pack."""
    return {folder.name: folder for root in _roots() for folder in _packs_in(root)}


@cache
def _roots() -> list[Path]:
    """The folders of packs; what is installed does not change while a command runs."""
    modules = [importlib.import_module(entry_point.module) for entry_point in entry_points(group=GROUP)]
    return [Path(place) for module in modules for place in module.__path__]


def _packs_in(root: Path) -> list[Path]:
    return sorted(path.parent for path in root.glob("*/pack.yaml"))


def pack_folder(name: str, beside: Path, whose: str = "the plan") -> Path:
    """The folder of a pack named by its id, or by a path.

    Args:
        name: its id, or its path.
        beside: where paths begin, and packs that are not installed are looked up.
        whose: what lies there, in words.

    Raises:
        NoSuchPack: neither an installed pack nor a folder that holds a pack.yaml.

    """
    if "/" in name or name.startswith("."):
        return _folder_at(name, beside / name)
    installed = installed_packs()
    if name in installed:
        return installed[name]
    if (beside / name / "pack.yaml").is_file():
        return beside / name
    guess = did_you_mean(name, [*installed, *(folder.name for folder in _packs_in(beside))])
    advice = f'Did you mean "{guess}"?' if guess else f"Installed are {quoted_list(sorted(installed)) or 'none'}."
    own = f"A pack of your own is a folder of that name beside {whose}."
    raise NoSuchPack(f"there is no pack {name}", f"{advice} {own}")


def _folder_at(name: str, folder: Path) -> Path:
    if (folder / "pack.yaml").is_file():
        return folder
    if folder.is_dir():
        raise NoSuchPack(f"the folder {name} is no pack", "It holds no pack.yaml; name the folder that does.")
    raise NoSuchPack(f"there is no pack folder {name}", "Check the path; it is looked up beside the plan.")


def base_folder(name: str, pack: Path) -> Path:
    """The folder of a pack that another extends: an installed one, or one inside or beside that one's folder.

    Args:
        name: as `extends:` has it, an id or a path; a path that climbs out is refused: packs come from strangers.
        pack: folder of the pack that extends it.

    Raises:
        NoSuchPack: there is none.

    """
    if "/" not in name and not name.startswith("."):
        return pack_folder(name, pack.parent, "the pack that extends it")
    try:
        places = [inside_folder(place, name) for place in (pack, pack.parent)]
    except OutsideFolder as error:
        advice = "Put the pack that it extends inside or beside its folder, and write `./NAME`."
        raise NoSuchPack(error.what, advice) from error
    found = next((place for place in places if (place / "pack.yaml").is_file()), None)
    if found is None:
        advice = "It is looked up inside the folder of the pack that extends it, then beside that folder."
        raise NoSuchPack(f"there is no pack folder {name}", advice)
    return found


def pack_hash(folder: Path) -> str:
    """sha256 over every file of the pack, names and contents, in the order of their names."""
    total = hashlib.sha256()
    for path in sorted(path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts):
        total.update(path.relative_to(folder).as_posix().encode() + b"\0")
        total.update(hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()
