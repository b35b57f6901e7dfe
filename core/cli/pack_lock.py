"""`afield pack lock`."""

from __future__ import annotations

from typing import Annotated

import typer

from afield.core.cli.options import Force
from afield.core.cli.pack_mutate import Name
from afield.core.documents.writing import UsageError, write_all
from afield.core.engine import Engine
from afield.core.packs.model import Pack

Check = Annotated[bool, typer.Option("--check", help="Write nothing: end with status 1 where the lock does not fit.")]


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("lock")(lock)


def lock(name: Name, check: Check = False, force: Force = False) -> int:
    """Write what each rule means, as hashes, beside the pack; or check that it still means that."""
    from afield.core.authoring.difference.locking import FILE, changes_since, lock_of, read_lock
    from afield.core.cli.packs import named_pack

    pack = named_pack(name, Engine())
    written = read_lock(pack)
    changes = list(changes_since(written, pack)) if written else []
    same_version = written is not None and written.version == pack.version
    if check:
        for line in _complaints(pack, written is None, changes, same_version):
            typer.echo(line)
        return 1 if written is None or changes or not same_version else 0
    if name.endswith(".zip"):
        raise UsageError(f"{name} is a zip file; nothing was written\n    = Unpack it, and lock the folder.")
    if changes and same_version and not force:
        what = f"{pack.name} has another meaning than its lock, under the same version: {'; '.join(changes)}"
        raise UsageError(f"{what}\n    = Raise `version` in pack.yaml first; `afield pack diff` says how far.")
    write_all({pack.folder / FILE: lock_of(pack).text()}, force=True)
    typer.echo(f"{pack.name}: {len(lock_of(pack).hashes)} hashes written to {pack.shown}/{FILE}")
    return 0


def _complaints(pack: Pack, is_absent: bool, changes: list[str], same_version: bool) -> list[str]:
    if is_absent:
        return [f"{pack.name}: there is no lock. Write one with `afield pack lock`."]
    lines = [f"{pack.name}: {change}" for change in changes]
    if changes and same_version:
        return [*lines, f"{pack.name}: the version is still that of the lock. Raise it, then run `afield pack lock`."]
    if changes or not same_version:
        return [*lines, f"{pack.name}: the lock is of another version. Run `afield pack lock`."]
    return [f"{pack.name}: every meaning is as locked"]
