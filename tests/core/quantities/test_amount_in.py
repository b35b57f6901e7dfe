import pytest

from afield.core.quantities import QuantityError, amount_in


def test_a_leaf_of_a_plan_becomes_a_number_in_the_unit_asked_for() -> None:
    assert amount_in("6000 mAh", "Ah") == pytest.approx(6.0)
    assert amount_in("2.5 mm²", "mm2") == 2.5
    assert amount_in("32 °F", "degC") == pytest.approx(0.0)
    assert amount_in("5 mohm", "ohm") == pytest.approx(0.005)


def test_another_dimension_is_refused() -> None:
    with pytest.raises(QuantityError, match="6 Wh is an energy; a charge is due"):
        amount_in("6 Wh", "Ah")
