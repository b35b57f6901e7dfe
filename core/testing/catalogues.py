"""Catalogues of sentences: what a folder's code, templates and facts say, and what the catalogue of a language holds.

`python -m afield.core.testing.catalogues LANGUAGE [FOLDER ...]` brings catalogues up to date: new sentences are added
without a translation, those no longer said are dropped, what was translated stays, and the .mo file is made anew.
"""

from __future__ import annotations

import ast
import io
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel.messages import Catalog

    from afield.core.engine import Engine

MARKS = ("_", "marked", "in_context")
FUNCTIONS = ("_", "gettext", "ngettext")
UNDATED = datetime(2026, 1, 1, tzinfo=UTC)
"""A catalogue made of the same sentences has the same bytes, whenever it is made."""
Sentence = str | tuple[str, str]


def sentences(folder: Path, engine: Engine | None = None) -> list[Sentence]:
    """Every sentence that is marked in the folder's modules and templates, or is a title that its plugin declares.

    Args:
        folder: of core, or of a plugin.
        engine: with the plugins; None leaves titles out.

    Returns:
        Sorted, each once; those that count as (one, many).

    """
    found: set[Sentence] = set()
    for path in folder.rglob("*.py"):
        found.update(_marked(ast.parse(path.read_text(encoding="utf-8"))))
    for path in folder.rglob("templates/*.html"):
        found.update(_in_template(path.read_bytes()))
    if engine is not None:
        found.update(_declared(folder.name, engine))
    return sorted(found, key=lambda sentence: sentence if isinstance(sentence, str) else sentence[0])


def _marked(tree: ast.AST) -> Iterator[Sentence]:
    for node in ast.walk(tree):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
            continue
        texts = [argument.value for argument in node.args if isinstance(argument, ast.Constant)]
        if node.func.id in MARKS and texts and isinstance(texts[0], str):
            yield texts[0]
        elif node.func.id == "ngettext":
            yield str(texts[0]), str(texts[1])


def _in_template(source: bytes) -> Iterator[Sentence]:
    from jinja2.ext import babel_extract

    options = {"trimmed": "true", "silent": "false"}
    for _line, function, message, _comments in babel_extract(io.BytesIO(source), FUNCTIONS, (), options):
        if function == "ngettext" and isinstance(message, tuple):
            yield str(message[0]), str(message[1])
        elif (text := message[0] if isinstance(message, tuple) else message) is not None:
            yield str(text)


def _declared(plugin: str, engine: Engine) -> Iterator[str]:
    registry = engine.registry
    yield from (
        fact.title for name, fact in registry.facts.items() if fact.title and registry.owners[name].name == plugin
    )
    kinds = [kind for kind in registry.kinds if registry.owners[f"kind:{kind}"].name == plugin]
    yield from (word for kind in kinds for word in (kind, kind.replace("_", " ")))
    yield from (tool.name for name, fact in registry.facts.items() if registry.owners[name].name == plugin
                if (tool := fact.tool) is not None)  # fmt: skip
    for hook in ("afield_sections", "afield_comparisons"):
        for owner, declared in registry.host.results(hook):
            yield from (each.title for each in declared if owner.name == plugin)


def catalogue_path(folder: Path, language: str) -> Path:
    """The catalogue that the folder has, or would have, for a language."""
    name = "afield" if folder.name == "core" else folder.name
    home = folder / "language" if folder.name == "core" else folder
    return home / "locale" / language / "LC_MESSAGES" / f"{name}.po"


def read_catalogue(path: Path, language: str) -> Catalog:
    """The catalogue in a file; an empty one where there is none."""
    from babel.messages import Catalog
    from babel.messages.pofile import read_po

    if not path.is_file():
        return Catalog(locale=language, charset="utf-8", fuzzy=False)
    with path.open("rb") as stream:
        return read_po(stream, locale=language, abort_invalid=True)


def updated(catalogue: Catalog, said: list[Sentence], language: str) -> Catalog:
    """The same translations for what is said now, in its order."""
    from babel.messages import Catalog

    made = Catalog(
        locale=language, fuzzy=False, project="afield", header_comment="", creation_date=UNDATED, revision_date=UNDATED
    )
    for sentence in said:
        kept = catalogue.get(sentence if isinstance(sentence, str) else sentence[0])
        made.add(sentence, kept.string if kept is not None else "")
    return made


def written(catalogue: Catalog) -> tuple[bytes, bytes]:
    """The text of the .po file and the bytes of the .mo file; neither tells when it was made."""
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import write_po

    text, compiled = io.BytesIO(), io.BytesIO()
    write_po(text, catalogue, width=110, omit_header=False)
    write_mo(compiled, catalogue)
    return text.getvalue(), compiled.getvalue()


def main(arguments: list[str]) -> None:
    """Bring the catalogues of the folders up to date, and say what still has no translation."""
    from afield.core.engine import Engine

    language, *folders = arguments
    engine = Engine()
    for folder in map(Path, folders):
        path = catalogue_path(folder.resolve(), language)
        made = updated(read_catalogue(path, language), sentences(folder.resolve(), engine), language)
        text, compiled = written(made)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text)
        path.with_suffix(".mo").write_bytes(compiled)
        open_ = [message.id for message in made if message.id and not message.string]
        print(f"{path}: {len(made)} sentences, {len(open_)} without a translation")


if __name__ == "__main__":
    main(sys.argv[1:])
