"""Files that sections offer beside the page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from afield.core.report.solved import drawn_from

if TYPE_CHECKING:
    from afield.core.host.hookspecs import Section

PAGE = ("briefing.html", "briefing.txt", "report.json")
"""What a briefing's folder holds in any case."""


def offered_files(sections: Sequence[Section]) -> dict[str, Section]:
    """File name -> the section that offers it, whether or not it will have one to write.

    Raises:
        ValueError: a name that is none, or that is taken.

    """
    found: dict[str, Section] = {}
    for section in sections:
        for name in section.files:
            _refuse(name, section, found)
            found[name] = section
    return found


def _refuse(name: str, section: Section, found: Mapping[str, Section]) -> None:
    who = f"{section.package}: the section {section.name} offers the file {name!r}"
    if not name or name != name.strip(".") or set(name) & set("/\\:\0"):
        raise ValueError(f"{who}, which is no plain file name")
    if name.lower() in {taken.lower() for taken in (*PAGE, *found)}:
        raise ValueError(f"{who}, which is taken already")


def section_files(report: Mapping[str, Any], sections: Sequence[Section]) -> tuple[dict[str, str], list[str]]:
    """The texts of the files by name, and in words which sections failed at theirs.

    Args:
        report: the report's JSON; a file is made from its section's data, and what was solved for it, alone.
        sections: the installed plugins' sections.

    """
    data = {section["name"]: drawn_from(section, report) for section in report["sections"]}
    texts: dict[str, str] = {}
    troubles: list[str] = []
    for name, section in offered_files(sections).items():
        try:
            text = section.files[name](data[section.name]) if section.name in data else None
        except Exception as error:
            troubles.append(f"{section.package} could not write {name}: {type(error).__name__}: {error}")
            continue
        if text is not None:
            texts[name] = text
    return texts, troubles
