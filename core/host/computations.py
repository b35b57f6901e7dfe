"""The computations that plugins register, imported only when asked for."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from afield.core.host.loading import Host, SetupError


class Computations(Mapping[str, Callable[..., Any]]):
    """Name -> computation; each is imported when first taken."""

    def __init__(self, addresses: Mapping[str, str]) -> None:
        self._addresses = dict(addresses)

    def __getitem__(self, name: str) -> Callable[..., Any]:
        module, _, attribute = self._addresses[name].partition(":")
        found: Callable[..., Any] = getattr(importlib.import_module(module), attribute)
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(self._addresses)

    def __len__(self) -> int:
        return len(self._addresses)


def computations(host: Host) -> Computations:
    """All registered computations.

    Raises:
        SetupError: two of one name.

    """
    addresses: dict[str, str] = {}
    owners: dict[str, str] = {}
    for plugin, found in host.results("afield_computations"):
        for address in found:
            name = address.partition(":")[2]
            if name in addresses:
                what = f"the computation {name} is declared by {owners[name]} and by {plugin}"
                raise SetupError(what, "Rename one of the two.")
            addresses[name], owners[name] = address, str(plugin)
    return Computations(addresses)
