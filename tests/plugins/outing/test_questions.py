import pytest

from afield.plugins.outing.questions import position_lines


def test_latitude_and_longitude_stand_in_the_plan_as_typed() -> None:
    assert position_lines("39.90400, -117.0 within 5 m")[1].startswith(
        "  at: {lat: 39.90400, lon: -117.0, accuracy: 5 m}"
    )


@pytest.mark.parametrize(
    ("answer", "fields"),
    [
        ("39 54.247 N, 117 18.173 W within 5 m", 'lat: "39 54.247 N", lon: "117 18.173 W"'),
        ("39° 54' 14.8\" N, 117° 18' 10.4\" W within 5 m", 'lat: "39° 54\' 14.8\\" N", lon: "117° 18\' 10.4\\" W"'),
    ],
)
def test_degrees_and_minutes_are_taken_as_typed(answer: str, fields: str) -> None:
    assert position_lines(answer)[1].startswith(f"  at: {{{fields}, accuracy: 5 m}}")
