"""Sentences in another language: by the catalogues of the program and of plugins, and what none of them holds."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.language import (
    _,
    add_catalogues,
    day_in_words,
    in_language,
    language,
    local_digits,
    missing,
    ngettext,
    speaking,
)
from afield.core.language.speech import OWN
from afield.core.quantities import printed, trimmed
from afield.core.testing.catalogues import read_catalogue, updated, written

PO = """\
msgid ""
msgstr ""
"Language: de\\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\\n"
"Content-Type: text/plain; charset=utf-8\\n"

msgid "{count} boxes on the shelf"
msgstr "{count} Kisten auf dem Regal"

msgid "one box"
msgid_plural "{count} boxes"
msgstr[0] "eine Kiste"
msgstr[1] "{count} Kisten"
"""


@pytest.fixture
def catalogue(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    path = tmp_path / "locale" / "de" / "LC_MESSAGES" / "toys.po"
    path.parent.mkdir(parents=True)
    path.write_text(PO, encoding="utf-8")
    path.with_suffix(".mo").write_bytes(written(read_catalogue(path, "de"))[1])
    monkeypatch.setattr("afield.core.language.speech._folders", {OWN: None})
    add_catalogues(tmp_path / "locale")
    yield path


def test_a_sentence_is_looked_up_while_the_language_is_spoken_and_no_longer(catalogue: Path) -> None:
    said = "{count} boxes on the shelf"
    with speaking("de"):
        assert (_(said).format(count=3), language()) == ("3 Kisten auf dem Regal", "de")
    assert (_(said), language()) == (said, "en")


def test_numbers_of_things_count_as_the_language_does(catalogue: Path) -> None:
    with speaking("de"):
        assert [ngettext("one box", "{count} boxes", n).format(count=n) for n in (1, 0, 5)] == [
            "eine Kiste", "0 Kisten", "5 Kisten",
        ]  # fmt: skip
    assert [ngettext("one box", "{count} boxes", n) for n in (1, 2)] == ["one box", "{count} boxes"]


def test_what_no_catalogue_holds_stays_as_it_is_and_is_known_to_be_missing(catalogue: Path) -> None:
    with speaking("de"):
        assert (_("a lamp"), ngettext("one lamp", "{n} lamps", 1), ngettext("one lamp", "{n} lamps", 2)) == (
            "a lamp", "one lamp", "{n} lamps",
        )  # fmt: skip
        assert missing() == {"a lamp", "one lamp"}
    assert missing() == frozenset()


def test_the_empty_text_is_no_sentence(catalogue: Path) -> None:
    with speaking("de"):
        assert (_(""), missing()) == ("", frozenset())


def test_numbers_have_the_language_s_decimal_sign_and_files_the_point() -> None:
    assert printed(21.345, 0.2, "m") == "21.3 m ± 0.2 m (95 %)"
    with speaking("de"):
        assert printed(21.345, 0.2, "m") == "21,3 m ± 0,2 m (95 %)"
        assert (local_digits("3.5"), trimmed(3.5)) == ("3,5", "3.5")


def test_days_are_written_as_the_language_writes_them() -> None:
    assert (day_in_words(date(2026, 6, 28)), day_in_words(date(2026, 9, 1), short=True)) == ("28 June", "1 Sep")
    with speaking("de"):
        assert (day_in_words(date(2026, 6, 28)), day_in_words(date(2026, 9, 1), short=True)) == ("28. Juni", "1. Sept.")


def test_texts_of_several_languages_are_chosen_and_nothing_else_is_touched() -> None:
    data = {"rules": [{"title": {"en": "Stay", "de": "Bleib"}, "why": {"en": "So"}, "assumes": ["en"], "n": 3}]}
    assert in_language(data, "de") == {"rules": [{"title": "Bleib", "why": "So", "assumes": ["en"], "n": 3}]}
    assert in_language(data, "fr")["rules"][0]["title"] == "Stay"


@given(
    st.recursive(st.text() | st.integers(), lambda kids: st.lists(kids) | st.dictionaries(st.text(min_size=3), kids))
)
def test_data_without_languages_stay_what_they_are(data: object) -> None:
    assert in_language(data, "de") == data


def test_a_catalogue_brought_up_to_date_keeps_what_is_translated_and_drops_what_is_no_longer_said(
    catalogue: Path,
) -> None:
    made = updated(read_catalogue(catalogue, "de"), ["a lamp", "{count} boxes on the shelf"], "de")
    assert {message.id: message.string for message in made if message.id} == {
        "a lamp": "", "{count} boxes on the shelf": "{count} Kisten auf dem Regal",
    }  # fmt: skip
    assert written(made) == written(updated(made, ["a lamp", "{count} boxes on the shelf"], "de"))
