"""Texts that a pack gives in several languages: {en: ..., de: ...}."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.language.speech import ENGLISH


def in_language(data: Any, language: str) -> Any:
    """The same data, each text of several languages replaced by that in the language asked for, else in English.

    Args:
        data: plain data of a pack; mappings whose keys are all languages are such texts.
        language: two letters (ISO 639-1).

    """
    if isinstance(data, Mapping):
        if is_text(data):
            return data.get(language, data[ENGLISH])
        return {key: in_language(value, language) for key, value in data.items()}
    return [in_language(value, language) for value in data] if isinstance(data, list) else data


def is_text(data: Mapping[Any, Any]) -> bool:
    """Whether it is one text in several languages: two letters each, English among them, and nothing but text."""
    keys = all(isinstance(key, str) and len(key) == 2 and key.islower() for key in data)
    return ENGLISH in data and keys and all(isinstance(value, str) for value in data.values())
