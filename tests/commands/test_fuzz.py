"""A plan and packs that are spoilt at random: only statuses 0 to 3, and never a traceback."""

from __future__ import annotations

import random
import re
import shutil
from pathlib import Path

import pytest

from .conftest import BASE, Run

FILES = (
    "trip.yaml", "my-road/pack.yaml", "my-road/rules.yaml", "my-road/references.yaml", "my-road/road.geojson",
    "my-road/cases.yaml", "my-list/rules.yaml", "my-basin/basin.geojson",
)  # fmt: skip
TOKENS = (
    "", "null", "true", "0", "-1", "1e30", "-0 m", "5 kg", "[]", "{}", "[[]]", "{a: b}", '""', "'", '"', ":", "- ", "#",
    "&a", "*a", "!!python/object:os.system", "!x", "|", ">", "%", "@", "`", "\t", "\n", "\r", "\x00", "\x85", "\u2028",
    "\ufeff", "🎈", "٣", "NaN", ".inf", "1_000", "0x1F", "2026-02-30", "9999-12-31", "{{ value }}", "{% x %}", "trip",
    "claim", "none", "y", "~", "<<", "---", "...", "1:30", "a" * 300, "9" * 200, "-90", "181 deg", "1/0 m", "∞ m",
)  # fmt: skip
WORD = re.compile(rb"[^\s{}\[\],:]+|[{}\[\],:]")
RUNS = 15


def _spoilt_bytes(content: bytes, chance: random.Random) -> bytes:
    """Some bytes changed, left out or doubled."""
    spoilt = bytearray(content)
    for _ in range(chance.randint(1, 3)):
        at = chance.randrange(len(spoilt))
        what = chance.choice(("change", "remove", "double", "cut"))
        if what == "change":
            spoilt[at] = chance.randrange(256)
        elif what == "remove":
            del spoilt[at : at + chance.randint(1, 8)]
        elif what == "double":
            spoilt[at:at] = spoilt[at : at + chance.randint(1, 40)]
        elif at > len(spoilt) // 2:
            del spoilt[at:]
    return bytes(spoilt)


def _spoilt_words(content: bytes, chance: random.Random) -> bytes:
    """Some words or marks replaced by awkward ones, or by others of the same file."""
    found = list(WORD.finditer(content))
    for match in sorted(chance.sample(found, chance.randint(1, 2)), key=lambda match: -match.start()):
        other = chance.choice(found)[0] if chance.random() < 0.4 else chance.choice(TOKENS).encode()
        content = content[: match.start()] + other + content[match.end() :]
    return content


@pytest.mark.parametrize("spoil", [_spoilt_bytes, _spoilt_words])
@pytest.mark.parametrize("name", FILES)
def test_spoilt_input_is_refused_or_judged(
    name: str, spoil: object, tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    chance = random.Random(f"{name} {spoil.__name__}")  # type: ignore[attr-defined]
    folder = tmp_path / "trip"
    shutil.copytree(BASE, folder)
    monkeypatch.chdir(folder)
    content = (folder / name).read_bytes()
    command = ("pack", "test", "my-road") if name.endswith("cases.yaml") else ("check", "trip.yaml")
    for _ in range(RUNS):
        spoilt = spoil(content, chance)  # type: ignore[operator]
        (folder / name).write_bytes(spoilt)
        status, out, err = run(*command)
        assert status in (0, 1, 2, 3), (spoilt, out, err)
        assert "Traceback" not in out + err
        assert status != 2 or (out == "" and "\n    = " in err), (spoilt, err)
