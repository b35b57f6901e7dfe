"""Packs whose texts are written in several languages: what the reader gets, and what does not load."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from afield.core.briefing import briefing_text
from afield.core.documents import InputError
from afield.core.language import speaking
from afield.core.packs.texts import in_each_language

Json = dict[str, Any]
LIMITS = {"gap": [{"from": "2024-01-01", "value": "0.5", "unit": "m"}]}
GAP: Json = {
    "id": "gap",
    "title": {"en": "The ladder leaves a gap", "de": "Die Leiter lässt eine Lücke"},
    "why": {"en": "Fingers need room.", "de": "Finger brauchen Platz."},
    "assumes": [{"en": "The floor is dry.", "de": "Der Boden ist trocken."}, "Nobody leans on it."],
    "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}},
    "if_failed": {"en": "Shorten it by {{ short_by }}.", "de": "Um {{ short_by }} kürzen."},
}
TIED: Json = {
    "id": "tied", "title": "The ladder is tied", "when": "pack",
    "confirm": {"en": "Tie the ladder.", "de": "Die Leiter festbinden."},
    "evidence": {"en": "A photograph.", "de": "Ein Foto."},
}  # fmt: skip
LOW = {"wall": {"height": "2.8 m"}, "ladder": {"length": "2.5 m"}}


def told(house: Any, language: str, **plan: Any) -> Json:
    """The report in a language."""
    with speaking(language):
        report: Json = house.report(**{**LOW, **plan})
    return report


def printed(house: Any, language: str) -> str:
    """The briefing in a language, on one line."""
    report = told(house, language)
    with speaking(language):
        return " ".join(briefing_text(report, []).split())


@pytest.mark.parametrize(
    ("language", "title", "text"),
    [
        ("en", "The ladder leaves a gap", "Shorten it by 0.20 m (0.66 ft)."),
        ("de", "Die Leiter lässt eine Lücke", "Um 0,20 m (0,66 ft) kürzen."),
        ("fr", "The ladder leaves a gap", "Shorten it by 0,20 m (0,66 ft)."),
    ],
)
def test_a_verdict_speaks_the_reader_s_language_and_english_where_the_pack_does_not(
    house: Any, language: str, title: str, text: str
) -> None:
    house.pack(GAP, limits=LIMITS)
    (verdict,) = told(house, language)["verdicts"]
    assert (verdict["title"], verdict["text"]) == (title, text)
    outcome = {"de": "NICHT ERFÜLLT"}.get(language, "FAILED")
    assert f"[{outcome}] {title}" in printed(house, language)
    assert text in printed(house, language)


def test_every_text_of_a_pack_is_said_in_the_language(house: Any) -> None:
    none = [{"from": "2024-01-01", "none": {"en": "Nobody asked.", "de": "Niemand fragte."}}]
    house.pack(
        GAP, TIED, limits={"gap": none},
        title={"en": "House", "de": "Haus"}, notice={"en": "A sketch.", "de": "Eine Skizze."},
    )  # fmt: skip
    report = told(house, "de")
    (pack,) = report["run"]["packs"]
    gap, tied = report["rules"]
    assert (pack["title"], pack["notice"]) == ("Haus", "Eine Skizze.")
    assert (gap["title"], gap["why"]) == ("Die Leiter lässt eine Lücke", "Finger brauchen Platz.")
    assert gap["assumes"] == ["Der Boden ist trocken.", "Nobody leans on it."]
    assert gap["limits"][0]["versions"][0]["none"] == "Niemand fragte."
    assert (tied["title"], tied["confirm"], tied["evidence"]) == (
        "The ladder is tied", "Die Leiter festbinden.", "Ein Foto.",
    )  # fmt: skip
    assert "Die Leiter festbinden." in printed(house, "de")
    assert "Tie the ladder." in printed(house, "en")


def test_a_pack_that_extends_another_says_both_in_the_language(club: Any) -> None:
    club.house.pack(GAP, name="base", limits=LIMITS, notice={"en": "The base.", "de": "Der Unterbau."})
    reason = {"en": "Our ladders are short.", "de": "Unsere Leitern sind kurz."}
    club.pack(changes=[{"rule": "gap", "severity": "advised", "reason": reason}])
    for language, title, why, notice in (
        ("en", "The ladder leaves a gap", "Our ladders are short.", "The base."),
        ("de", "Die Leiter lässt eine Lücke", "Unsere Leitern sind kurz.", "Der Unterbau."),
    ):
        report = told(club.house, language)
        (rule,) = report["rules"]
        assert (rule["title"], rule["change"]["reason"], report["run"]["packs"][0]["notice"]) == (title, why, notice)


def test_what_is_judged_does_not_depend_on_the_language(house: Any) -> None:
    house.pack(GAP, TIED, limits=LIMITS)
    english, german = told(house, "en")["verdicts"], told(house, "de")["verdicts"]
    assert [(v["rule"], v["outcome"], v["margin"] and v["margin"]["value"]) for v in english] == [
        (v["rule"], v["outcome"], v["margin"] and v["margin"]["value"]) for v in german
    ]
    assert [v["outcome"] for v in english] == ["failed", "cannot tell"]


@pytest.mark.parametrize("language", ["en", "de"])
def test_a_text_that_needs_no_language_is_written_as_before(house: Any, language: str) -> None:
    house.pack({**GAP, "title": "The gap", "if_failed": "Shorten it."}, limits=LIMITS)
    (verdict,) = told(house, language)["verdicts"]
    assert (verdict["title"], verdict["text"]) == ("The gap", "Shorten it.")


def refused(house: Any, *rules: Json, language: str = "en", **pack: Any) -> str:
    """The messages of a pack that does not load."""
    house.pack(*rules, limits=LIMITS, **pack)
    with speaking(language), pytest.raises(InputError) as caught:
        house.load()
    return "\n".join(problem.text() for problem in caught.value.problems)


@pytest.mark.parametrize(
    ("title", "message"),
    [
        (
            {"de": "Die Lücke"},
            """pack:tidy/rules.yaml:4:13: rule's title has no key "en"
    |    "title": {
    = Add it, for example: en: The station keeps clear""",
        ),
        (
            {"en": "The gap", "deu": "Lücke"},
            """pack:tidy/rules.yaml:6:5: "deu" is not well formed for language of a text
    |     "deu": "L\\u00fccke"
    = It is two small letters (ISO 639-1). For example: de""",
        ),
        (
            {"en": "The gap", "DE": "Spalt"},
            """pack:tidy/rules.yaml:6:5: "DE" is not well formed for language of a text
    |     "DE": "Spalt"
    = It is two small letters (ISO 639-1). For example: de""",
        ),
        (
            {"en": "The gap", "de": 5},
            """pack:tidy/rules.yaml:6:11: text in one language is the number 5; text is due
    |     "de": 5
    = Write it in quotes: "5".""",
        ),
        (
            {"en": 5, "de": "Spalt"},
            """pack:tidy/rules.yaml:5:11: English text is the number 5; text is due
    |     "en": 5,
    = Write it in quotes: "5".""",
        ),
        (
            {"en": "The gap", "de": ""},
            """pack:tidy/rules.yaml:6:11: text in one language is empty
    |     "de": ""
    = Write at least one character.""",
        ),
        (
            {"en": "", "de": "Spalt"},
            """pack:tidy/rules.yaml:5:11: English text is empty
    |     "en": "",
    = It is one line of text. For example: The station keeps clear""",
        ),
        (
            {"en": "The gap", "de": "Der\nSpalt"},
            """pack:tidy/rules.yaml:6:11: "Der\\nSpalt" is not well formed for text in one language
    |     "de": "Der\\nSpalt"
    = It is one line of text.""",
        ),
        (
            {},
            """pack:tidy/rules.yaml:4:13: rule's title has no key "en"
    |    "title": {},
    = Add it, for example: en: The station keeps clear""",
        ),
        (
            "",
            """pack:tidy/rules.yaml:4:13: rule's title is empty
    |    "title": "",
    = It is one line of text. For example: The whole station stays inside the road's corridor""",
        ),
    ],
)
def test_a_title_in_languages_that_does_not_load(house: Any, title: Any, message: str) -> None:
    assert refused(house, {**GAP, "title": title}) == message


