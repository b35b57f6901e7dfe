"""The command `afield`."""

from __future__ import annotations


def main() -> None:
    """Run the command line; every failure ends with a message and a status, never with a bare traceback."""
    from afield.core.cli.running import run

    run()
