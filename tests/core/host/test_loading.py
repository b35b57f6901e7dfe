"""Plugins are found by entry point; each hook is called in its own try, and a misspelt one is refused."""

import sys
from collections.abc import Callable
from importlib.metadata import EntryPoint
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from afield.core.facts.declarations import Fact, Kind
from afield.core.host.computations import computations
from afield.core.host.hookspecs import RESULTS, Command, Hooks, Question, hookimpl
from afield.core.host.loading import PluginInfo, SetupError, installed_host, new_host, refuse_unknown_hooks
from afield.core.host.registry import registry_of

HOUSE = PluginInfo("house", "toys", "1.0")


def nothing() -> list[Any]:
    return []


def test_every_hook_says_what_its_result_holds() -> None:
    assert set(RESULTS) == {name for name in vars(Hooks) if name.startswith("afield_")}


@pytest.mark.parametrize("hook", sorted(RESULTS))
def test_every_hook_says_when_it_is_called_and_what_none_means(hook: str) -> None:
    text = getattr(Hooks, hook).__doc__
    assert [word for word in ("When:", "Order:", "None:", "Since:") if word not in text] == []


def test_a_hook_that_raises_is_named_and_the_others_are_heard(toys: Any) -> None:
    def boom() -> list[Fact]:
        raise RuntimeError("the shelf fell")

    toys.add("broken", facts=boom).add("house", facts=lambda: [Fact("wall.gap", "trip", unit="m")])
    assert [name for name in registry_of(toys.host).facts if name.startswith("wall.")] == ["wall.gap"]
    assert toys.engine.failures() == ["plugin broken (toys 1.0) failed in afield_facts: RuntimeError: the shelf fell"]


def test_a_generator_that_raises_late_is_caught_too(toys: Any) -> None:
    def late() -> Any:
        yield Kind("shelf")
        raise RuntimeError("half way")

    toys.add("house", kinds=late)
    assert "shelf" not in registry_of(toys.host).kinds
    assert toys.engine.failures() == ["plugin house (toys 1.0) failed in afield_kinds: RuntimeError: half way"]


def test_none_means_nothing(toys: Any) -> None:
    toys.add("house", kinds=lambda: None, facts=lambda: None, fragments=lambda: None)
    assert set(registry_of(toys.host).kinds) == {"trip", "program", "claim"}
    assert toys.engine.failures() == []


def undecorated(wall_height: float) -> float:
    return wall_height


@pytest.mark.parametrize(
    ("hook", "result", "error"),
    [
        ("facts", [undecorated], "afield_facts: TypeError: it returned a function where a Fact is due"),
        ("kinds", "shelf", "afield_kinds: TypeError: it returned a str where a Kind is due"),
        ("fragments", [{}], "afield_fragments: TypeError: it returned a dict where a Fragment is due"),
        ("kinds", 5, "afield_kinds: TypeError: 'int' object is not iterable"),
    ],
)
def test_a_result_of_another_type_is_the_plugins_failure(toys: Any, hook: str, result: Any, error: str) -> None:
    toys.add("house", **{hook: lambda: result})
    registry_of(toys.host)
    assert toys.engine.failures() == [f"plugin house (toys 1.0) failed in {error}"]


@pytest.mark.parametrize(
    ("name", "advice"),
    [
        ("afield_fact", "Did you mean afield_facts?"),
        ("afeld_facts", "Did you mean afield_facts?"),
        ("nonsense", f"The hooks are {', '.join(name for name in vars(Hooks) if name.startswith('afield_'))}."),
    ],
)
def test_a_misspelt_hook_is_refused(name: str, advice: str) -> None:
    host = new_host()
    host.add(SimpleNamespace(**{name: hookimpl(nothing)}), HOUSE)
    with pytest.raises(SetupError) as caught:
        refuse_unknown_hooks(host)
    assert str(caught.value) == f"plugin house (toys 1.0) implements {name}, which is no hook\n    = {advice}"


def test_a_function_without_the_mark_is_no_hook_and_no_mistake() -> None:
    host = new_host()
    host.add(SimpleNamespace(afield_helper=lambda: None, afield_facts=hookimpl(nothing)), HOUSE)
    refuse_unknown_hooks(host)
    assert [plugin for plugin, _ in host.results("afield_facts")] == [HOUSE]


@pytest.fixture
def module(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str, str], EntryPoint]:
    monkeypatch.syspath_prepend(str(tmp_path))

    def made(name: str, text: str) -> EntryPoint:
        (tmp_path / f"toy_{name}.py").write_text(text)
        sys.modules.pop(f"toy_{name}", None)
        return EntryPoint(name, f"toy_{name}", "afield.plugins")

    return made


def test_a_plugin_that_does_not_import_is_named(module: Any) -> None:
    host = installed_host([module("house", "raise OSError('no wall')")])
    assert [failure.text for failure in host.failures] == [
        "plugin house (unknown distribution ?) failed in import: OSError: no wall"
    ]
    assert list(host.broken()) == ["house"]


def test_plugins_are_loaded_in_the_order_of_their_names(module: Any) -> None:
    text = "from afield.core.api import hookimpl\n@hookimpl\ndef afield_kinds():\n    return []\n"
    host = installed_host([module("yard", text), module("house", text)])
    assert list(host.plugins) == ["house", "yard"]


def test_two_plugins_of_one_name(module: Any) -> None:
    point = module("house", "")
    with pytest.raises(SetupError) as caught:
        installed_host([point, point])
    assert str(caught.value) == (
        "two plugins are called house: plugin house (unknown distribution ?) and plugin house (unknown distribution ?)"
        "\n    = Uninstall one of them."
    )


def test_an_argument_that_the_hook_has_not_makes_the_plugin_fail_alone(module: Any) -> None:
    text = "from afield.core.api import hookimpl\n@hookimpl\ndef afield_kinds(wall):\n    return []\n"
    host = installed_host([module("house", text)])
    assert host.failures[0].hook == "import"
    assert host.failures[0].error.startswith("PluginValidationError: Plugin 'house' for hook 'afield_kinds'")


def test_computations_are_imported_when_first_taken(toys: Any) -> None:
    toys.add("house", computations=lambda: ["math:hypot", "no_such_module:gap"])
    found = computations(toys.host)
    assert (list(found), len(found)) == (["hypot", "gap"], 2)
    assert found["hypot"](3.0, 4.0) == 5.0
    with pytest.raises(ModuleNotFoundError):
        found["gap"]


def test_a_computation_of_two_plugins(toys: Any) -> None:
    for name in ("house", "yard"):
        toys.add(name, computations=lambda: ["math:hypot"])
    with pytest.raises(SetupError) as caught:
        computations(toys.host)
    assert str(caught.value) == (
        "the computation hypot is declared by plugin house (toys 1.0) and by plugin yard (toys 1.0)\n"
        "    = Rename one of the two."
    )


def test_questions_and_commands_come_with_the_plugin_that_brings_them(toys: Any) -> None:
    question = Question("wall", "How high is the wall?", "3 m", ("wall.height",), lambda answer: [f"wall: {answer}"])
    command = Command("lean", nothing, "Lean the ladder.")
    toys.add("house", questions=lambda: [question], commands=lambda: [command])
    assert list(toys.host.results("afield_questions")) == [(HOUSE, [question])]
    assert list(toys.host.results("afield_commands")) == [(HOUSE, [command])]
