"""File names in what strangers wrote may not leave their folder."""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath


class OutsideFolder(ValueError):
    """A file name that leads out of the folder that it belongs to.

    Attributes:
        what: what is wrong, without a full stop.
        advice: what to do about it, a sentence.

    """

    def __init__(self, name: str, why: str) -> None:
        self.what = f'"{name}" {why}'
        self.advice = "Name a file inside the folder, with / between folders."
        super().__init__(f"{self.what}. {self.advice}")


def inside_folder(folder: Path, name: str) -> Path:
    """The file of that name inside the folder, which need not exist.

    Raises:
        OutsideFolder: the name is empty or absolute (on any system), climbs out with "..", or goes out by a symbolic
            link.

    """
    if not name or "\0" in name:
        raise OutsideFolder(name.replace("\0", "�"), "is no file name")
    if PurePosixPath(name).is_absolute() or PureWindowsPath(name).anchor:
        raise OutsideFolder(name, "is an absolute path")
    if ".." in PureWindowsPath(name).parts:
        raise OutsideFolder(name, 'climbs out of its folder with ".."')
    found = (folder / name).resolve()
    if not found.is_relative_to(folder.resolve()):
        raise OutsideFolder(name, "leads out of its folder by a symbolic link")
    return found
