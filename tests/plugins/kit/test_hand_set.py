"""What must be set by hand follows from features."""

from __future__ import annotations

from typing import Any

import pytest

from afield.core.facts.measured import CannotTell
from afield.plugins.kit.hand_set import hand_set

BAND = [
    ("hf-amplifier-100-w", ["set the band of thing"]),
    ("hf-amplifier-100-w-automatic", []),
    ("linked-dipole", ["set the band of thing"]),
    ("dipole-one-band", []),
    ("telescopic-whip-hf", ["tune thing; no tuner is joined to it"]),
    ("laptop", ["set the clock of thing; nothing in the kit gives the time"]),
    ("multimeter", []),
]


@pytest.mark.parametrize(("item", "lines"), BAND)
def test_an_item_by_itself(item: str, lines: list[str], bag: Any) -> None:
    assert hand_set(bag.wiring(f"items:\n  - {{name: thing, is: {item}}}\n")) == lines


def test_a_spare_is_not_set(bag: Any) -> None:
    text = "items:\n  - {name: one, is: linked-dipole}\n  - {name: two, is: linked-dipole, spare_of: one}\n"
    assert hand_set(bag.wiring(text)) == ["set the band of one"]


TUNER = """\
items:
  - {name: radio, is: hf-radio-10-w}
  - {name: patch, is: patch-lead-bnc}
  - {name: tuner, is: TUNER}
  - {name: line, is: coax-bnc-bnc-10-m}
  - {name: wire, is: end-fed-wire-20-m}
connections:
  - [radio.antenna, patch.plug-a]
  - [patch.plug-b, tuner.radio-side]
  - [tuner.antenna-side, line.plug-a]
  - [line.plug-b, wire.feed]
"""


def test_a_tuner_in_the_line_tunes(bag: Any) -> None:
    assert hand_set(bag.wiring(TUNER.replace("TUNER", "automatic-tuner-10-w"))) == []


def test_a_tuner_without_the_feature_is_the_hand_s_tool(bag: Any) -> None:
    by_hand = TUNER.replace("is: TUNER", "is: automatic-tuner-10-w, features: []")
    assert hand_set(bag.wiring(by_hand)) == ["tune wire with tuner"]


def test_a_source_of_time_that_is_joined_sets_the_clock(bag: Any) -> None:
    text = "items:\n  - {name: laptop, is: laptop}\n  - {name: receiver, is: navigation-receiver}\n"
    assert hand_set(bag.wiring(text)) == ["set the clock of laptop by receiver"]
    assert hand_set(bag.wiring(text + "connections: [[receiver.usb, laptop.usb-a]]\n")) == []


def test_features_that_are_not_stated_are_asked_for(bag: Any) -> None:
    with pytest.raises(CannotTell) as silent:
        hand_set(bag.wiring("items:\n  - {name: linear, class: amplifier}\n"))
    reason = silent.value.reason
    assert (reason.text, reason.settle) == ("the features of linear are not stated", "features of linear in kit.yaml")
