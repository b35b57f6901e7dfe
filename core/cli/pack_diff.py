"""`afield pack diff`."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from afield.core.cli.pack_mutate import Format, progress_shown, refuse_format
from afield.core.documents.writing import UsageError
from afield.core.engine import Engine

Old = Annotated[str, typer.Argument(help="The older version: a pack's name, folder or zip file.", show_default=False)]
New = Annotated[str, typer.Argument(help="The newer version.", show_default=False)]
FailOnLooser = Annotated[
    bool,
    typer.Option(
        "--fail-on-looser-unclaimed",
        help="End with status 1 where a required rule became looser, or is gone, and the version is no major one.",
    ),
]


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("diff")(diff)


def diff(old: Old, new: New, format: Format = "text", fail_on_looser_unclaimed: FailOnLooser = False) -> int:
    """Say what became stricter or looser between two versions of a pack, and what version that demands."""
    from afield.core.authoring.difference.comparing import difference_of
    from afield.core.authoring.difference.record import difference_record, difference_text
    from afield.core.cli.packs import named_pack

    refuse_format(format)
    engine = Engine()
    before, after = named_pack(old, engine), named_pack(new, engine)
    if before.id != after.id:
        what = f"{before.id} and {after.id} are two packs, not two versions of one"
        raise UsageError(f"{what}\n    = Name the folders, or zip files, of two versions of one pack.")
    with progress_shown("rules judged") as progress:
        record = difference_record(difference_of(before, after, engine.registry, progress))
    as_json = format == "json"
    text = json.dumps(record, indent=2, ensure_ascii=False) + "\n" if as_json else difference_text(record)
    typer.echo(text, nl=False)
    return int(fail_on_looser_unclaimed and record["looser_unclaimed"])
