"""Which verdicts of other packs rules ask for: what judges by them is imported only where there are any."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from afield.core.rules.conditions import verdicts_asked

if TYPE_CHECKING:
    from afield.core.documents import Path
    from afield.core.packs.model import Pack, Rule


def local(name: str, ids: Iterable[str]) -> str:
    """The rule's name without its pack, where that is one of the ids."""
    pack, _, rule = name.rpartition("/")
    return rule if pack in ids else name


def asked_in(data: Any, path: Path = ()) -> Iterator[tuple[Path, str]]:
    """Every `verdict:` in conditions as written, with its path."""
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        if key == "verdict" and isinstance(value, str):
            yield (*path, key), value
        else:
            yield from asked_in(value, (*path, key))


def asked_by_rule(rule: Rule) -> list[str]:
    """The rules whose verdicts a rule asks for, those of other packs as "pack/rule"."""
    conditions = [condition for condition in (rule.where, rule.require) if condition is not None]
    return list(dict.fromkeys(name for condition in conditions for name in verdicts_asked(condition)))


def asked_elsewhere(rule: Rule) -> list[str]:
    """The rules of other packs whose verdicts a rule asks for, as "pack/rule"."""
    return [name for name in asked_by_rule(rule) if "/" in name]


def ask_elsewhere(packs: Iterable[Pack]) -> bool:
    """Whether any rule of the packs asks for the verdict of another pack."""
    return any(pack.elsewhere and asked_elsewhere(rule) for pack in packs for rule in pack.rules)
