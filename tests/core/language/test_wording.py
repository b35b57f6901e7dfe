"""Lists, and thousands, in English and in German."""

from __future__ import annotations

from afield.core.language import all_of, any_of, grouped, speaking


def test_lists_are_joined_by_the_language_s_words() -> None:
    assert (all_of(["a", "b", "c"]), any_of(["a", "b"]), all_of(["a"]), any_of([])) == (
        "a and b and c",
        "a or b",
        "a",
        "",
    )
    with speaking("de"):
        assert (all_of(["a", "b", "c"]), any_of(["a", "b"])) == ("a und b und c", "a oder b")


def test_thousands_stand_apart_as_the_language_has_it() -> None:
    assert [grouped(n) for n in (999, 1000, 12345.6)] == ["999", "1,000", "12,346"]
    with speaking("de"):
        assert [grouped(n) for n in (999, 1000, 12345.6)] == ["999", "1000", "12\N{NO-BREAK SPACE}346"]
