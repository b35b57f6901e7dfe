"""Ways along the joints of a kit."""

from __future__ import annotations

from collections.abc import Callable

from afield.plugins.kit.joints import Joint, Net
from afield.plugins.kit.model import Chain, Port

Accepts = Callable[[Joint], bool]


def path_along(net: Net, chain: Chain, accepts: Accepts) -> tuple[Joint, ...] | None:
    """The joints of a shortest way from a start of the chain to an end, over accepted joints; None if there is none."""
    ends = {port.key for port in chain.ends}
    waiting: list[tuple[Port, tuple[Joint, ...]]] = [(port, ()) for port in chain.starts]
    seen = {port.key for port in chain.starts}
    for port, path in waiting:
        across = net.across(port)
        if across is None or not accepts(across[1]) or across[0].key in seen:
            continue
        other, joint = across
        if not other.takes and other.key not in ends:  # the terminals of a battery take what charges it
            continue
        seen.add(other.key)
        if other.key in ends:
            return (*path, joint)
        for exit_ in net.exits(other):
            if exit_.key not in seen:
                seen.add(exit_.key)
                waiting.append((exit_, (*path, joint)))
    return None
