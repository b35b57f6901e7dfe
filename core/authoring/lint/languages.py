"""Texts that a pack gives in one language and not in another in which it gives others."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from afield.core.authoring.lint.bench import LintBench
from afield.core.authoring.lint.findings import Finding, finding
from afield.core.documents import Path, quoted_list, read_text
from afield.core.language import ENGLISH

TEXTS = {
    "title": "the title", "why": "the reason", "confirm": "what is to be confirmed", "evidence": "the evidence",
    "if_failed": "the text for failed", "if_cannot_tell": "the text for cannot tell",
    "if_passed": "the text for passed",
}  # fmt: skip
Text = tuple[Path, str, dict[str, str], Any]
"""Where it is written, what it is, what it is about, and the text, in one language or in several."""


def language_findings(bench: LintBench) -> Iterator[Finding]:
    """Every text of the rules that lacks a language in which another of them is written."""
    # The pack holds the texts of one language only: what was written is read again.
    written = list(_texts(read_text(bench.rules_file.source, bench.rules_file.name).data))
    spoken = {language for *_rest, text in written for language in _languages(text)}
    for path, what, about, text in written:
        lacking = sorted(spoken - _languages(text))
        if lacking:
            told = f"{what} is not written in {quoted_list(lacking)}, as other texts of the pack are"
            advice = f"Write it as {{{ENGLISH}: ..., {lacking[0]}: ...}}; English is shown until then."
            yield finding("text-untranslated", bench.rules_file, path, told, advice, about)


def _languages(text: Any) -> set[str]:
    return set(text) if isinstance(text, Mapping) else {ENGLISH}


def _texts(data: Mapping[str, Any]) -> Iterator[Text]:
    for index, rule in enumerate(data.get("rules") or ()):
        about = {"rule": str(rule["id"])}
        for key, words in TEXTS.items():
            if key in rule:
                yield ("rules", index, key), f"{words} of the rule {rule['id']}", about, rule[key]
        for place, text in enumerate(rule.get("assumes") or ()):
            yield ("rules", index, "assumes", place), f"an assumption of the rule {rule['id']}", about, text
    for name, versions in (data.get("limits") or {}).items():
        for place, version in enumerate(versions):
            if "none" in version:
                path = ("limits", name, place, "none")
                yield path, f"why the limit {name} has no value", {"limit": str(name)}, version["none"]
