"""Which version a change demands, and whether the one that is written fits it."""

from __future__ import annotations

BUMPS = ("none", "patch", "minor", "major")
"""What changes may demand of the version, the least first."""

_PARTS = {"major": 0, "minor": 1, "patch": 2}


def numbers_of(version: str) -> tuple[int, int, int]:
    """The three numbers of a version; what follows a hyphen is left out."""
    major, minor, patch = version.split("-", 1)[0].split(".")
    return int(major), int(minor), int(patch)


def written_bump(old: str, new: str) -> str | None:
    """What the newer version says has changed; None where it goes back."""
    before, after = numbers_of(old), numbers_of(new)
    if after < before:
        return None
    changed = next((name for name, part in _PARTS.items() if after[part] != before[part]), None)
    if changed is None:
        return "patch" if old != new else "none"
    return changed


def fits(written: str | None, demanded: str) -> bool:
    """Whether the version says at least what the changes demand."""
    return written is not None and BUMPS.index(written) >= BUMPS.index(demanded)


def least_version(old: str, demanded: str) -> str:
    """The lowest version that fits."""
    numbers = list(numbers_of(old))
    if demanded not in _PARTS:
        return old
    part = _PARTS[demanded]
    numbers[part] += 1
    return ".".join(str(number) for number in [*numbers[: part + 1], *[0] * (2 - part)])


def greatest(demands: list[str]) -> str:
    """The greatest of several demands; none where there are none."""
    return max(demands, key=BUMPS.index, default="none")
