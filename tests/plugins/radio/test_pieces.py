"""What lines and fittings lose."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.api import CannotTell
from afield.plugins.radio.computations.lines import coax_matched_loss
from afield.plugins.radio.figures import Draw, spread
from afield.plugins.radio.pieces import Points, fitting_db, line_db, notes_on
from afield.plugins.radio.planned import Planned, planned_uses
from afield.plugins.radio.things import Thing


def at(mhz: float) -> Planned:
    return planned_uses([{"frequency_mhz": mhz}])[0]


def coax(**line: Any) -> Thing:
    return Thing("coax", "coax", "feed line", {"line": line}, "kit.yaml")


def silence(work: Any) -> tuple[str, str | None, str]:
    with pytest.raises(CannotTell) as found:
        work()
    reason = found.value.reason
    return reason.text, reason.settle, reason.code


@pytest.mark.parametrize("written", ["RG-58", "rg58", "RG-58C/U", "RG 58"])
def test_a_known_type_loses_what_is_published(written: str) -> None:
    loss = line_db(coax(type=written, length="10 m"), at(14.2), Draw())
    assert loss == coax_matched_loss("RG-58", 14.2, 10).loss_db


@pytest.mark.parametrize("written", ["RG-8X", "RG-174", "RG-5", "RG-580", "window line"])
def test_a_type_whose_losses_are_not_known_is_asked_for(written: str) -> None:
    assert silence(lambda: line_db(coax(type=written, length="10 m"), at(14.2), Draw())) == (
        f"the losses of {written} are not known; known are those of RG-58 and RG-213",
        "line.losses of coax in kit.yaml",
        "not stated",
    )


def test_a_known_type_outside_its_range() -> None:
    text, settle, code = silence(lambda: line_db(coax(type="RG-58", length="10 m"), at(433.5), Draw()))
    assert text == "RG-58: frequency 433.5 MHz is outside 1.8 to 150"
    assert (settle, code) == ("line.losses of coax in kit.yaml", "outside validity")


def test_published_losses_are_unsure_by_a_quarter_under_the_type_s_name() -> None:
    found = spread(lambda draw: line_db(coax(type="RG-58", length="10 m"), at(14.2), draw))
    assert found.parts(lambda one: one) == {"line loss of RG-58": pytest.approx(found.result / 4)}


OWN = coax(length="20 m", losses=[{"at": "30 MHz", "per_100_m": "6 dB"}, {"at": "10 MHz", "per_100_m": "3 dB"}])


def test_own_losses_hold_at_their_points_and_scale_by_the_root_beyond() -> None:
    assert line_db(OWN, at(30), Draw()) == pytest.approx(1.2)
    assert line_db(OWN, at(10), Draw()) == pytest.approx(0.6)
    assert line_db(OWN, at(2.5), Draw()) == pytest.approx(0.3)
    assert line_db(OWN, at(120), Draw()) == pytest.approx(2.4)


def test_how_well_own_losses_are_known() -> None:
    for mhz, share in ((20, 0.05), (50, 0.15)):
        found = spread(lambda draw, mhz=mhz: line_db(OWN, at(mhz), draw))
        assert found.parts(lambda one: one) == {"line loss of coax": pytest.approx(share * found.result)}


def test_own_losses_too_far_away_are_no_answer() -> None:
    assert silence(lambda: line_db(OWN, at(432), Draw()))[0] == "the losses of coax are stated too far from 432 MHz"


@given(st.floats(1, 500), st.floats(1.01, 3))
def test_loss_never_falls_with_frequency_where_the_points_do_not(mhz: float, times: float) -> None:
    points = Points(((10.0, 3.0), (30.0, 6.0), (150.0, 15.0)))
    assert points.at(mhz * times) > points.at(mhz)


def test_a_stated_insertion_loss_is_good_to_a_twentieth() -> None:
    tuner = Thing("tuner", "tuner", "tuner", {"insertion_loss": "0.4 dB"})
    found = spread(lambda draw: fitting_db(tuner, draw))
    assert (found.result, found.parts(lambda one: one)) == (0.4, {"insertion loss of tuner": pytest.approx(0.02)})


def test_the_catalogue_s_is_good_to_a_fifth() -> None:
    meter = Thing("meter", "meter", "meter", {"insertion_loss": "0.4 dB", "typical": ["insertion_loss"]})
    found = spread(lambda draw: fitting_db(meter, draw))
    assert found.parts(lambda one: one) == {"insertion loss of meter": pytest.approx(0.08)}


def test_an_adapter_without_a_stated_loss_has_the_usual_one_and_says_so() -> None:
    adapter = Thing("adapter", "adapter", "adapter")
    found = spread(lambda draw: fitting_db(adapter, draw))
    assert (found.result, found.parts(lambda one: one)) == (0.05, {"usual loss of an adapter": pytest.approx(0.05)})
    assert notes_on(adapter) == [
        "An adapter without a stated loss is taken to lose 0.05 dB ± 0.05 dB (95 %; common practice, no source)."
    ]


def test_a_feed_line_that_is_not_described_is_asked_for() -> None:
    assert silence(lambda: fitting_db(Thing("coax", "coax", "feed line", {}, "kit.yaml"), Draw())) == (
        "the line of coax is not stated (its type or losses, and its length)",
        "line of coax in kit.yaml",
        "not stated",
    )


def test_a_thing_of_no_class_is_asked_for() -> None:
    assert silence(lambda: fitting_db(Thing("box", "box"), Draw()))[:2] == (
        "the insertion loss of box is not stated",
        "insertion_loss of box in its kit file",
    )


def test_a_line_has_no_fitting_s_loss_unless_it_is_stated() -> None:
    assert fitting_db(OWN, Draw()) == 0
    assert line_db(Thing("adapter", "adapter", "adapter"), at(14), Draw()) == 0
