"""What is said in German: whole sentences, with a decimal comma but in megahertz; what is data stays as it is."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from afield.core.api import CannotTell
from afield.core.language import missing, speaking, speech
from afield.plugins.radio import comparing, plugin
from afield.plugins.radio.computations.checked import OutOfRange, at_least, within
from afield.plugins.radio.in_use import NOT_OF, of_class
from afield.plugins.radio.pieces import USUAL, USUALLY
from afield.plugins.radio.planned import planned_uses
from afield.plugins.radio.power_data import power_data
from afield.plugins.radio.power_section import power_text
from afield.plugins.radio.ratings import duty_of
from afield.plugins.radio.wire_facts import part_wave_fits
from afield.plugins.radio.wire_section import wire_data, wire_text
from afield.plugins.radio.wires import fit_of, multiple_words
from afield.plugins.radio.words import refused

from .conftest import power_of


@pytest.fixture(autouse=True)
def german(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    # This catalogue alone, whatever plugins other tests have loaded.
    monkeypatch.setattr(speech, "_folders", {Path(plugin.__file__).parent / "locale": None})
    with speaking("de"):
        yield
        assert not missing()


def text_of(rows: list[dict[str, Any]]) -> str:
    data = power_data({"radio.power_table": {"trip": {"reason": None, "value": {"rows": rows}}}})
    assert data is not None
    return power_text(data)


def test_the_section_on_power(make_amplified: Any) -> None:
    lines = text_of(make_amplified(gain="13 dB", output="100 W").table({"band": "20m"})).splitlines()
    assert lines[:3] == [
        "20m: radio an linear an wire",
        "100 W ± 13 W (95 %) am Ausgang, bestimmt durch: Ansteuerung und Verstärkung von linear",
        "abzüglich 0,55 dB in Leitungen",
    ]
    assert lines[5].endswith("(95 %) Verlust")
    assert "- Auf 20m ist keine Frequenz geplant: angesetzt wird die Bandmitte, 14.175 MHz (ADIF 3.1.6, Band)." in lines


def test_what_cannot_be_told(low: Any) -> None:
    assert text_of(low.table({})).splitlines() == [
        "keine Frequenz geplant: radio an wire",
        "NICHT ENTSCHEIDBAR: weder Band noch Frequenz ist geplant",
    ]


def test_the_method_and_the_comparison(low: Any, make_amplified: Any) -> None:
    base, variant = (
        power_of(bench.table({"band": "20m"})) for bench in (low, make_amplified(gain="20 dB", output="100 W"))
    )
    assert base.method == (
        "20m: radio bis wire: 5 W abzüglich 0,55 dB in Leitungen, 0,05 dB durch die Stehwelle, 0,18 dB durch "
        "Fehlanpassung"
    )
    one, other = (
        {"value": one.value, "uncertainty": one.high - one.value, "detail": one.detail, "rank": "computed"}
        for one in (base, variant)
    )
    assert comparing.difference_words(one, other) == (
        "13,0 dB ± 0,4 dB (95 %) mehr an der Antenne, etwa 2 S-Stufen (je 6 dB, IARU Region 1 R.1)"
    )
    assert comparing.value_words(one).splitlines()[1] == "20m: 4,17 W, 0,8 dB Verlust auf dem Weg"


def known(value: Any, **more: Any) -> dict[str, Any]:
    return {"value": value, "reason": None, **more}


def test_the_section_on_the_antenna() -> None:
    uses = [{"band": "30m", "frequency_mhz": None}]
    assert part_wave_fits.function is not None
    fits = part_wave_fits.function(20.0, uses)
    gain = {"wave": "horizontal", "frequency": "10.125", "over_sea": "-7.1", "over_average": "-7.3"}
    wire = "part:wire"
    data = wire_data({
        "part.role": {wire: known("antenna")}, "radio.uses": {"trip": known({"uses": uses})},
        "part.wire_length": {wire: known(20.0, uncertainty=0.14)}, "part.wave_fits": {wire: known(fits.value)},
        "kit.things": {"trip": known({"things": {}})}, "station.ground": {"trip": known("average ground")},
        "part.low_angle_gain": {wire: known(-7.3, low=-8.4, high=-6.1, detail=gain)},
        "ground.conductivity": {},
    })  # fmt: skip
    assert data is not None
    assert wire_text(data).splitlines() == [
        "wire, 20,00 m ± 0,14 m (95 %)",
        "  30m: Halbwelle 14,09 m (46,2 ft), Viertelwelle 7,04 m (23,1 ft); am nächsten liegt eine ganze Welle, "
        "31 % zu kurz: für 10.125 MHz um 8,89 m (29,2 ft) verlängern.",
        "  Die Ausrüstung hat keinen Antennentuner, der einen unpassenden Draht anpassen würde.",
        "  Boden: mittlerer Boden; Wellen: horizontal; 10.125 MHz: -7,3 dB durch den Boden unter 10 Grad (-8,4 bis "
        "-6,1). Über dem Meer wären es -7,1 dB, über mittlerem Boden -7,3 dB.",
    ]
    assert fits.value[0]["words"] == "a full wave"


def test_a_frequency_for_which_there_is_no_rule() -> None:
    (use,) = planned_uses([{"band": "2m"}])
    with pytest.raises(CannotTell) as silent:
        fit_of(10.0, use)
    assert silent.value.reason.text == (
        "Frequenz 146 MHz liegt außerhalb von 1.8 bis 54, wo die Faustregeln für Drähte gelten"
    )


def test_of_other_figures_the_computation_s_own_words_are_told() -> None:
    with pytest.raises(OutOfRange) as outside:
        within(0, 1, 2, "duty factor")
    assert refused(outside.value) == str(outside.value) == "duty factor 2 is outside 0 to 1"
    with pytest.raises(ValueError) as below:
        at_least(0, -1, "length", "m")
    assert refused(below.value) == "length -1 m is below 0"


def test_a_multiple_is_said_in_german_and_kept_in_english() -> None:
    (use,) = planned_uses([{"band": "40m"}])
    assert fit_of(20.0, use).words() == "a half wave"
    assert [multiple_words(quarters) for quarters in (1, 2, 4, 6)] == [
        "eine Viertelwelle", "eine Halbwelle", "eine ganze Welle", "3 Halbwellen",
    ]  # fmt: skip


@pytest.mark.parametrize("class_", NOT_OF)
def test_an_item_that_is_not_of_the_class(low: Any, class_: str) -> None:
    with pytest.raises(CannotTell) as silent:
        of_class(low.items, low.subject("radio"), class_)
    assert silent.value.reason.text == {
        "antenna": "radio ist keine Antenne", "amplifier": "radio ist keine Endstufe",
    }[class_]  # fmt: skip


def test_each_usual_loss_has_its_words() -> None:
    assert USUALLY.keys() == USUAL.keys()


def test_a_mode_is_known_by_its_name_in_any_language() -> None:
    assert duty_of("CW")[1] is None
    assert duty_of("SSB")[1] == "SSB wird mit 20 % ohne bis 50 % mit starker Sprachverarbeitung angesetzt."
