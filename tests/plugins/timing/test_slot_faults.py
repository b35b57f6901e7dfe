"""What is wrong with a slot's times, by hand; the plugins outing and timing say the same of it."""

from __future__ import annotations

from types import ModuleType

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.outing import slot_faults as of_outing
from afield.plugins.timing import slot_faults as of_timing

BOTH = (of_outing, of_timing)
MINUTE = st.integers(0, 1439)


def fault(
    module: ModuleType, begins: int, lasting: int, on_air: tuple[int, int] | None, leave: int | None, arrival: bool
) -> tuple[str, str] | None:
    """Which time is wrong, and the words that tell the kinds of fault apart."""
    frame = module.Frame("the arrival, 22:30", arrival, on_air, "23:30 to 03:00", leave, "04:00")
    found = module.fault_of(module.Written("a", "F", "T", begins, lasting), frame)
    return (found.key, found.what) if found else None


@pytest.mark.parametrize("module", BOTH)
@pytest.mark.parametrize(
    ("begins", "lasting", "on_air", "leave", "arrival", "told"),
    [
        # In minutes after an arrival at 22:30; the time on the air is 60 to 270, the departure at 330.
        (60, 210, (60, 270), 330, True, None),
        (90, 90, (60, 270), 330, True, None),
        (0, 330, None, 330, True, None),
        (90, 0, (60, 270), 330, True, ("to", "slot a begins and ends at T")),
        (59, 90, (60, 270), 330, True, ("from", "slot a, F to T, reaches outside the time on the air, 23:30 to 03:00")),
        (90, 181, (60, 270), 330, True, ("to", "slot a, F to T, reaches outside the time on the air, 23:30 to 03:00")),
        (
            270, 10, (60, 270), 330, True,
            ("from", "slot a, F to T, reaches outside the time on the air, 23:30 to 03:00"),
        ),
        (60, 271, None, 330, True, ("to", "slot a, F to T, reaches beyond the departure, 04:00")),
        (330, 10, None, 330, True, ("from", "slot a, F to T, reaches beyond the departure, 04:00")),
        (1410, 60, None, 330, True, ("from", "slot a begins at F, before the arrival, 22:30")),
        (1410, 60, (60, 270), None, True, ("from", "slot a begins at F, before the arrival, 22:30")),
        (
            1410, 60, None, 330, False,
            ("from", "slot a begins at F, before the arrival, 22:30, the first that the plan lists"),
        ),
        (60, 1410, None, 330, True, ("to", "slot a ends at T, before it begins, at F")),
        (60, 1410, (60, 270), 330, True, ("to", "slot a ends at T, before it begins, at F")),
        (60, 1410, None, None, False, ("to", "slot a ends at T, before it begins, at F")),
        # Nothing says that it is not a contest of most of a day.
        (0, 1380, None, None, True, None),
    ],
)  # fmt: skip
def test_what_is_told(
    module: ModuleType, begins: int, lasting: int, on_air: tuple[int, int] | None, leave: int | None, arrival: bool,
    told: tuple[str, str] | None,
) -> None:  # fmt: skip
    assert fault(module, begins, lasting, on_air, leave, arrival) == told


@given(MINUTE, MINUTE, MINUTE, MINUTE, MINUTE, st.booleans(), st.booleans(), st.booleans())
def test_both_plugins_say_the_same_and_accept_only_what_lies_inside(
    begins: int, lasting: int, one: int, two: int, three: int, arrival: bool, aired: bool, left: bool
) -> None:
    start, end, leave = sorted((one, two, three))
    window = (start, end) if aired else None
    said = [fault(module, begins, lasting, window, leave if left else None, arrival) for module in BOTH]
    assert said[0] == said[1]
    if said[0] is None:
        assert lasting > 0
        assert begins + lasting < 1440
        assert not aired or start <= begins < begins + lasting <= end
        assert not left or begins + lasting <= leave
