from afield.plugins.outing.questions import position_lines


def test_latitude_and_longitude_stand_in_the_plan_as_typed() -> None:
    assert position_lines("39.90400, -117.0 within 5 m")[1].startswith(
        "  at: {lat: 39.90400, lon: -117.0, accuracy: 5 m}"
    )
