"""`--language`: anywhere in the line, or by the environment; what the program does not speak is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from afield.core.cli.languages import asked_language

from .conftest import Run


@pytest.mark.parametrize(
    "line",
    [["--language", "de", "check", "trip.yaml"], ["check", "trip.yaml", "--language=de"],
     ["check", "--language", "de", "trip.yaml"]],
)  # fmt: skip
def test_the_option_may_stand_anywhere(line: list[str]) -> None:
    assert asked_language(line) == ("de", ["check", "trip.yaml"])


def test_the_option_goes_before_the_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("AFIELD_LANGUAGE", "de")
    assert asked_language(["check"]) == ("de", ["check"])
    assert asked_language(["check", "--language", "en"]) == ("en", ["check"])
    monkeypatch.setenv("AFIELD_LANGUAGE", "")
    assert asked_language(["check"]) == ("en", ["check"])


@pytest.mark.parametrize(
    ("line", "told"),
    [
        (["--language", "xx", "check", "trip.yaml"], '--language: there is no language "xx"'),
        (["check", "trip.yaml", "--language"], "--language: no language is named"),
        (["check", "trip.yaml", "--language="], "--language: no language is named"),
    ],
)
def test_a_language_that_is_not_spoken_is_refused(base: Path, run: Run, line: list[str], told: str) -> None:
    assert run(*line) == (2, "", f'{told}\n    = Languages: "de", "en".\n')


def test_one_of_the_environment_is_refused_by_its_name(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("AFIELD_LANGUAGE", "de_DE")
    assert run("check", "trip.yaml") == (
        2, "", 'AFIELD_LANGUAGE: there is no language "de_DE"\n    = Languages: "de", "en".\n',
    )  # fmt: skip
