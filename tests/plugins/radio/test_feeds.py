"""What the antenna shows, and which antenna serves which band."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.api import CannotTell
from afield.plugins.radio.feeds import bands_of, covers, swr_note, swr_of
from afield.plugins.radio.figures import Figure
from afield.plugins.radio.planned import Planned, planned_uses
from afield.plugins.radio.serving import covers_bands
from afield.plugins.radio.things import Thing, things_of
from afield.plugins.radio.walks import legs_of, walks


def use(**stated: Any) -> Planned:
    return planned_uses([stated])[0]


def antenna(**told: Any) -> Thing:
    return Thing("wire", "wire", "antenna", {"antenna": told})


TWO = antenna(
    bands=["20m", "40m"],
    swr=[{"band": "20m", "ratio": 1.8}, {"at": "14.05 MHz", "ratio": 1.2}, {"at": "14.3 MHz", "ratio": 2.4}],
)


@pytest.mark.parametrize(
    ("stated", "ratio"),
    [({"band": "20m"}, 1.8), ({"frequency_mhz": 14.1}, 1.2), ({"frequency_mhz": 14.25}, 2.4)],
)
def test_the_nearest_stated_ratio_counts(stated: dict[str, Any], ratio: float) -> None:
    assert swr_of(TWO, use(**stated)) == Figure(ratio, pytest.approx(0.1 * ratio), "swr of wire on 20m", 1.0)
    assert str(swr_note(TWO, use(**stated))).startswith("A stated SWR is taken as good to ± 10 %")


def test_a_band_that_it_is_made_for_has_a_usual_ratio() -> None:
    assert swr_of(TWO, use(band="40m")) == Figure(1.5, 0.5, "swr of wire on 40m", 1.0)
    assert str(swr_note(TWO, use(band="40m"))).startswith("An SWR that is not stated is taken as 1 to 2")


def test_a_band_that_it_is_not_made_for_has_none() -> None:
    assert swr_of(TWO, use(band="15m")) is None
    assert swr_of(antenna(), use(band="15m")) is None
    assert swr_note(TWO, use(band="15m")) is None


def test_the_catalogue_s_ratios_are_known_half_as_well() -> None:
    typical = Thing("wire", "wire", "antenna", {**TWO.data, "typical": ["antenna"]})
    figure = swr_of(typical, use(band="20m"))
    assert figure is not None
    assert figure.around == pytest.approx(0.36)


def test_which_bands_it_is_made_for() -> None:
    assert bands_of(TWO) == ["20m", "40m"]
    assert bands_of(antenna(swr=[{"at": "7.1 MHz", "ratio": 1.5}])) == ["40m"]
    assert bands_of(antenna()) is None
    made = [covers(TWO, use(**stated)) for stated in ({"band": "40m"}, {"band": "15m"}, {})]
    assert made == [True, False, None]
    assert covers(antenna(), use(band="40m")) is None


def covered(bench: Any, *bands: str, of: str = "wire") -> Any:
    found = walks(legs_of(bench.ways, things_of(bench.items)))
    return covers_bands(found, planned_uses([{"band": band} for band in bands]), bench.subject(of))


def test_every_planned_band_has_its_antenna(low: Any) -> None:
    found = covered(low, "20m", "40m")
    assert (found.value, found.detail) == (True, {"lacks": "", "made_for": "20m, 40m", "tuner": ""})


def test_the_bands_that_lack_one_are_named(low: Any) -> None:
    found = covered(low, "20m", "15m", "10m")
    assert (found.value, found.detail["lacks"]) == (False, "15m, 10m")


def test_a_tuner_on_the_way_serves_every_band(low: Any) -> None:
    low.item("tuner", "tuner").ways.clear()
    found = covered(low.way("radio", "wire", "tuner", "coax"), "15m")
    assert (found.value, found.detail["tuner"]) == (True, "tuner")


def test_a_second_antenna_serves_what_the_first_does_not(low: Any) -> None:
    low.item("whip", "antenna", antenna={"bands": ["2m"]}).way("radio.two", "whip")
    assert covered(low, "20m", "2m").value
    assert covered(low, "20m", "2m", of="whip").value
    assert covered(low, "20m", "70cm", of="whip").detail["lacks"] == "70cm"


def test_an_antenna_of_no_stated_bands_is_asked_for(low: Any) -> None:
    low.items["wire"]["data"] = {}
    with pytest.raises(CannotTell) as silence:
        covered(low, "20m")
    assert silence.value.reason.text == "the list of bands of wire is not stated"
    assert silence.value.reason.settle == "antenna.bands of wire in its kit file"


def test_no_planned_band_is_asked_for(low: Any) -> None:
    with pytest.raises(CannotTell, match=r"^no band and no frequency is planned$"):
        found = walks(legs_of(low.ways, things_of(low.items)))
        covers_bands(found, planned_uses([{}]), low.subject("wire"))
