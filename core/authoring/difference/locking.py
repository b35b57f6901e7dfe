"""The file rules.lock: a hash of what every rule of a pack means, so that no meaning changes under an old version."""

from __future__ import annotations

from collections.abc import Iterator

from afield.core.authoring.difference.meaning import hash_of, meanings
from afield.core.documents import InputError, check_schema, read_document
from afield.core.frozen import frozen
from afield.core.host.composition import shipped_schema
from afield.core.packs.loading import common_schemas
from afield.core.packs.model import Pack

FILE = "rules.lock"

_HEAD = """\
# What each rule means, as sha256 of its conditions, limits, days, severity and decision; wording and sources are left
# out. Written by `afield pack lock`; `afield pack lock --check` compares it with the pack.
"""


@frozen
class Lock:
    """The hashes of one version of a pack.

    Attributes:
        version: of the pack.
        hashes: "rule NAME" or "fact NAME" -> sha256 of its meaning.

    """

    version: str
    hashes: dict[str, str]

    def text(self) -> str:
        """As written into the file."""
        lines = [_HEAD, f'version: "{self.version}"\n']
        for kind in ("rule", "fact"):
            mine = [(name.split(" ", 1)[1], digest) for name, digest in self.hashes.items() if name.startswith(kind)]
            lines += [f"{kind}s:\n"] if mine else []
            lines += [f"  {name}: {digest}\n" for name, digest in sorted(mine)]
        return "".join(lines)


def lock_of(pack: Pack) -> Lock:
    """The lock that fits the pack, the rules that it takes over from one that it extends included."""
    return Lock(pack.version, {name: hash_of(meaning) for name, meaning in meanings(pack).items()})


def read_lock(pack: Pack) -> Lock | None:
    """The lock in the pack's folder; None where there is none.

    Raises:
        InputError: the file is no lock.

    """
    path = pack.folder / FILE
    if not path.is_file():
        return None
    document = read_document(path, f"{pack.shown}/{FILE}")
    problems = check_schema(document, shipped_schema("lock"), common_schemas())
    if problems:
        raise InputError(problems)
    data = document.data
    hashes = {f"rule {name}": digest for name, digest in data.get("rules", {}).items()}
    return Lock(data["version"], hashes | {f"fact {name}": digest for name, digest in data.get("facts", {}).items()})


def changes_since(lock: Lock, pack: Pack) -> Iterator[str]:
    """What means something else than the lock says, is new or is gone, in words."""
    now = lock_of(pack).hashes
    for name in dict.fromkeys([*now, *lock.hashes]):
        if name not in lock.hashes:
            yield f"{name} is new"
        elif name not in now:
            yield f"{name} is gone"
        elif now[name] != lock.hashes[name]:
            yield f"{name} means something else"
