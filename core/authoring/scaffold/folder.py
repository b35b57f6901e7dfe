"""The new pack's files, and the proof that they are a pack whose cases come out right."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

from afield.core.authoring.scaffold.answers import Answers
from afield.core.authoring.scaffold.cases_text import cases_yaml
from afield.core.authoring.scaffold.editor_schemas import editor_schema
from afield.core.authoring.scaffold.pack_text import has_places, pack_yaml, places_geojson, references_yaml
from afield.core.authoring.scaffold.rules_text import rules_yaml
from afield.core.host.registry import Registry
from afield.core.packs.cases import run_cases
from afield.core.packs.loading import load_pack


class Unproved(Exception):
    """The files do not make a pack whose cases come out right: a fault of the program, not of the answers."""


def new_pack(answers: Answers, registry: Registry) -> dict[str, str]:
    """File name within the folder -> text, of a pack with its cases and the schemas by which editors check it."""
    files = {
        "pack.yaml": pack_yaml(answers),
        "rules.yaml": rules_yaml(answers),
        "cases.yaml": cases_yaml(answers, registry.facts),
    }
    if has_places(answers):
        files |= {"references.yaml": references_yaml(answers), "places.geojson": places_geojson(answers)}
    schemas = {Path(name).stem: editor_schema(Path(name).stem, registry) for name in files if name.endswith(".yaml")}
    return {**files, **{f"schemas/{name}.json": _json(schema) for name, schema in schemas.items()}}


def _json(schema: object) -> str:
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


def prove(name: str, files: dict[str, str], registry: Registry) -> int:
    """The number of cases, all of which come out right; the files are tried in a folder of their own.

    Raises:
        Unproved: a case comes out otherwise, or there is none.
        InputError: the files are no pack.

    """
    with tempfile.TemporaryDirectory(prefix="afield-") as top:
        folder = Path(top) / name
        for inner, text in files.items():
            (folder / inner).parent.mkdir(parents=True, exist_ok=True)
            (folder / inner).write_text(text, encoding="utf-8", newline="\n")
        results = run_cases(load_pack(folder, registry, name), registry)
    wrong = [f"{result.name}: {text}" for result in results for text in result.differences]
    if wrong or not results:
        raise Unproved("; ".join(wrong) or "the pack has no cases")
    return len(results)
