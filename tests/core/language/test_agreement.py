"""Catalogues that are asked one after the other say the same of the same sentence."""

from __future__ import annotations

from pathlib import Path

from afield.core.language import in_context
from afield.core.testing.catalogues import catalogue_path, read_catalogue

ROOT = Path(__file__).parents[3]
FOLDERS = [ROOT / "core", *(path.parent for path in sorted((ROOT / "plugins").glob("*/plugin.py")))]


def test_no_two_catalogues_translate_a_sentence_differently() -> None:
    told: dict[str, dict[str, str]] = {}
    for folder in FOLDERS:
        for message in read_catalogue(catalogue_path(folder, "de"), "de"):
            if message.id:
                told.setdefault(str(message.id), {})[folder.name] = str(message.string)
    differing = {text: found for text, found in told.items() if len(set(found.values())) > 1}
    assert not differing, "give one of them a context, such as `drawing|local`, and say it by in_context"
    assert sum(len(found) > 1 for found in told.values()) > 5


def test_words_with_a_context_are_said_without_it() -> None:
    assert [in_context(text) for text in ("drawing|local", "local", "a|b|local")] == ["local"] * 3
