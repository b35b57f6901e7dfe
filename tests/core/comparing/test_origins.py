"""An error cancels if it is one error: one reading, not one name."""

from __future__ import annotations

from typing import Any

from afield.core.api import Estimate, Subject, fact
from afield.core.comparing.origins import origins, shared_origins
from afield.core.host.hookspecs import Comparison


def test_an_origin_enters_where_it_is_stated(house: Any) -> None:
    plan = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}}
    report = house.toys.report(**plan)
    assert {origin: sorted(one[:2] for one in found) for origin, found in origins(report).items()} == {
        "plan.yaml:8:13": [("trip", "wall.height")],
        "plan.yaml:11:13": [("trip", "ladder.length")],
    }


def test_a_reading_that_the_variant_keeps_is_one_error(house: Any) -> None:
    # The wall is the same wall: of ± 3 cm and ± 4 cm for each ladder, the ladders' alone are left.
    found = house.difference("wall.gap", "long-ladder")
    assert (found["value"], found["uncertainty"]) == (-0.8, 0.0565685424949)
    assert found["words"] == "-0.80 m ± 0.06 m (95 %; -2.62 ft ± 0.19 ft)"


def own_interval() -> Any:
    @fact("trip.swing", kind="trip", unit="m", title="swing of the ladder")
    def swing(ladder_length: float) -> Estimate:
        return Estimate(ladder_length / 2, low=ladder_length / 2 - 0.5, high=ladder_length / 2 + 0.5)

    return swing


def weighed() -> Any:
    @fact("trip.weight", kind="trip", unit="kg", title="weight", owns_uncertainty=True)
    def weight(subject: Subject) -> Estimate:
        kilograms = float(len(subject.data["shelves"])) * 10
        return Estimate(kilograms, parts={"the scales": kilograms / 10})

    return weight


def test_an_origin_of_one_name_with_another_value_is_another_error(bare: Any) -> None:
    bare.bring(Comparison("trip.weight", "Weight", 1), facts=lambda: [*bare.toys.FACTS, weighed()])
    one = bare.difference("trip.weight", "more-books")
    assert (one["value"], one["uncertainty"], one["finding"]) == (10.0, 2.2360679775, "differs")
    same = bare.difference("trip.weight", "long-ladder")
    assert (same["value"], same["uncertainty"], same["finding"]) == (0.0, 0.0, "the same")


def test_an_interval_that_is_computed_anew_does_not_cancel(bare: Any) -> None:
    bare.bring(Comparison("trip.swing", "Swing", 1), facts=lambda: [*bare.toys.FACTS, own_interval()])
    found = bare.difference("trip.swing", "long-ladder")
    assert found["finding"] == "no difference that can be told"
    assert found["uncertainty"] > 0.7
    assert bare.difference("trip.swing", "more-books")["finding"] == "the same"


def test_a_report_shares_all_with_itself(house: Any) -> None:
    report = house.toys.report(wall={"height": "3 m"}, ladder={"length": "2 m"})
    assert shared_origins(report, report) == set(origins(report)) != set()
