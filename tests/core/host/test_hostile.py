"""Plugins that mean ill, or are written ill: each is named with what it did, and the run never ends green."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from afield.core.briefing import briefing_html, briefing_text
from afield.core.cli.running import status_of
from afield.core.facts.declarations import Fact, fact
from afield.core.facts.measured import Estimate
from afield.core.facts.subjects import Subject
from afield.core.facts.time_limit import VARIABLE
from afield.core.host.hookspecs import Fragment, Section, hookimpl
from afield.core.host.loading import GROUP, SetupError, refuse_unknown_hooks
from afield.core.host.registry import registry_of

FITS = {"id": "fits", "require": {"fact": "wall.odd", "at_least": "0 m"}}
WALL = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}}
OURS = "plugin house (toys 1.0)"
FAILED = f"{OURS} failed at wall.odd of trip: "


def odd(function: Callable[..., Any], **declared: Any) -> Fact:
    """A fact of the trip with a function of the wall's height."""

    def wall_odd(wall_height: float) -> Any:
        return function(wall_height)

    return fact("wall.odd", kind="trip", **{"unit": "m", "title": "what is odd", **declared})(wall_odd)


def judged(toys: Any, declared: Fact) -> tuple[str, str, int]:
    """Outcome and reason of a rule that asks for the fact, and the exit status of the run."""
    toys.house(facts=lambda: [*toys.FACTS, declared])
    exists = declared.type not in ("number",)
    toys.pack({**FITS, "require": {"fact": "wall.odd", "exists": True}} if exists else FITS)
    found = toys.report(**WALL)
    (verdict,) = found["verdicts"]
    return verdict["outcome"], verdict["reason"]["text"], found["exit_status"]


def boom(_height: float) -> float:
    raise RuntimeError("the shelf fell")


def for_ever(_height: float) -> float:
    while True:
        time.sleep(0.01)


def for_ever_and_deaf(_height: float) -> float:
    while True:
        try:
            time.sleep(0.01)
        except Exception:
            continue


def holding_itself(height: float) -> Estimate:
    detail: dict[str, Any] = {}
    detail["end"] = detail
    return Estimate(height, detail=detail)


