"""The code's own measures: short functions, short files, docstrings, nothing unfinished."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from statistics import median

import pytest

Function = ast.FunctionDef | ast.AsyncFunctionDef
LONGEST_FILE = 280
UNFINISHED = re.compile(
    r"\b(?:TO" + "DO|FIX" + "ME|XX" + r"X)\b|\bpytest\.(?:mark\.)?(?:sk" + "ip|xf" + "ail|importorskip)"
)


def functions(tree: ast.AST) -> Iterator[Function]:
    """Every function, methods and inner ones included."""
    return (node for node in ast.walk(tree) if isinstance(node, Function))


def body_lines(function: Function) -> int:
    """Lines of the body, from its first statement after the docstring to its end."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return (function.end_lineno or 0) - body[0].lineno + 1 if body else 0


@pytest.fixture(scope="module")
def trees(modules: dict[str, Path]) -> dict[str, ast.Module]:
    """Module -> its syntax tree."""
    return {name: ast.parse(path.read_text(encoding="utf-8")) for name, path in modules.items()}


@pytest.fixture(scope="module")
def lengths(trees: dict[str, ast.Module]) -> dict[str, int]:
    """module:line function -> lines of its body."""
    return {
        f"{module}:{function.lineno} {function.name}": body_lines(function)
        for module, tree in trees.items()
        for function in functions(tree)
    }


def test_half_of_the_functions_have_six_lines_at_most(lengths: dict[str, int]) -> None:
    assert len(lengths) > 500
    assert median(lengths.values()) <= 6


def test_nine_functions_in_ten_have_21_lines_at_most(lengths: dict[str, int]) -> None:
    assert sum(length > 21 for length in lengths.values()) <= len(lengths) / 10


def test_no_function_has_more_than_50_lines(lengths: dict[str, int]) -> None:
    assert not [name for name, length in lengths.items() if length > 50]


def test_no_file_is_long(modules: dict[str, Path]) -> None:
    counted = {name: len(path.read_text(encoding="utf-8").splitlines()) for name, path in modules.items()}
    assert not {name: count for name, count in counted.items() if count > LONGEST_FILE}


def public(node: ast.AST) -> bool:
    """Whether a definition's name is for others."""
    return isinstance(node, ast.ClassDef | Function) and not node.name.startswith("_")


def is_declared_only(node: ast.ClassDef | Function) -> bool:
    """Whether the body is `...`: a member of a protocol, which the protocol's docstring describes."""
    first = node.body[0]
    return isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and first.value.value is Ellipsis


def undocumented(module: str, tree: ast.Module) -> Iterator[str]:
    """Public classes, functions and methods of public classes without a docstring; the module itself too."""
    if not ast.get_docstring(tree):
        yield module
    tops = [node for node in tree.body if public(node)]
    inner = [part for top in tops if isinstance(top, ast.ClassDef) for part in top.body if public(part)]
    for node in [*tops, *inner]:
        assert isinstance(node, ast.ClassDef | Function)
        if not ast.get_docstring(node) and not is_declared_only(node):
            yield f"{module}:{node.lineno} {node.name}"


def test_everything_public_has_a_docstring(trees: dict[str, ast.Module]) -> None:
    assert not [name for module, tree in trees.items() for name in undocumented(module, tree)]


def test_nothing_is_unfinished_or_left_out_of_the_tests(all_files: list[Path], root: Path) -> None:
    texts = {path: (root / path).read_text(encoding="utf-8") for path in all_files if path.suffix in (".py", ".md")}
    assert not {str(path): found.group() for path, text in texts.items() if (found := UNFINISHED.search(text))}


def test_every_test_asserts_something(all_files: list[Path], root: Path) -> None:
    assert not [
        f"{path}:{function.lineno} {function.name}"
        for path in all_files
        if path.parts[0] == "tests" and path.match("test_*.py")
        for function in functions(ast.parse((root / path).read_text(encoding="utf-8")))
        if function.name.startswith("test_") and not asserts(function)
    ]


def asserts(function: Function) -> bool:
    """Whether a test holds an assertion, expects an error, or calls what raises or is named for asserting."""
    called = [node.func for node in ast.walk(function) if isinstance(node, ast.Call)]
    names = [getattr(node, "attr", getattr(node, "id", "")) for node in called]
    plain = any(isinstance(node, ast.Assert) for node in ast.walk(function))
    return plain or any(name in ("raises", "validate") or name.startswith(("assert_", "expect_")) for name in names)
