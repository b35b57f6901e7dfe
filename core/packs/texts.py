"""Pack texts: plain text with a few named fields, rendered in jinja2's sandbox; no code of a pack runs."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from afield.core.documents import Path, did_you_mean
from afield.core.packs.model import TEXTS

FIELDS = ("value", "limit", "margin", "short_by", "subject", "detail")
NUMERIC_FIELDS = ("value", "limit", "margin", "short_by")
_USE = re.compile(r"{{\s*([^}]*?)\s*}}")
_NAME = re.compile(r"(detail)\.([A-Za-z_]\w*)|([A-Za-z_]\w*)")


def complaints_about_text(text: str, details: Iterable[str] | None, numeric: bool) -> list[tuple[str, str]]:
    """What is wrong with a pack text, as (what, advice); empty if it can always be filled in.

    Args:
        text: as written.
        details: fields that the rule's facts declare in their detail; None where a fact's plugin is absent.
        numeric: whether some leaf of the rule's condition is numeric; without one there is no margin to speak of.

    """
    uses = _USE.findall(text)
    if details is None:
        details = [use.removeprefix("detail.") for use in uses if use.startswith("detail.")]
    details = list(details)
    if "{%" in text or "{#" in text:
        return [("a text with a jinja statement", f"A text may use fields only: {_known(details)}.")]
    rest = _USE.sub("", text)
    if "{{" in rest or "}}" in rest:
        return [("a field of the text does not begin or end", "Write {{ before its name and }} behind it.")]
    return [problem for use in uses for problem in _wrong_use(use, details, numeric)]


def complaints_about_plain(text: str) -> list[tuple[str, str]]:
    """What is wrong with a text that is printed as it is written: fields in it would never be filled in."""
    if not any(mark in text for mark in ("{{", "{%", "{#")):
        return []
    return [("a field stands where none is filled in", f"Fields go into {', '.join(TEXTS)} only.")]


def in_each_language(entry: Mapping[str, Any], names: Iterable[str]) -> Iterator[tuple[Path, str]]:
    """Those of a rule's texts that it has, as written, each with its path; one in several languages gives several."""
    for name in names:
        text = entry.get(name, {})
        if isinstance(text, str):
            yield (name,), text
        else:
            yield from (((name, language), told) for language, told in text.items())


def _wrong_use(use: str, details: list[str], numeric: bool) -> list[tuple[str, str]]:
    match = _NAME.fullmatch(use)
    if match is None:
        return [(f"{{{{ {use} }}}} is more than a field's name", f"A text may use fields only: {_known(details)}.")]
    if match[1]:
        if match[2] in details:
            return []
        return [_unknown_field(use, details)]
    if use not in FIELDS or use == "detail":
        return [_unknown_field(use, details)]
    if use in NUMERIC_FIELDS and not numeric:
        return [(f"the text uses {use}, but the rule compares no number", "Leave it out, or compare a number.")]
    return []


def _unknown_field(use: str, details: list[str]) -> tuple[str, str]:
    guess = did_you_mean(use, [*FIELDS[:-1], *(f"detail.{field}" for field in details)])
    advice = f'Did you mean "{guess}"?' if guess else f"The fields here are {_known(details)}."
    return f"the text names the field {use}, which is not there", advice


def _known(details: Iterable[str]) -> str:
    return ", ".join([*FIELDS[:-1], *(f"detail.{field}" for field in details)])


def rendered(text: str, fields: Mapping[str, Any]) -> str:
    """The text with its fields filled in, plain (it is escaped once, on entering HTML)."""
    if "{{" not in text:
        return text
    return str(_template(text).render(**fields))


@lru_cache(maxsize=512)
def _template(text: str) -> Any:
    from jinja2 import StrictUndefined
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    return ImmutableSandboxedEnvironment(undefined=StrictUndefined, autoescape=False).from_string(text)