JUNK: dict[str, tuple[Callable[[float], Any], str]] = {
    "raises": (boom, "RuntimeError: the shelf fell"),
    "ends the program": (lambda height: sys.exit(0), "RuntimeError: it tried to end the program with 0"),
    "text": (lambda height: "3 ft", "TypeError: it returned '3 ft', not a number"),
    "None": (lambda height: None, "TypeError: it returned None, not a number"),
    "truth": (lambda height: True, "TypeError: it returned True, not a number"),
    "NaN": (lambda height: float("nan"), "ValueError: it returned a number that is not finite"),
    "infinity": (lambda height: float("inf"), "ValueError: it returned a number that is not finite"),
    "NaN as an end": (
        lambda height: Estimate(height, low=float("nan"), high=height),
        "ValueError: it returned a number that is not finite",
    ),
    "NaN as a part": (
        lambda height: Estimate(height, parts={"tape": float("nan")}),
        "ValueError: it returned a number that is not finite",
    ),
    "low above high": (
        lambda height: Estimate(2.0, low=3.0, high=1.0),
        "ValueError: it returned 2.0 outside of its interval 3.0 to 1.0",
    ),
    "detail that is no mapping": (
        lambda height: Estimate(height, detail=["top"]),
        "ValueError: dictionary update sequence element #0 has length 3; 2 is required",
    ),
    "detail that holds itself": (
        holding_itself,
        "ValueError: the detail that it returned holds itself, or is nested deeper than 200 levels",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", JUNK)
def test_what_a_fact_gives_that_is_no_answer_is_a_failure_of_its_plugin(toys: Any, name: str) -> None:
    function, error = JUNK[name]
    assert judged(toys, odd(function)) == ("cannot tell", FAILED + error, 4)


@pytest.mark.parametrize("function", [for_ever, for_ever_and_deaf])
def test_a_fact_that_hangs_is_ended_and_named(toys: Any, monkeypatch: pytest.MonkeyPatch, function: Any) -> None:
    monkeypatch.setenv(VARIABLE, "0.2")
    error = f"TimeoutError: it took longer than 0.2 s ({VARIABLE} sets the limit)"
    assert judged(toys, odd(function)) == ("cannot tell", FAILED + error, 4)


def test_a_hook_that_hangs_is_ended_and_named(toys: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, "0.2")
    toys.house().add("yard", kinds=lambda: for_ever(0.0))
    toys.pack({"id": "dated", "require": {"fact": "trip.date", "exists": True}})
    assert toys.report()["exit_status"] == 4
    error = f"TimeoutError: it took longer than 0.2 s ({VARIABLE} sets the limit)"
    assert toys.engine.failures() == [f"plugin yard (toys 1.0) failed in afield_kinds: {error}"]


def test_a_time_limit_that_is_none_is_an_error_of_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv(VARIABLE, "soon")
    assert status_of(["facts"]) == 2
    assert capsys.readouterr().err == (
        "AFIELD_TIME_LIMIT is 'soon', not a number of seconds\n    = Give a number such as 60, or 0 for no limit.\n"
    )


def test_a_value_that_holds_itself(toys: Any) -> None:
    endless: list[Any] = []
    endless.append(endless)
    told = "ValueError: the value that it returned holds itself, or is nested deeper than 200 levels"
    assert judged(toys, odd(lambda height: endless, type="list", unit=None)) == ("cannot tell", FAILED + told, 4)


def test_a_detail_that_cannot_be_a_key_is_shown_or_left_out_and_breaks_nothing(toys: Any) -> None:
    toys.house(facts=lambda: [*toys.FACTS, odd(lambda height: Estimate(height, detail={"end": {1, 2}, "top": [1]}))])
    toys.pack(FITS)
    found = toys.report(**WALL)
    (record,) = [record for record in found["facts"] if record["fact"] == "wall.odd"]
    assert (found["exit_status"], record["detail"]) == (0, {"end": None, "top": [1]})


def test_a_fact_that_changes_what_it_is_given(toys: Any) -> None:
    @fact("wall.marks", kind="trip", type="list", title="marks on the wall")
    def marks() -> list[str]:
        return ["a", "b"]

    @fact("wall.odd", kind="trip", unit="", title="number of marks", exact=True)
    def greedy(wall_marks: list[str]) -> int:
        wall_marks.append("c")
        return len(wall_marks)

    toys.house(facts=lambda: [*toys.FACTS, marks, greedy])
    toys.pack({**FITS, "require": {"fact": "wall.odd", "at_least": 1}})
    found = toys.report(**WALL)
    error = "TypeError: it changed its input wall_marks; what it is given belongs to others too"
    assert (found["verdicts"][0]["reason"]["text"], found["exit_status"]) == (FAILED + error, 4)


def test_a_fact_that_changes_what_the_plan_says_of_its_subject(toys: Any) -> None:
    @fact("wall.odd", kind="trip", unit="", title="what is odd", exact=True)
    def greedy(subject: Subject) -> int:
        subject.data["wall"]["height"] = "9 m"  # type: ignore[index]
        return 1

    toys.house(facts=lambda: [*toys.FACTS, greedy])
    toys.pack({**FITS, "require": {"fact": "wall.odd", "at_least": 1}})
    error = "TypeError: it changed its input subject; what it is given belongs to others too"
    assert (toys.only(**WALL)["reason"]["text"], toys.report(**WALL)["exit_status"]) == (FAILED + error, 4)


def test_a_hook_that_changes_the_plan(toys: Any) -> None:
    def greedy(plan: Any) -> list[Subject]:
        plan.data["wall"]["height"] = "9 m"
        return []

    toys.house().add("yard", subjects=greedy)
    toys.pack({"id": "dated", "require": {"fact": "trip.date", "exists": True}})
    assert toys.report(**WALL)["exit_status"] == 4
    told = "ValueError: it changed the plan that it was given to read"
    assert toys.engine.failures() == [f"plugin yard (toys 1.0) failed in afield_subjects: {told}"]


def test_a_subject_with_the_key_of_another(toys: Any) -> None:
    double = [Subject("shelf:a", "shelf", "a", {"trip": "trip"})]
    toys.house().add("yard", subjects=lambda plan: double)
    toys.pack({"id": "dated", "require": {"fact": "trip.date", "exists": True}})
    assert toys.report(shelves=[{"name": "a"}])["exit_status"] == 4
    told = "ValueError: it derives the subject shelf:a, which is there already"
    assert toys.engine.failures() == [f"plugin yard (toys 1.0) failed in afield_subjects: {told}"]


def refusal(toys: Any) -> str:
    with pytest.raises(SetupError) as caught:
        registry_of(toys.host)
    return str(caught.value)


def test_a_unit_that_nobody_knows(toys: Any) -> None:
    toys.add("house", facts=lambda: [Fact("wall.odd", "trip", unit="metrs")])
    assert refusal(toys) == (
        f'{OURS}: the fact wall.odd has the unit metrs, which is not known\n    = Did you mean "metres"?'
    )


def test_two_plugins_that_offer_one_fact_are_both_named(toys: Any) -> None:
    toys.house().add("yard", facts=lambda: [odd(boom)]).add("attic", facts=lambda: [odd(boom)])
    assert refusal(toys) == (
        "the fact wall.odd is declared by plugin yard (toys 1.0) and by plugin attic (toys 1.0)\n"
        "    = Uninstall one of the two plugins, or rename the fact in one of them."
    )


def test_a_fact_that_is_stated_and_found(toys: Any) -> None:
    stated = Fragment("plan", "/", {"odd": {"type": "string", "title": "odd", "x-fact": "wall.odd"}})
    toys.add("house", fragments=lambda: [stated], facts=lambda: [odd(boom)])
    assert refusal(toys) == f"{OURS} declares the fact wall.odd twice\n    = Remove one of the two."


def nothing() -> list[Any]:
    return []


def test_a_misspelt_hook_is_no_silence(toys: Any) -> None:
    toys.host.add(SimpleNamespace(afield_secions=hookimpl(nothing)), SimpleNamespace(name="yard"))
    with pytest.raises(SetupError, match="implements afield_secions, which is no hook\n    = Did you mean"):
        refuse_unknown_hooks(toys.host)


def test_a_hook_that_ends_the_program(toys: Any) -> None:
    toys.house().add("yard", kinds=lambda: sys.exit(0))
    toys.pack({"id": "dated", "require": {"fact": "trip.date", "exists": True}})
    assert toys.report()["exit_status"] == 4
    told = "RuntimeError: it tried to end the program with 0"
    assert toys.engine.failures() == [f"plugin yard (toys 1.0) failed in afield_kinds: {told}"]


def test_nothing_ends_a_command_of_afield_green_before_its_work_is_done(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("afield.core.cli.listings.Engine", lambda: sys.exit(0))
    assert status_of(["facts"]) == 4
    assert capsys.readouterr().err == (
        "afield: internal error: something ended the program with 0 before its work was done\n"
        "    = A plugin may do so. Run the command again with --debug and see which.\n"
    )


INSTALLED = {
    "a misspelt hook": (
        "from afield.core.api import hookimpl\n@hookimpl\ndef afield_fcts():\n    return []\n", 2,
        "afield: the installed plugins do not fit together: plugin rogue (afield-rogue 1.0) implements afield_fcts, "
        "which is no hook\n    = Did you mean afield_facts?\n",
    ),
    "a fact of another plugin": (
        "from afield.core.api import Fact, hookimpl\n@hookimpl\n"
        "def afield_facts():\n    return [Fact('trip.title', 'trip', 'text')]\n", 2,
        "afield: the installed plugins do not fit together: the fact trip.title is declared by plugin core (afield ) "
        "and by plugin rogue (afield-rogue 1.0)\n"
        "    = Uninstall one of the two plugins, or rename the fact in one of them.\n",
    ),
    "no import": ("raise OSError('no wall')\n", 4, ""),
    "an exit": ("raise SystemExit(0)\n", 4, ""),
}  # fmt: skip


SECTION = {
    "name": "odd", "title": "Odd", "order": 1, "wants": (), "schema": {}, "template": "odd.html", "package": "toys",
}  # fmt: skip


def briefed(toys: Any, **section: Any) -> Any:
    """The report, for a briefing, of a trip that is judged well, with one section."""
    toys.house(sections=lambda: [Section(**{**SECTION, "data": lambda facts: {"a": 1}, **section})])
    toys.pack({"id": "dated", "require": {"fact": "trip.date", "exists": True}})
    return toys.report(briefing=True)


@pytest.mark.parametrize(
    ("data", "error"),
    [
        (lambda facts: sys.exit(0), "RuntimeError: it tried to end the program with 0"),
        (lambda facts: for_ever(0.0), f"TimeoutError: it took longer than 0.2 s ({VARIABLE} sets the limit)"),
        (lambda facts: boom(0.0), "RuntimeError: the shelf fell"),
    ],
)
def test_a_section_that_is_hostile_is_named_and_the_run_is_not_green(
    toys: Any, monkeypatch: pytest.MonkeyPatch, data: Any, error: str
) -> None:
    monkeypatch.setenv(VARIABLE, "0.2")
    found = briefed(toys, data=data)
    assert (found["exit_status"], found["sections"]) == (4, [])
    assert f"the section odd failed: {error}" in str(found)


def test_a_drawing_that_ends_the_program_is_said_in_its_place(toys: Any) -> None:
    found = briefed(toys, figures={"odd": lambda data: sys.exit(0)}, text=lambda data: sys.exit(0))
    told = "toys could not draw the section odd: RuntimeError: it tried to end the program with 0."
    assert told in briefing_html(found, toys.engine.sections)
    assert told in " ".join(briefing_text(found, toys.engine.sections).split())


def test_an_encoder_that_ends_the_program_is_named(toys: Any) -> None:
    facts = [replace(one, encode=sys.exit) if one.name == "wall.fits" else one for one in toys.FACTS]
    toys.house(facts=lambda: facts).pack({**FITS, "require": {"fact": "wall.fits", "is": True}})
    found = toys.report(**WALL)
    told = f"{OURS} failed at the encoding of wall.fits of trip: RuntimeError: it tried to end the program with True"
    assert ([warning["what"] for warning in found["warnings"]], found["exit_status"]) == ([told], 4)


FAILED_IMPORTS = {
    "no import": "failed: plugin rogue (afield-rogue 1.0) failed in import: OSError: no wall",
    "an exit": (
        "failed: plugin rogue (afield-rogue 1.0) failed in import: RuntimeError: it tried to end the program with 0"
    ),
}


@pytest.mark.parametrize("name", INSTALLED)
def test_an_installed_plugin_that_is_hostile_ends_the_command(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text, status, told = INSTALLED[name]
    install(tmp_path, text)
    monkeypatch.syspath_prepend(str(tmp_path))
    assert status_of(["plugin", "list"]) == status
    said = capsys.readouterr()
    assert (said.err, said.out.splitlines()[-1:]) == (told, [FAILED_IMPORTS[name]] if name in FAILED_IMPORTS else [])


def test_the_check_of_a_plugin_that_does_not_import_names_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    install(tmp_path, "raise OSError('no wall')\n")
    monkeypatch.syspath_prepend(str(tmp_path))
    assert status_of(["plugin", "check", "rogue"]) == 4
    assert capsys.readouterr() == (f"{FAILED_IMPORTS['no import']}\n", "")


def install(folder: Path, text: str) -> None:
    """A distribution in the folder, as pip would leave it."""
    (folder / "rogue_of_the_toys.py").write_text(text)
    about = folder / "afield_rogue-1.0.dist-info"
    about.mkdir()
    (about / "METADATA").write_text("Metadata-Version: 2.1\nName: afield-rogue\nVersion: 1.0\n")
    (about / "entry_points.txt").write_text(f"[{GROUP}]\nrogue = rogue_of_the_toys\n")


@pytest.fixture(autouse=True)
def forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each hostile module is imported anew."""
    monkeypatch.delitem(sys.modules, "rogue_of_the_toys", raising=False)
