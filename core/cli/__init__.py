"""The command `afield`."""

from __future__ import annotations


def main() -> None:
    """Run the command line; every failure ends with a message and a status, never with a bare traceback."""
    import gc

    # Sweeping for garbage while a short command imports would cost a tenth of its time and find nothing.
    gc.set_threshold(500_000)

    from afield.core.cli.running import run

    try:
        run()
    finally:
        # What lives now dies with the process: it need not be swept once more at its end.
        gc.freeze()
