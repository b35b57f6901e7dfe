from __future__ import annotations

from typing import Any

from afield.core.testing.recorded_inputs import RecordedInputs

INPUTS: dict[str, Any] = {
    "point": {"lat": 1, "lon": 2},
    "ring": [[1, 2]],
    "parts": [{"name": "wire", "height": 6}],
    "model": "x",
}


def test_nothing_is_read_at_first() -> None:
    assert RecordedInputs(INPUTS).unread() == ["point", "ring", "parts", "model"]


def test_each_value_that_is_read_is_known() -> None:
    inputs = RecordedInputs(INPUTS)
    assert inputs["point"]["lat"] == 1
    assert inputs["parts"][0]["name"] == "wire"
    assert inputs.get("model") == "x"
    assert inputs.unread() == ["point.lon", "ring", "parts.height"]


def test_passing_everything_on_reads_everything() -> None:
    inputs = RecordedInputs({"a": 1, "b": {"c": 2}})
    assert {**inputs["b"]} == {"c": 2}
    assert dict(**inputs)["a"] == 1
    assert inputs.unread() == []


def test_asking_whether_an_input_is_there_does_not_read_it() -> None:
    inputs = RecordedInputs({"a": 1})
    assert "a" in inputs
    assert "b" not in inputs
    assert inputs.get("b") is None
    assert len(inputs) == 1
    assert inputs.unread() == ["a"]


def test_an_ignored_input_takes_what_is_below_it_along() -> None:
    inputs = RecordedInputs(INPUTS)
    assert inputs["point"]["lon"] == 2
    assert inputs.unread({"point.lat", "ring", "parts", "model"}) == []
    assert inputs.unread({"point"}) == ["ring", "parts", "model"]
