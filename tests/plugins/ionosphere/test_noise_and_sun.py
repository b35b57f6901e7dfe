from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.plugins.ionosphere.computations.noise import CATEGORIES, external_noise_figure
from afield.plugins.ionosphere.computations.solar_index import f107_from_sunspot, sunspot_from_f107

NUMBERS = st.floats(min_value=0, max_value=250)


@given(st.floats(min_value=0.5, max_value=29))
def test_towns_are_noisier_than_the_country(frequency: float) -> None:
    figures = [external_noise_figure(name, frequency) for name in ("business", "residential", "rural", "quiet rural")]
    assert figures == sorted(figures, reverse=True)


@pytest.mark.parametrize("category", CATEGORIES)
def test_noise_falls_by_its_slope_in_a_decade(category: str) -> None:
    fall = external_noise_figure(category, 2) - external_noise_figure(category, 20)
    assert fall == pytest.approx(CATEGORIES[category][1])


@given(NUMBERS)
def test_number_and_flux_lead_back_to_each_other(number: float) -> None:
    assert sunspot_from_f107(f107_from_sunspot(number)) == pytest.approx(number, abs=1e-6)


@given(st.floats(min_value=0, max_value=150))
def test_the_service_and_the_model_differ_by_little(number: float) -> None:
    assert f107_from_sunspot(number, "IPS") == pytest.approx(f107_from_sunspot(number), abs=6)
    assert sunspot_from_f107(f107_from_sunspot(number, "IPS"), "IPS") == pytest.approx(number, abs=3)


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (
            external_noise_figure,
            ("city", 7),
            'category "city" is not known; known are business, residential, rural, quiet rural, galactic',
        ),
        (external_noise_figure, ("quiet rural", 50), "frequency 50 MHz is outside 0.3 to 30"),
        (external_noise_figure, ("rural", 7100), "frequency 7100 MHz is outside 0.3 to 250"),
        (f107_from_sunspot, (-1,), "sunspot number -1 is outside 0 to 250"),
        (sunspot_from_f107, (60,), "F10.7 60 is outside 63.75 to 310"),
        (sunspot_from_f107, (65, "IPS"), "F10.7 65 is outside 67 to 310"),
        (f107_from_sunspot, (100, "CCIR"), 'model "CCIR" is not known; known are IRI, IPS'),
    ],
)
def test_figures_out_of_range_are_refused(function: Any, arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError) as refused:
        function(*arguments)
    assert str(refused.value) == message
