from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.rules import Complaint, Limit, Version, complaints_about, in_force, printed_figure

D = Decimal


def version(value: str = "80", unit: str = "ft", *printed: tuple[str, str], **more: object) -> Version:
    also = tuple((D(figure), other) for figure, other in printed)
    return Version(date(2024, 1, 1), value=D(value), unit=unit, also_printed=also, path=("v", 0), **more)  # type: ignore[arg-type]


def complaints(*versions: Version) -> list[Complaint]:
    return complaints_about(Limit("corridor", versions))


@pytest.mark.parametrize(
    ("day", "found"),
    [("2023-12-31", None), ("2024-01-01", 1), ("2024-12-31", 1), ("2025-01-01", None), ("2025-06-01", 2)],
)
def test_a_version_is_in_force_from_its_first_day_until_before_its_end(day: str, found: int | None) -> None:
    first = Version(date(2024, 1, 1), date(2025, 1, 1), D(1))
    second = Version(date(2025, 6, 1), None, D(2))
    version = in_force([first, second], date.fromisoformat(day))
    assert (version.value if version else None) == found


@given(st.lists(st.dates(date(2000, 1, 1), date(2030, 1, 1)), min_size=2, max_size=5, unique=True), st.integers(0, 900))
def test_versions_end_to_end_have_exactly_one_in_force_on_every_day(days: list[date], later: int) -> None:
    starts = sorted(days)
    versions = [
        Version(start, end, D(1), "m", path=("v", index))
        for index, (start, end) in enumerate(zip(starts, [*starts[1:], None], strict=True))
    ]
    day = starts[0] + timedelta(later)
    assert sum(in_force([one], day) is one for one in versions) == 1
    assert complaints_about(Limit("x", tuple(versions))) == []


@pytest.mark.parametrize(
    ("value", "unit", "figure", "other"),
    [
        ("100", "ft", "30.5", "m"),
        ("100", "ft", "30.48", "m"),
        ("100", "ft", "30.480", "m"),
        ("100", "ft", "30", "m"),
        ("80", "ft", "24.4", "m"),
        ("0.5", "mi", "0.8", "km"),
        ("25", "degC", "77", "degF"),
        ("0.25", "m", "0.2", "m"),
        ("0.25", "m", "0.3", "m"),
    ],
)
def test_an_equivalent_within_its_own_rounding_agrees(value: str, unit: str, figure: str, other: str) -> None:
    assert complaints(version(value, unit, (figure, other))) == []


@pytest.mark.parametrize(
    ("value", "figure", "what", "advice"),
    [
        ("80", "24.3", "24.3 m does not agree with 80 ft, which is 24.384 m", 'Write "24.4"'),
        ("80", "24.44", "24.44 m does not agree with 80 ft, which is 24.384 m", 'Write "24.38"'),
        ("100", "30.50", "30.50 m does not agree with 100 ft, which is 30.48 m", 'Write "30.48"'),
        ("100", "31", "31 m does not agree with 100 ft, which is 30.48 m", 'Write "30"'),
    ],
)
def test_an_equivalent_beyond_its_own_rounding_is_refused(value: str, figure: str, what: str, advice: str) -> None:
    rest = ", or correct the value; the printed equivalent must agree within its own rounding."
    assert complaints(version(value, "ft", (figure, "m"))) == [
        Complaint(("v", 0, "also_printed", 0, "value"), what, advice + rest, ("v", 0, "value"))
    ]


@given(st.decimals(1, 10_000, places=2), st.integers(0, 4))
def test_the_value_rounded_to_any_place_always_agrees(feet: Decimal, places: int) -> None:
    metres = (feet * D("0.3048")).quantize(D(1).scaleb(-places))
    assert complaints(version(str(feet), "ft", (str(metres), "m"))) == []
    far = metres + D(1).scaleb(-places)
    assert len(complaints(version(str(feet), "ft", (str(far), "m")))) == 1


def test_an_end_that_is_not_after_the_beginning_is_refused() -> None:
    one_day = Version(date(2024, 1, 1), date(2024, 1, 1), D(1), "m", path=("v", 0))
    assert complaints(one_day) == [
        Complaint(
            ("v", 0, "until"),
            "until 2024-01-01 is not after from 2024-01-01",
            "`until` is the first day on which it is no longer in force; write a later day.",
        )
    ]


def test_versions_that_overlap_are_refused_with_the_end_to_write() -> None:
    earlier = Version(date(2024, 1, 1), None, D(1), "m", path=("v", 1))
    later = Version(date(2025, 1, 1), None, D(2), "m", path=("v", 0))
    assert complaints(later, earlier) == [
        Complaint(
            ("v", 0),
            "the version from 2024-01-01 is still in force when that from 2025-01-01 begins",
            "Write `until: 2025-01-01` in the earlier one.",
            ("v", 1),
        )
    ]


def test_two_versions_from_one_day_are_refused() -> None:
    one = Version(date(2024, 1, 1), date(2025, 1, 1), D(1), "m", path=("v", 0))
    other = Version(date(2024, 1, 1), None, D(2), "m", path=("v", 1))
    what, advice = "two versions are in force from 2024-01-01", "Remove one of them, or change its dates."
    assert complaints(one, other) == [Complaint(("v", 1), what, advice, ("v", 0))]


def test_an_unknown_unit_is_refused() -> None:
    assert complaints(version("80", "feeet")) == [
        Complaint(("v", 0, "unit"), '"feeet" is not a known unit', 'Did you mean "feet"?')
    ]


def test_an_equivalent_of_another_dimension_is_refused() -> None:
    assert complaints(version("80", "ft", ("24.4", "kg"))) == [
        Complaint(
            ("v", 0, "also_printed", 0, "unit"),
            '"ft" is the unit of a length, "kg" of a mass',
            "Only values of one dimension can be converted.",
        )
    ]


def test_a_figure_that_is_no_number_is_refused() -> None:
    assert complaints(version("NaN")) == [
        Complaint(("v", 0, "value"), "NaN is not a number", 'Write digits in quotes, for example "24.4".')
    ]


def test_a_figure_of_more_digits_than_are_compared_is_refused() -> None:
    assert complaints(version("1.234567890123")) == [
        Complaint(
            ("v", 0, "value"),
            "1.234567890123 has more than 12 significant digits",
            "Values are compared after rounding to that many; write fewer.",
        )
    ]
    assert complaints(version("1000000000000.0")) == []


def test_a_version_needs_a_value_or_a_reason_for_none() -> None:
    neither = Version(date(2024, 1, 1), path=("v", 0))
    assert complaints(neither) == [
        Complaint(
            ("v", 0),
            "a limit has neither a value nor a reason for there being none",
            'Write `value: "80"` with its unit, or `none: REASON`.',
        )
    ]
    assert complaints(version(none="because")) == [
        Complaint(
            ("v", 0, "none"),
            "a limit has a value or a reason for there being none, not both",
            "Remove `value` or `none`.",
            ("v", 0, "value"),
        )
    ]
    assert complaints(Version(date(2024, 1, 1), none="because")) == []


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [("80", "ft", "80 ft"), ("10", "", "10"), ("1E+3", "m", "1000 m"), ("25", "degC", "25 °C")],
)
def test_a_figure_is_printed_with_its_unit(value: str, unit: str, text: str) -> None:
    assert printed_figure(D(value), unit) == text