@pytest.mark.parametrize("line", ["\n", " ", "Two\n", "Two\nlines", "\u2028"])
def test_a_title_is_one_line_in_every_language(house: Any, line: str) -> None:
    for title in (line, {"en": line}, {"en": "One", "de": line}):
        assert "is not well formed for" in refused(house, {**GAP, "title": title})


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            {"de": "Kürzen."},
            """pack:tidy/rules.yaml:34:17: text when it fails has no key "en"
    |    "if_failed": {
    = Add it, for example: en: Keep clear of the road.""",
        ),
        (
            {"en": "Shorten it.", "de": ["Kappen"]},
            """pack:tidy/rules.yaml:36:11: text in one language is a list; text is due
    |     "de": [
    = Write text.""",
        ),
        (
            7,
            """pack:tidy/rules.yaml:34:17: text when it fails is the number 7; text or a mapping is due
    |    "if_failed": 7
    = For example: Move the {{ detail.part }} {{ short_by }} towards the road.""",
        ),
    ],
)
def test_a_text_in_languages_that_does_not_load(house: Any, text: Any, message: str) -> None:
    assert refused(house, {**GAP, "if_failed": text}) == message


def test_an_assumption_without_english_is_named_by_its_number(house: Any) -> None:
    assert refused(house, {**GAP, "assumes": ["It is dry.", {"de": "Trocken."}]}) == (
        """pack:tidy/rules.yaml:23:5: item 2 of "assumes" has no key "en"
    |     {
    = Add it, for example: en: Keep clear of the road."""
    )


