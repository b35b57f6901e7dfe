"""Which sections of the briefing are asked for by name, and with which settings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from afield.core.documents import did_you_mean
from afield.core.documents.writing import UsageError

if TYPE_CHECKING:
    from afield.core.host.hookspecs import Section

Asked = dict[str, dict[str, str]]


def asked_sections(sections: Sequence[Section], names: Iterable[str], settings: Iterable[str] = ()) -> Asked:
    """Name -> settings of each section that is asked for.

    Args:
        sections: those of the installed plugins.
        names: as given with `--with`.
        settings: as given with `--set`, each NAME.SETTING=VALUE.

    Raises:
        UsageError: a name or a setting that is none, or one that is set twice.

    """
    asked: Asked = {name: {} for name in names if _named(f"--with {name}", name, sections)}
    for text in settings:
        flag = f"--set {text}"
        name, setting, value = _parted(flag, text, sections)
        section = _named(flag, name, sections)
        if name not in asked:
            raise UsageError(f"{flag}: the section {name} is not asked for\n    = Add --with {name}.")
        _refuse_unknown(flag, setting, section)
        if setting in asked[name]:
            raise UsageError(f"{flag}: {name}.{setting} is set twice\n    = Leave one of the two out.")
        asked[name][setting] = value
    return asked


def can_be_asked(sections: Iterable[Section]) -> list[Section]:
    """The sections that are made only where they are asked for, by name."""
    return sorted((each for each in sections if each.solver is not None), key=lambda each: each.name)


def _named(flag: str, name: str, sections: Sequence[Section]) -> Section:
    known = {section.name: section for section in can_be_asked(sections)}
    if name in known:
        return known[name]
    if name in {section.name for section in sections}:
        what = f"{flag}: every briefing has the section {name} where there is something to show in it"
        raise UsageError(f"{what}\n    = Leave this option out.")
    raise UsageError(
        f"{flag}: there is no section {name or repr(name)} to be asked for\n    = {_advice(name, known.values())}"
    )


def _advice(name: str, known: Iterable[Section]) -> str:
    titles = {section.name: section.title for section in known}
    if not titles:
        return "No installed plugin brings a section that is made only where it is asked for."
    told = ", ".join(f"{each} ({title})" for each, title in titles.items())
    guess = did_you_mean(name, titles)
    listed = f"These can be asked for: {told}."
    return f"Did you mean {guess}? {listed}" if guess else listed


def _parted(flag: str, text: str, sections: Sequence[Section]) -> tuple[str, str, str]:
    named, equals, value = text.partition("=")
    name, dot, setting = named.strip().partition(".")
    if name and dot and setting and equals:
        return name, setting, value.strip()
    raise UsageError(f"{flag}: it sets nothing\n    = Write --set NAME.SETTING=VALUE{_example(sections)}.")


def _example(sections: Sequence[Section]) -> str:
    names = [f"{each.name}.{name}" for each in can_be_asked(sections) for name in _settings(each)]
    return f", for example --set {names[0]}=VALUE" if names else ""


def _settings(section: Section) -> tuple[str, ...]:
    return section.solver.settings if section.solver else ()


def _refuse_unknown(flag: str, setting: str, section: Section) -> None:
    known = _settings(section)
    if setting in known:
        return
    guess = did_you_mean(setting, known)
    listed = f"It has {', '.join(known)}." if known else "It has none."
    advice = f"Did you mean {guess}? {listed}" if guess else listed
    raise UsageError(f"{flag}: the section {section.name} has no setting {setting}\n    = {advice}")
