"""A national-size catalogue of invented references: what building it and asking it cost.

Run: python tests/bench/near.py

100,000 areas of 51 vertices and 20,000 lines of 205, as GeoJSON. Building is compared with reading the same text by the
standard library's json alone, asking with a bare Python process. Each runs in a process of its own; processor time is
compared, except where the budget is in seconds. All modules are compiled beforehand, as they are once installed.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from math import cos, pi, radians, sin
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import NamedTuple

from cold import Processes

AREAS, CORNERS, LINES, BENDS = 100_000, 50, 20_000, 205
TIMES = 11
HEAD = '{"type":"Feature","properties":{"name":"%s %d"},"geometry":{"type":"%s","coordinates":'

BUILD = """
import sys; sys.argv = ["afield", "catalogue", "build", *{files}, "-o", {out}, "--force", "--map-accuracy", "5 m"]
from afield.core.cli import main; main()
"""
READ = """
import gc, json; gc.disable()
for name in {files}:
    with open(name, encoding="utf-8") as stream:
        for line in stream:
            if line.startswith('{{"type":"Feature"'):
                json.loads(line.rstrip().rstrip(","))
"""
COMMAND = """
import sys; sys.argv = ["afield", "near", {at}, "--catalogue", {out}, "--accuracy", "5 m", "--reach", "25 m"]
from afield.core.cli import main; main()
"""
START = "import sys; sys.argv = ['afield', '--version']; from afield.core.cli import main; main()"
ANSWER = """
from pathlib import Path
from afield.plugins.geometry.catalogue.asked import position_asked
from afield.plugins.geometry.catalogue.findings import findings
from afield.plugins.geometry.catalogue.opening import opened
from afield.plugins.geometry.catalogue.saying import near_text
with opened(Path({out}), "refs.sqlite") as connection:
    print(near_text(findings(connection, "refs.sqlite", position_asked({at}, "5 m", None), 5000.0, 25.0)))
"""
SEARCH = """
from pathlib import Path
from afield.plugins.geometry.catalogue.looking import references_near
from afield.plugins.geometry.catalogue.opening import opened
with opened(Path({out}), "refs.sqlite") as connection:
    references_near(connection, *map(float, {at}.split(",")), 5000.0)
"""


class Cost(NamedTuple):
    """Of a process: seconds by the clock and of the processor, and its greatest memory, MB."""

    clock: float
    processor: float
    memory: float


def cost(code: str, scratch: Path) -> Cost:
    """What a Python process with this code costs; compiled modules are kept in the scratch folder."""
    start = perf_counter()
    environment = Processes(scratch).environment
    process = subprocess.Popen([sys.executable, "-c", code], env=environment, stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"the process ended with {process.returncode}: {code}")
    return Cost(perf_counter() - start, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def usual(code: str, scratch: Path, times: int = TIMES) -> Cost:
    """The medians of several processes, after one that is not counted."""
    costs = [cost(code, scratch) for _ in range(times + 1)][1:]
    return Cost(*(median(side) for side in zip(*costs, strict=True)))


def star(chance: random.Random) -> str:
    """The coordinates of an area: a star of a few hundred metres to a few kilometres."""
    lat, lon, size = chance.uniform(30, 48), chance.uniform(-124, -70), chance.uniform(0.002, 0.03)
    wide = size / cos(radians(lat))
    turns = [(2 * pi * k / CORNERS, chance.uniform(0.6, 1)) for k in range(CORNERS)]
    points = [f"[{lon + wide * far * sin(turn):.6f},{lat + size * far * cos(turn):.6f}]" for turn, far in turns]
    return f"[[{','.join(points)},{points[0]}]]"


def walk(chance: random.Random) -> str:
    """The coordinates of a line: steps of 50 m that turn a little."""
    lat, lon, turn = chance.uniform(30, 48), chance.uniform(-124, -70), chance.uniform(0, 6)
    points = []
    for _ in range(BENDS):
        turn += chance.uniform(-0.5, 0.5)
        lat, lon = lat + 0.0005 * cos(turn), lon + 0.0006 * sin(turn)
        points.append(f"[{lon:.6f},{lat:.6f}]")
    return f"[{','.join(points)}]"


def features(count: int, word: str, kind: str, chance: random.Random) -> Iterator[str]:
    """The text of a collection, a feature a line."""
    yield '{"type":"FeatureCollection","features":[\n'
    shape = star if kind == "Polygon" else walk
    for number in range(count):
        yield f"{HEAD % (word, number, kind)}{shape(chance)}}}}}{',' if number < count - 1 else ''}\n"
    yield "]}\n"


def written(folder: Path) -> list[str]:
    """The files of invented references."""
    chance = random.Random(11)
    made = [("areas", AREAS, "area", "Polygon"), ("lines", LINES, "line", "LineString")]
    for name, count, word, kind in made:
        with (folder / f"{name}.geojson").open("w", encoding="utf-8") as stream:
            stream.writelines(features(count, word, kind, chance))
    return [str(folder / f"{name}.geojson") for name, *_ in made]


def asked() -> list[str]:
    """Places to ask about, some in areas."""
    chance = random.Random(12)
    return [f"{chance.uniform(30, 48):.5f}, {chance.uniform(-124, -70):.5f}" for _ in range(TIMES)]


def main() -> None:
    """Prints the figures."""
    print(f"catalogue of {AREAS:,} areas ({AREAS * (CORNERS + 1):,} vertices) and {LINES:,} lines ({LINES * BENDS:,})")
    with tempfile.TemporaryDirectory() as folder:
        scratch, out = Path(folder), str(Path(folder) / "refs.sqlite")
        files = written(scratch)
        read, build = (cost(code.format(files=files, out=repr(out)), scratch) for code in (READ, BUILD))
        ratio = build.processor / read.processor
        print(f"build: {build.clock:.1f} s (budget 30 s; {build.processor:.1f} s of processor time), ", end="")
        print(f"{build.memory:.0f} MB at its peak (budget 500 MB), ", end="")
        print(f"{ratio:.1f} x reading the text by json alone; the file has {Path(out).stat().st_size / 1e6:.0f} MB")
        print_asking(out, scratch)


def print_asking(out: str, scratch: Path) -> None:
    """Prints what asking costs, beyond a bare Python process."""
    bare = usual("pass", scratch)
    for title, code in (("search", SEARCH), ("search, position and text", ANSWER), ("afield near, whole", COMMAND)):
        costs = [cost(code.format(out=repr(out), at=repr(at)), scratch).processor for at in asked()]
        print_beyond(title, median(costs), bare.processor)
    print_beyond("afield --version", usual(START, scratch).processor, bare.processor)


def print_beyond(title: str, processor: float, bare: float) -> None:
    """Prints one line of it."""
    beyond = 1000 * (processor - bare)
    print(
        f"{title:<28}{beyond:6.0f} ms beyond bare Python (budget for near 100 ms), {processor / bare:4.1f} x it",
        flush=True,
    )


if __name__ == "__main__":
    main()
