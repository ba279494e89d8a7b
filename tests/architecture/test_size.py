"""A house stays liveable while no room grows too large."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from tests.architecture.tree import Function, faults_in, functions, modules, parsed

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


def too_long_a_module(path: Path) -> Iterator[str]:
    lines = lines_of(path)
    if "physics" not in path.parts:
        if lines > MODULE_LINES:
            yield f"{lines} lines"
        return
    documented = (ast.Module, ast.ClassDef, Function)
    nodes = [node for node in ast.walk(parsed(path)) if isinstance(node, documented)]
    if lines - sum(docstring_lines(node) for node in nodes) > MODULE_LINES:
        yield f"{lines} lines, too few of them docstrings"
    if lines > MODULE_LINES_WITH_FORMULAS:
        yield f"{lines} lines"


def too_long_a_use_case(path: Path) -> Iterator[str]:
    if lines_of(path) > USE_CASE_LINES:
        yield f"{lines_of(path)} lines"


def too_long_functions(path: Path) -> Iterator[str]:
    for function in functions(path):
        if (lines := length_without_docstring(function)) > FUNCTION_LINES:
            yield f"{function.name}: {lines} lines"


def is_declared(function: Function) -> bool:
    """Whether it makes a declared quantity: such a function is only ever called by name."""
    return any(ast.unparse(mark).startswith("declared(") for mark in function.decorator_list)


def crowded_functions(path: Path) -> Iterator[str]:
    for function in functions(path):
        taken = [one for one in function.args.args if one.arg not in {"self", "cls"}]
        if len(taken) > POSITIONAL and not is_declared(function):
            yield f"{function.name}: {len(taken)} without a name"


def crowded_classes(path: Path) -> Iterator[str]:
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.ClassDef):
            methods = sum(isinstance(part, Function) for part in node.body)
            if methods > METHODS:
                yield f"{node.name}: {methods} methods"


def test_a_module_fits_in_one_reading() -> None:
    assert not faults_in(modules(), too_long_a_module)


def test_a_use_case_stays_small() -> None:
    assert not faults_in(modules("workshop"), too_long_a_use_case)


def test_a_function_fits_on_one_screen() -> None:
    assert not faults_in(modules(), too_long_functions)


def test_arguments_beyond_three_are_named() -> None:
    """What the linter holds elsewhere; here it cannot tell declared functions from others."""
    assert not faults_in(modules("batch", "blending", "recipe"), crowded_functions)


def test_a_class_does_few_things() -> None:
    assert not faults_in(modules(), crowded_classes)


def test_what_is_too_large_is_seen(tmp_path: Path) -> None:
    """Each check above finds its fault in a module that has all of them."""
    crowd = "\n".join(f"    def m{at}(self, a, b, c, d): ..." for at in range(METHODS + 1))
    body = "\n".join("    a = 1" for _ in range(MODULE_LINES))
    module = tmp_path / "large.py"
    module.write_text(f"class Crowd:\n{crowd}\n\ndef long():\n{body}\n", encoding="utf-8")
    assert list(too_long_a_module(module))
    assert list(too_long_a_use_case(module))
    assert list(too_long_functions(module)) == ["long: 401 lines"]
    assert len(list(crowded_functions(module))) == METHODS + 1
    assert list(crowded_classes(module)) == ["Crowd: 16 methods"]
