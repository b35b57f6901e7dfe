"""`afield pack new`: from flags and from questions; and from it to a tested pack of five rules, writing only YAML."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest

from .conftest import Run

FLAGS = (
    "--title", "Hill Award", "--publisher", "the hill club", "--document", "Hill Award rules", "--edition", "second",
    "--section", "3", "--since", "2025-05-01", "--checked", "2026-05-02",
)  # fmt: skip
AWARD = ("--kind", "award", "--date-basis", "local", *FLAGS)
LIST = ("--kind", "checklist", *FLAGS)


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_flags_make_a_pack_whose_cases_pass_and_of_which_nothing_is_to_be_found(base: Path, run: Run) -> None:
    assert run("pack", "new", "hill-award", *AWARD, "--point", "140", "m", "--operators=2") == (
        0,
        "hill-award is written; `afield pack test ./hill-award` runs its 17 cases.\n"
        "A plan beside it claims `{program: hill-award, reference: example-summit}`.\n",
        "",
    )
    assert sorted(path.relative_to(base).as_posix() for path in (base / "hill-award").rglob("*.*")) == [
        "hill-award/cases.yaml", "hill-award/pack.yaml", "hill-award/places.geojson", "hill-award/references.yaml",
        "hill-award/rules.yaml", "hill-award/schemas/cases.json", "hill-award/schemas/pack.json",
        "hill-award/schemas/references.json", "hill-award/schemas/rules.json",
    ]  # fmt: skip
    assert run("pack", "test", "./hill-award") == (0, "hill-award 0.1.0: 17 cases right, 0 wrong\n", "")
    status, out, _ = run("pack", "lint", "./hill-award", "--now", "2026-06-27")
    assert (status, out.count(": error "), out.count(": warning ")) == (0, 0, 0)
    status, out, _ = run("pack", "mutate", "./hill-award")
    assert (status, out.rstrip().endswith(", 0 survive")) == (0, True)


def test_the_new_pack_judges_a_plan_at_once(base: Path, run: Run) -> None:
    run("pack", "new", "hill-award", *AWARD, "--line", "80 ft")
    run("pack", "new", "our-list", *LIST, "--mass", "12 kg", "--item", "home: Look up the weather")
    plan = (base / "trip.yaml").read_text(encoding="utf-8")
    plan = plan.replace("program: my-road, reference: cinder-crossing", "program: hill-award, reference: example-trail")
    plan = plan.replace("packs: [my-list]", "packs: [our-list]").replace("confirmed: [my-list/papers]\n", "")
    (base / "trip.yaml").write_text(plan, encoding="utf-8")
    status, out, err = run("check", "trip.yaml")
    assert (status in (1, 3), err) == (True, "")
    assert "hill-award/whole-station-near-the-line, required" in out
    assert "checklist: 0 of 1 confirmed" in out


def test_a_minimum_in_one_utc_day_is_judged_once_a_claim(base: Path, run: Run) -> None:
    run("pack", "new", "hill-award", *AWARD, "--line", "80 ft", "--contacts", "3")
    plan = (base / "trip.yaml").read_text(encoding="utf-8")
    plan = plan.replace("program: my-road, reference: cinder-crossing", "program: hill-award, reference: example-trail")
    plan = plan.replace("schedule: {", "schedule: {zone: America/Los_Angeles, mode: SSB, ")
    (base / "trip.yaml").write_text(plan, encoding="utf-8")
    out = run("check", "trip.yaml")[1]
    assert out.count("Enough contacts are likely within one UTC day") == 1
    assert "hill-award/enough-contacts-likely, advised" in out
    assert "Judged by the value alone" in out or "at least 80 %: " in out


ANSWERS = [
    "prize", "award", "", "Hill Award", "the hill club", "Hill Award rules", "second", "3", "yesterday", "2025-05-01",
    "2026-05-02", "local", "none", "none", "140", "140 m", "none", "2", "Look up", "home: Look up the weather", "none",
]  # fmt: skip
COMPLAINTS = """\
--kind: "prize" is not offered
    = Write award or checklist.
--since: yesterday is no date
    = Write year, month and day, for example 2026-06-27.
--point: 140 is a bare number: write its unit, for example "140 m"
    = A length is written in m, km, cm, mm, ft, in, yd, mi, nmi or fathom. Write none to leave the rule out.
--item: "Look up" does not say when
    = Write the stage, a colon and what to do, for example home: Charge the battery. \
