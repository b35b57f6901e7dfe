"""The catalogues that come along: they hold what is said, no more, translated, with the same places for values."""

from __future__ import annotations

import re
from gettext import GNUTranslations
from pathlib import Path

import pytest

from afield.core.engine import Engine
from afield.core.testing.catalogues import catalogue_path, read_catalogue, sentences

ROOT = Path(__file__).parents[3]
FOLDERS = [ROOT / "core", *(path for path in sorted((ROOT / "plugins").iterdir()) if (path / "plugin.py").is_file())]
PLACES = re.compile(r"\{[a-z_0-9]*\}|%\([a-z_0-9]+\)s")


def shown(path: Path) -> str:
    return path.name


@pytest.fixture(scope="module")
def engine() -> Engine:
    return Engine()


@pytest.mark.parametrize("folder", FOLDERS, ids=shown)
def test_a_catalogue_holds_what_is_said(folder: Path, engine: Engine) -> None:
    said = {each if isinstance(each, str) else each[0] for each in sentences(folder, engine)}
    held = {m.id if isinstance(m.id, str) else m.id[0] for m in read_catalogue(catalogue_path(folder, "de"), "de")}
    assert held - {""} == said, "bring it up to date: python -m afield.core.testing.catalogues de FOLDER"


@pytest.mark.parametrize("folder", FOLDERS, ids=shown)
def test_every_sentence_is_translated_with_the_same_places_for_values(folder: Path) -> None:
    for message in read_catalogue(catalogue_path(folder, "de"), "de"):
        if not message.id:
            continue
        one, *many = message.id if isinstance(message.id, tuple) else (message.id,)
        told = message.string if isinstance(message.string, tuple) else (message.string,)
        assert all(told), f"{one!r} has no translation"
        assert not message.fuzzy
        assert "%%" not in "".join(told), "a sign for per cent is written once"
        for text, source in zip(told[::-1], [*many[::-1], one], strict=False):
            assert set(PLACES.findall(text)) == set(PLACES.findall(source)), one


@pytest.mark.parametrize("folder", FOLDERS, ids=shown)
def test_the_compiled_catalogue_is_the_written_one(folder: Path) -> None:
    path = catalogue_path(folder, "de")
    with path.with_suffix(".mo").open("rb") as stream:
        compiled = GNUTranslations(stream)
    for message in read_catalogue(path, "de"):
        if message.id and isinstance(message.id, str):
            assert compiled.gettext(message.id) == message.string
        elif message.id:
            assert compiled.ngettext(*message.id, 2) == message.string[-1]