@pytest.mark.parametrize("language", ["en", "de", "fr"])
@pytest.mark.parametrize(
    ("changed", "message"),
    [
        (
            {"if_failed": {"en": "Shorten it by {{ short_by }}.", "de": "Um {{ shortby }} stutzen."}},
            """pack:tidy/rules.yaml:36:11: the text names the field shortby, which is not there
    |     "de": "Um {{ shortby }} stutzen."
    = Did you mean "short_by"?""",
        ),
        (
            {"if_failed": {"en": "Shorten it by {{ shortby }}.", "de": "Um {{ short_by }} stutzen."}},
            """pack:tidy/rules.yaml:35:11: the text names the field shortby, which is not there
    |     "en": "Shorten it by {{ shortby }}.",
    = Did you mean "short_by"?""",
        ),
        (
            {"if_failed": {"en": "Shorten it.", "de": "Etwa {{ margin stutzen."}},
            """pack:tidy/rules.yaml:36:11: a field of the text does not begin or end
    |     "de": "Etwa {{ margin stutzen."
    = Write {{ before its name and }} behind it.""",
        ),
        (
            {"title": {"en": "The gap", "de": "Der Spalt {{ value }}"}},
            """pack:tidy/rules.yaml:6:11: a field stands where none is filled in
    |     "de": "Der Spalt {{ value }}"
    = Fields go into if_failed, if_cannot_tell, if_passed only.""",
        ),
    ],
)
def test_a_wrong_field_in_one_language_is_told_at_its_place_whatever_is_spoken(
    house: Any, changed: Json, message: str, language: str
) -> None:
    assert refused(house, {**GAP, **changed}, language=language) == message


PROGRAMS = Path(__file__).parents[3] / "programs"
PACKS = sorted(path.parent for path in PROGRAMS.glob("*/pack.yaml"))
SAID = ("title", "why", "confirm", "evidence", "if_failed", "if_cannot_tell", "if_passed")
FIELD = re.compile(r"{{\s*([\w.]+)\s*}}")


def texts(pack: Path) -> Iterator[tuple[str, Any]]:
    """Every text of a pack's rules, limits and notice, with where it stands."""
    yaml = YAML(typ="safe")
    rules = yaml.load(pack / "rules.yaml")
    for rule in rules["rules"]:
        yield from ((f"{rule['id']} {name}", rule[name]) for name in SAID if name in rule)
        yield from ((f"{rule['id']} assumes", text) for text in rule.get("assumes", ()))
    for name, versions in rules["limits"].items():
        yield from ((f"{name} none", version["none"]) for version in versions if "none" in version)
    yield "notice", yaml.load(pack / "pack.yaml")["notice"]


def test_there_are_packs_to_look_at() -> None:
    assert {"basin-preserves", "freight-road", "gear", "lantern-hills"} <= {pack.name for pack in PACKS}


@pytest.mark.parametrize("pack", PACKS, ids=lambda pack: str(pack.name))
def test_every_text_of_a_shipped_pack_has_german_with_the_same_fields(pack: Path) -> None:
    for where, text in texts(pack):
        assert isinstance(text, dict) and {"en", "de"} <= set(text), f"{where} has no German"
        english, german = text["en"], text["de"]
        assert sorted(FIELD.findall(english)) == sorted(FIELD.findall(german)), where
        assert not re.search("[{}]", FIELD.sub("", german)), where
        assert english != german or not re.search("[a-z]", FIELD.sub("", english)), f"{where} is English in German"


def test_texts_are_found_in_each_language_with_their_paths() -> None:
    entry = {"title": {"en": "Gap", "de": "Spalt"}, "why": "So.", "confirm": {"en": "Look."}}
    assert list(in_each_language(entry, ("title", "why", "if_failed", "confirm"))) == [
        (("title", "en"), "Gap"), (("title", "de"), "Spalt"), (("why",), "So."), (("confirm", "en"), "Look."),
    ]  # fmt: skip
