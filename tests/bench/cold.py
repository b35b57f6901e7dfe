"""Cold processes: what a command costs against importing, alone, the third-party libraries that it works with.

Each command runs in a process of its own, in turn with a process that imports every third-party module which the
command was seen to import, and does nothing else. Processor time is compared, not the clock: it is what the work
costs, and other work on the machine disturbs it least. All modules are compiled beforehand, as they are once installed.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from statistics import median

TIMES = 11

PROBE = """
import atexit, json, sys
def told():
    files = {name: getattr(module, "__file__", None) or "" for name, module in list(sys.modules.items())}
    third = [name for name, file in files.items() if "site-packages" in file]
    third = [name for name in third if name.split(".")[0] not in ("afield", "__main__")]
    sys.stderr.write("\\n" + json.dumps(third))
atexit.register(told)
"""
"""Prints, when the process ends, which third-party modules it has imported, in that order."""

LIBRARIES = """
import importlib
for name in {names}:
    try:
        importlib.import_module(name)
    except ImportError:
        pass  # a name that its library has made for itself
"""

COMMAND = "import sys; sys.argv = {arguments}; from afield.core.cli import main; main()"


@dataclass(frozen=True, slots=True)
class Cold:
    """What a command cost: processor seconds, each the median of its runs, and the median of the runs' ratios."""

    command: float
    libraries: float
    ratio: float


class Processes:
    """Starts Python processes that keep their compiled modules in a folder of their own."""

    def __init__(self, scratch: Path) -> None:
        kept = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
        self.scratch, self.environment = scratch, {**kept, "PYTHONPYCACHEPREFIX": str(scratch / "compiled")}

    def seconds(self, code: str, statuses: tuple[int, ...]) -> float:
        """Processor seconds, user and system, of a process that runs the code and ends with one of the statuses."""
        process = subprocess.Popen(
            [sys.executable, "-c", code], cwd=self.scratch, env=self.environment, stdout=subprocess.DEVNULL
        )
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode not in statuses:
            raise RuntimeError(f"the process ended with {process.returncode}: {code}")
        return used.ru_utime + used.ru_stime

    def libraries_of(self, code: str) -> list[str]:
        """The third-party modules that a process with this code imports."""
        done = subprocess.run(
            [sys.executable, "-c", PROBE + code],
            cwd=self.scratch, env=self.environment, capture_output=True, text=True, check=False,
        )  # fmt: skip
        found: list[str] = json.loads(done.stderr.splitlines()[-1])
        return found


def cold(arguments: list[str], scratch: Path, times: int = TIMES) -> Cold:
    """What the command with these arguments costs.

    Args:
        arguments: of `afield`, with full paths.
        scratch: folder to run in.
        times: how often each of the two processes is run.

    """
    processes = Processes(scratch)
    command = COMMAND.format(arguments=["afield", *arguments])
    libraries = LIBRARIES.format(names=processes.libraries_of(command))
    pairs = [(processes.seconds(command, (0, 1, 3)), processes.seconds(libraries, (0,))) for _ in range(times + 1)][1:]
    return Cold(*(median(side) for side in zip(*pairs, strict=True)), median(one / other for one, other in pairs))
