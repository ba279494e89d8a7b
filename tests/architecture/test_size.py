"""A house stays liveable while no room grows too large."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.architecture.tree import Function, functions, modules, name_of, parsed

MODULE_LINES = 400
MODULE_LINES_WITH_FORMULAS = 800  # of which 400 without the docstrings that carry the formulas
USE_CASE_LINES = 150
FUNCTION_LINES = 60
METHODS = 15
POSITIONAL = 3


def lines_of(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def span(node: ast.stmt) -> int:
    return (node.end_lineno or node.lineno) - node.lineno + 1


def docstring_lines(node: ast.Module | ast.ClassDef | Function) -> int:
    return span(node.body[0]) if ast.get_docstring(node) is not None else 0


def length_without_docstring(function: Function) -> int:
    return span(function) - docstring_lines(function)


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_a_module_fits_in_one_reading(path: Path) -> None:
    if "physics" not in path.parts:
        assert lines_of(path) <= MODULE_LINES
        return
    documented = (ast.Module, ast.ClassDef, Function)
    nodes = [node for node in ast.walk(parsed(path)) if isinstance(node, documented)]
    assert lines_of(path) - sum(docstring_lines(node) for node in nodes) <= MODULE_LINES
    assert lines_of(path) <= MODULE_LINES_WITH_FORMULAS


@pytest.mark.parametrize("path", modules("workshop"), ids=name_of)
def test_a_use_case_stays_small(path: Path) -> None:
    assert lines_of(path) <= USE_CASE_LINES


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_a_function_fits_on_one_screen(path: Path) -> None:
    long = {
        function.name: length_without_docstring(function)
        for function in functions(path)
        if length_without_docstring(function) > FUNCTION_LINES
    }
    assert not long


def is_declared(function: Function) -> bool:
    """Whether it makes a declared quantity: such a function is only ever called by name."""
    return any(ast.unparse(mark).startswith("declared(") for mark in function.decorator_list)


@pytest.mark.parametrize("path", modules("batch", "blending", "recipe"), ids=name_of)
def test_arguments_beyond_three_are_named(path: Path) -> None:
    """What the linter holds elsewhere; here it cannot tell declared functions from others."""
    crowded = {
        function.name
        for function in functions(path)
        if len([a for a in function.args.args if a.arg not in {"self", "cls"}]) > POSITIONAL
        and not is_declared(function)
    }
    assert not crowded


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_a_class_does_few_things(path: Path) -> None:
    crowded = {
        node.name: len(methods)
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.ClassDef)
        and len(methods := [part for part in node.body if isinstance(part, Function)]) > METHODS
    }
    assert not crowded
