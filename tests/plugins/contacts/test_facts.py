"""A program that asks for contacts on each UTC day, and a plan that crosses 00:00 UTC."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from afield.core.documents import InputError
from afield.core.engine import Engine, judge, load, report
from afield.core.host.loading import PluginInfo, new_host
from afield.plugins.contacts import plugin as contacts
from afield.plugins.contacts.computations.counts import prob_at_least_negative_binomial, prob_at_least_poisson
from afield.plugins.contacts.computations.times import minutes_needed
from afield.plugins.geometry import plugin as geometry
from afield.plugins.outing import plugin as outing
from afield.plugins.timing import plugin as timing

BASE = Path(__file__).parents[2] / "commands" / "base"
PLUGINS = {"outing": outing, "geometry": geometry, "timing": timing, "contacts": contacts}
MINIMUM = 10
RULE = """\
  - id: enough-contacts
    title: The contacts are likely
    why: The day counts with ten contacts only.
    severity: advised
    for_each: claim_day
    where: {fact: utc_day.touched, is: true}
    require: {fact: claim_day.chance_of_minimum, at_least: "90 %"}
    source: {document: Rules, section: "9", grade: invented, last_checked: 2026-05-02}
limits:
"""
EARLIER = "contacts: {earlier: [{contacts: 24, time: 2 h}, {contacts: 19, time: 90 min}]}\n"
Made = Callable[..., dict[str, Any]]


@pytest.fixture
def made(tmp_path: Path) -> Made:
    """The report of the base plan with these lines, a minimum, and a rule on each UTC day."""
    folder = tmp_path / "trip"
    shutil.copytree(BASE, folder)
    pack, rules = folder / "my-road" / "pack.yaml", folder / "my-road" / "rules.yaml"
    pack.write_text(pack.read_text().replace("facts:\n", f"facts:\n  program.minimum_contacts: {MINIMUM}\n"))
    rules.write_text(rules.read_text().replace("limits:\n", RULE))

    def report_of(lines: str) -> dict[str, Any]:
        plan = folder / "trip.yaml"
        zoned = (BASE / "trip.yaml").read_text().replace('leave: "21:15"', 'leave: "21:15", zone: America/Los_Angeles')
        plan.write_text(zoned + lines)
        host = new_host()
        for name, module in PLUGINS.items():
            host.add(module, PluginInfo(name, "afield", "0.1.0"))
        used = Engine(host)
        found = report(judge(load(plan, used), used), used)
        assert used.failures() == []
        return found

    return report_of


def records(found: dict[str, Any], name: str) -> dict[str, Any]:
    return {one["subject"]: one for one in found["facts"] if one["fact"] == name}


def verdicts(found: dict[str, Any]) -> dict[str, str]:
    rule = "my-road/enough-contacts"
    return {one["subject"].split("/")[-1]: one["outcome"] for one in found["verdicts"] if one["rule"] == rule}


def test_each_utc_day_that_is_touched_is_judged_by_its_own_time(made: Made) -> None:
    found = made(EARLIER)
    assert verdicts(found) == {
        "2026-06-26": "not applicable",
        "2026-06-27": "cannot tell",
        "2026-06-28": "passed",
        "2026-06-29": "not applicable",
    }
    days = records(found, "claim_day.chance_of_minimum")
    first, second = (days[f"claim_day:my-road/cinder-crossing/2026-06-{day}"] for day in (27, 28))
    # 22:30 to 24:00 and 00:00 to 03:30; 43 contacts in 3.5 h, a half more by the prior.
    for day, hours in ((first, 1.5), (second, 3.5)):
        expected = prob_at_least_negative_binomial(43.5 / 3.5 * hours, 43.5, MINIMUM)
        assert day["value"] == pytest.approx(100 * expected)
        assert day["low"] <= day["value"] <= day["high"] <= 100


def test_the_interval_is_that_of_the_rate(made: Made) -> None:
    found = made(EARLIER)
    rate = next(iter(records(found, "contacts.rate").values()))["value"]
    day = records(found, "claim_day.chance_of_minimum")["claim_day:my-road/cinder-crossing/2026-06-27"]
    ends = [100 * prob_at_least_poisson(1.5 * rate[key], MINIMUM) for key in ("low_per_h", "high_per_h")]
    assert (day["low"], day["high"]) == pytest.approx(ends)
    assert day["detail"]["basis"] == "own counts: 43 contacts in 3 h 30 min of 2 outings; Jeffreys prior"


def test_without_own_counts_the_mode_s_usual_rate_leaves_it_open(made: Made) -> None:
    found = made("")
    reason = records(found, "claim_day.chance_of_minimum")["claim_day:my-road/cinder-crossing/2026-06-27"]["reason"]
    assert reason["text"] == "neither earlier counts nor the mode is stated"
    assert reason["settle"] == "schedule.mode"
    assert set(verdicts(found).values()) == {"cannot tell", "not applicable"}


def test_a_wrong_count_is_refused(made: Made) -> None:
    with pytest.raises(InputError) as refused:
        made("contacts: {earlier: [{contacts: -3, time: 2 h}]}\n")
    assert refused.value.text() == (
        "trip.yaml:25:33: contacts of an earlier outing -3 is outside 0 to 100000\n"
        "    | contacts: {earlier: [{contacts: -3, time: 2 h}]}\n"
        "    = Write a number from 0 to 100000."
    )


@pytest.mark.parametrize(
    ("mode", "message", "code"),
    [
        (
            "RTTY",
            "how many contacts to expect in RTTY is not known, without own counts (contacts.earlier); known: "
            '"CW", "SSB", "USB", "LSB", "FM", "FT8", "FT4", "JS8", "DIGITAL"',
            "cannot be computed",
        ),
        (None, "neither earlier counts nor the mode is stated", "not stated"),
    ],
)
def test_a_rate_is_not_made_up(mode: str | None, message: str, code: str) -> None:
    from afield.core.api import CannotTell
    from afield.plugins.contacts.rate_facts import contacts_rate

    assert contacts_rate.function is not None
    with pytest.raises(CannotTell) as refused:
        contacts_rate.function("2026-06-27", None, mode, [])
    reason = refused.value.reason
    assert (reason.text, reason.settle, reason.code) == (message, "schedule.mode", code)
    for known in ("usb", "digital"):
        found = contacts_rate.function("2026-06-27", None, known, [])
        assert (found.value["basis"], found.notes) == ("common practice, no source", ())


def test_the_time_that_a_minimum_needs() -> None:
    from afield.plugins.contacts.computations.rates import rate_from_counts
    from afield.plugins.contacts.day_facts import claim_day_minutes_for_minimum

    rate = rate_from_counts([24], [2])._asdict()
    assert claim_day_minutes_for_minimum.function is not None
    found = claim_day_minutes_for_minimum.function(rate, MINIMUM, None)
    assert found.value == minutes_needed(12.25, MINIMUM, 0.9, 24.5)
    assert found.low < found.value < found.high
    assert claim_day_minutes_for_minimum.function(rate, 0, None).value == 0
