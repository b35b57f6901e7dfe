"""Sources: how long ago they were checked, which text was read, and whether the pack lists them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from afield.core.authoring.lint.bench import LintBench
from afield.core.authoring.lint.findings import Finding, finding
from afield.core.documents import Document, Path
from afield.core.frozen import frozen
from afield.core.packs.model import Pack


@frozen
class _Cited:
    """A source where it is cited.

    Attributes:
        pack: that writes it.
        whose: what rests on it, in words.
        until: the day on which that ends; None if it does not.

    """

    pack: Pack
    document: Document
    path: Path
    source: Mapping[str, Any]
    whose: str
    about: Mapping[str, str]
    until: date | None

    @property
    def words(self) -> str:
        """The source in words."""
        return f"{self.source['document']}, section {self.source['section']}"

    def found(self, code: str, key: str, what: str, advice: str) -> Finding:
        """A finding at a key of the source."""
        return finding(code, self.document, (*self.path, key), what, advice, self.about)


def source_findings(bench: LintBench) -> Iterator[Finding]:
    """What is wrong with the sources; of a pack that this one extends, only their age."""
    cited = [each for pack in bench.pack.lineage() for each in _cited(pack) if _holds(each, bench.pack)]
    for each in cited:
        yield from _age(each, bench.now)
    own = [each for each in cited if each.pack is bench.pack]
    for each in own:
        yield from _identity(each, bench.pack)
    yield from _uncited(own, bench.pack)
    yield from _facts_without(bench)


def _cited(pack: Pack) -> Iterator[_Cited]:
    """Every source that the pack's own files cite."""
    rules = pack.documents["rules"]
    for index, entry in enumerate(rules.data.get("rules", [])):
        yield from _one(pack, rules, ("rules", index), entry, "rule", entry["id"])
    for name, versions in rules.data.get("limits", {}).items():
        for index, entry in enumerate(versions):
            yield from _one(pack, rules, ("limits", name, index), entry, "limit", name)
    for name, value in pack.documents["pack"].data.get("facts", {}).items():
        for index, entry in enumerate(value if isinstance(value, list) else []):
            yield from _one(pack, pack.documents["pack"], ("facts", name, index), entry, "fact", name)
    if "references" in pack.documents:
        for index, entry in enumerate(pack.documents["references"].data["references"]):
            yield from _one(pack, pack.documents["references"], ("references", index), entry, "reference", entry["id"])


def _one(pack: Pack, document: Document, path: Path, entry: Any, kind: str, name: str) -> Iterator[_Cited]:
    if isinstance(entry, Mapping) and "source" in entry:
        until = date.fromisoformat(entry["until"]) if "until" in entry else None
        whose = name if kind == "fact" else f"the {kind} {name}"
        yield _Cited(pack, document, (*path, "source"), entry["source"], whose, {kind: name}, until)


def _holds(each: _Cited, pack: Pack) -> bool:
    """Whether what rests on the source is still the word of the pack that judges, not replaced by an extending one."""
    ((kind, name),) = each.about.items()
    if kind == "limit":
        return pack.origins[name].by == each.pack.name
    if kind == "fact":
        return pack.fact_writer(name) is each.pack
    return kind == "rule" or pack.references_writer() is each.pack


def _age(each: _Cited, now: date) -> Iterator[Finding]:
    checked = date.fromisoformat(each.source["last_checked"])
    days = (now - checked).days
    if days < 0:
        what = f"the source of {each.whose} was checked on {checked}, which is after {now}"
        yield each.found("source-ahead", "last_checked", what, "Write the day on which somebody did compare the two.")
    elif days > each.pack.review_days and (each.until is None or each.until > now):
        interval = f"the review interval of {each.pack.id} is {each.pack.review_days:g} days"
        what = f"the source of {each.whose} was last checked on {checked}, {days} days before {now}; {interval}"
        advice = f"Compare it with {each.words}, and write the day of that under `last_checked`."
        yield each.found("source-stale", "last_checked", what, advice)


def _identity(each: _Cited, pack: Pack) -> Iterator[Finding]:
    document, edition = each.source["document"], each.source.get("edition")
    listed = [entry["edition"] for entry in pack.sources if entry["document"] == document]
    if edition is None:
        what = f"the source of {each.whose} has no edition"
        advice = "Write its `edition`: the edition, version or year of the text that was read."
        yield each.found("source-undated", "document", what, advice)
    if not listed or (edition is not None and edition not in listed):
        named = f"{document}, edition {edition}" if listed else document
        what = f"the source of {each.whose}, {named}, is not among the pack's sources"
        yield each.found("source-unlisted", "document", what, "List it under `sources:` in pack.yaml, or correct it.")


def _uncited(own: list[_Cited], pack: Pack) -> Iterator[Finding]:
    cited = {(each.source["document"], each.source.get("edition")) for each in own}
    for index, entry in enumerate(pack.documents["pack"].data["sources"]):
        document, edition = entry["document"], entry["edition"]
        if (document, edition) not in cited and (document, None) not in cited:
            what = f"nothing in the pack cites {document}, edition {edition}"
            advice = "Take it out of `sources:`, or cite it where something rests on it."
            yield finding("source-uncited", pack.documents["pack"], ("sources", index), what, advice)


def _facts_without(bench: LintBench) -> Iterator[Finding]:
    document = bench.pack.documents["pack"]
    for name in document.data.get("facts", {}):
        for version in bench.pack.facts[name]:
            if version.limit is None and version.from_ is None:
                what = f"{name} is stated without date and source"
                advice = "Write it as a list of dated values: `- {from: 2024-01-01, value: ..., source: {...}}`."
                yield finding("fact-without-source", document, ("facts", name), what, advice, {"fact": name}, key=True)
