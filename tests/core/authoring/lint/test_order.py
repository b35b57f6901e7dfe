"""What is found does not depend on the order in which rules are written."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from .conftest import Bench, spoiled

MESSY = ("rules-contradict", "rules-repeat", "detail-elsewhere", "text-never-shown", "need-missing", "rule-untried")


def messy() -> list[Any]:
    """Edits that bring many rules, and many findings."""
    return [edit for way in spoiled() if way.name in MESSY for edit in way.edits]


def shuffled(text: str, order: list[int]) -> str:
    """The rules file with its rules in another order."""
    head, _, rest = text.partition("  - id: ")
    rules, _, limits = rest.partition("\nlimits:")
    blocks = [f"  - id: {block.rstrip()}\n\n" for block in rules.split("  - id: ")]
    places = sorted(range(len(blocks)), key=lambda index: order[index % len(order)] * len(blocks) + index)
    return head + "".join(blocks[index] for index in places) + "limits:" + limits


def found_in(bench: Bench) -> set[tuple[Any, ...]]:
    """What is found, places left out."""
    return {
        (found.code, tuple(sorted(found.about.items())), found.what, found.advice, found.place.file)
        for found in bench.linted().findings
    }


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(order=st.permutations(range(9)))
def test_the_order_of_rules_does_not_matter(house_maker: Any, order: list[int]) -> None:
    with TemporaryDirectory() as name:
        bench = Bench(house_maker(Path(name)), Path(name)).edit(messy())
        expected = found_in(bench)
        path = bench.folder / "rules.yaml"
        path.write_text(shuffled(path.read_text(encoding="utf-8"), order), encoding="utf-8")
        assert found_in(bench) == expected
        assert len({code for code, *_ in expected}) > 4
