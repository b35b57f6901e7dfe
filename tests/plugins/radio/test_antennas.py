"""The facts of an antenna."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.api import CannotTell
from afield.plugins.radio.antenna_facts import antenna_covers_bands, antenna_in_use


def used(bench: Any, key: str, undecided: Any = ()) -> Any:
    return antenna_in_use.function(bench.ways, bench.items, undecided, bench.subject(key))


def test_which_items_are_antennas_in_use(low: Any) -> None:
    low.item("other", "antenna").item("spare", "antenna", spare_of="wire").item("pencil", None)
    assert [key for key in low.items if used(low, key)] == ["wire"]


def test_no_antenna_is_joined(low: Any) -> None:
    low.ways.clear()
    with pytest.raises(CannotTell, match=r"joins a radio to wire$"):
        used(low, "wire")
    assert used(low, "radio") is False


def test_an_antenna_to_which_more_than_one_way_may_lead_is_not_out_of_use(low: Any) -> None:
    low.item("other", "antenna")
    chain = {
        "chain": "chain:rf/radio", "role": "RF", "why": "more than one way fits", "settle": "connections",
        "from": ["radio"], "to": ["wire", "other"], "through": ["coax"],
    }  # fmt: skip
    with pytest.raises(CannotTell, match=r"^more than one way fits$"):
        used(low, "other", [chain])
    assert used(low, "wire", [chain])
    assert used(low, "radio", [chain]) is False


def test_only_an_antenna_is_asked_for_its_bands(low: Any) -> None:
    asked = antenna_covers_bands.function
    assert asked(low.ways, low.items, [{"band": "40m"}], low.subject("wire")).value
    with pytest.raises(CannotTell, match=r"^radio is no antenna$"):
        asked(low.ways, low.items, [{"band": "40m"}], low.subject("radio"))


def test_an_antenna_of_unknown_ports_may_serve_what_no_other_does(low: Any) -> None:
    wire = low.items["wire"]["data"]
    wire["antenna"], wire["ports"] = {"bands": ["20m"]}, []
    uses = [{"band": "80m"}]
    given = (low.ways, low.items, uses, low.subject("wire"))
    assert antenna_covers_bands.function(*given).value is False
    low.item("other", "antenna")
    with pytest.raises(CannotTell) as caught:
        antenna_covers_bands.function(*given)
    assert caught.value.reason.text == "the ports of other are not stated, and it may be the antenna for 80m"
    low.items["other"]["data"]["antenna"] = {"bands": ["40m"]}
    assert antenna_covers_bands.function(*given).value is False
    low.item("other", "antenna", spare_of="wire")
    assert antenna_covers_bands.function(*given).value is False