Stages are "home", "pack", "travel", "arrive", "set up", "operate", "leave".
"""


def test_on_a_terminal_each_question_is_asked_until_it_can_be_read(
    base: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", Terminal("\n".join(ANSWERS) + "\n"))
    status, out, err = run("pack", "new", "hill-award")
    assert (status, err) == (0, COMPLAINTS)
    assert out.endswith(
        "runs its 19 cases.\nA plan beside it claims `{program: hill-award, reference: example-summit}`.\n"
    )
    asked = {path.name: path.read_bytes() for path in (base / "hill-award").glob("*.*")}
    shutil.rmtree(base / "hill-award")
    item = ("--item", "home: Look up the weather")
    assert run("pack", "new", "hill-award", *AWARD, "--point", "140 m", "--operators", "2", *item)[0] == 0
    assert {path.name: path.read_bytes() for path in (base / "hill-award").glob("*.*")} == asked


def test_answers_that_end_early_write_nothing(base: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", Terminal("award\nHill Award\n"))
    status, _, err = run("pack", "new", "hill-award")
    assert (status, err, (base / "hill-award").exists()) == (2, "stopped; nothing was written\n", False)


def test_nothing_is_overwritten_without_force(base: Path, run: Run) -> None:
    assert run("pack", "new", "hill-award", *AWARD, "--point", "140 m")[0] == 0
    pack = base / "hill-award" / "pack.yaml"
    pack.write_text("mine", encoding="utf-8")
    assert run("pack", "new", "hill-award", *AWARD, "--point", "150 m") == (
        2, "", "hill-award/pack.yaml stands already; nothing was written\n    = Name another place, or add --force.\n",
    )  # fmt: skip
    pack.unlink()
    (base / "hill-award" / "references.yaml").unlink()
    status, _, err = run("pack", "new", "hill-award", *AWARD, "--point", "150 m")
    assert (status, err.splitlines()[0]) == (2, "hill-award/rules.yaml stands already; nothing was written")
    assert not pack.exists()
    assert run("pack", "new", "hill-award", *AWARD, "--point", "150 m", "--force")[0] == 0
    assert '"150"' in (base / "hill-award" / "rules.yaml").read_text(encoding="utf-8")


def test_it_may_be_written_elsewhere(base: Path, run: Run) -> None:
    (base / "packs").mkdir()
    status, out, _ = run("pack", "new", "packs/hill-award", *AWARD, "--area", "5 m")
    assert (status, out.splitlines()[0].startswith("packs/hill-award is written; `afield pack test packs/hill")) == (
        0,
        True,
    )
    assert run("pack", "test", "packs/hill-award")[0] == 0


def test_texts_with_marks_of_yaml_are_taken_as_they_are(base: Path, run: Run) -> None:
    flags = [flag if flag != "Hill Award" else 'Hill: {Award} "#1", [no]' for flag in AWARD]
    assert run("pack", "new", "hills", *flags, "--point", "140 m", "--item", "home: - look: up, #1")[0] == 0
    assert run("pack", "test", "./hills")[0] == 0


FIFTH = """\
  - id: low-power
    title: The power stays low
    why: The award is for low power.
    severity: required
    for_each: claim
    require: {fact: schedule.power, at_most: {limit: power}}
    assumes: [The plan states the power that is used.]
    source: {document: Hill Award rules, section: "5", edition: second, grade: published, last_checked: 2026-05-02}
    if_failed: Turn the power down by {{ short_by }}.

limits:
  power:
    - from: 2025-05-01
      value: "10"
      unit: W
      source: {document: Hill Award rules, section: "5", edition: second, grade: published, last_checked: 2026-05-02}
"""


CASE = ("  - name:", "    rule:", "    date:", "    subjects:", "      - {", "    expect:")
"""How the lines of a case begin."""


def test_a_secretary_comes_from_four_rules_to_five_with_yaml_alone(base: Path, run: Run) -> None:
    items = ("--item", "home: Look up the weather", "--item", "leave: Take all litter home")
    run("pack", "new", "hill-award", *AWARD, "--point", "140 m", "--operators", "2", *items)
    rules, cases = base / "hill-award" / "rules.yaml", base / "hill-award" / "cases.yaml"
    text = rules.read_text(encoding="utf-8")
    rules.write_text(text.replace("\nlimits:\n", "\n" + FIFTH, 1), encoding="utf-8")
    status, out, _ = run("pack", "mutate", "./hill-award")
    assert status == 1
    # What it prints is ready to paste.
    pasted = [line for line in out.splitlines() if line.startswith(CASE)]
    cases.write_text(cases.read_text(encoding="utf-8") + "\n" + "\n".join(pasted) + "\n", encoding="utf-8")
    status, out, err = run("pack", "test", "./hill-award")
    assert (status, err, out.endswith(" 0 wrong\n")) == (0, "", True)
    assert run("pack", "mutate", "./hill-award")[1].rstrip().endswith(", 0 survive")
    assert run("pack", "rulebook", "./hill-award")[0] == 0
    shutil.make_archive(str(base / "hill-award"), "zip", base, "hill-award")
    shutil.rmtree(base / "hill-award")
    assert run("pack", "test", "hill-award.zip") == (0, out, "")
