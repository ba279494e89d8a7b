"""What the modules say of themselves, as pages: read off the files, and nothing is run for it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from inspect import cleandoc
from pathlib import Path

Named = ast.FunctionDef | ast.ClassDef
_UNDERLINE = re.compile(r"^-{3,}$")


def floor_page(place: Path) -> str:
    """The page of a floor: what it is, and each of its modules with every name that it offers."""
    if not place.is_dir():
        return f"# {place.name}\n\n" + "\n".join(
            module_told(place.with_suffix(".py"), (place.name,))
        )
    package = ast.parse((place / "__init__.py").read_text(encoding="utf-8"))
    parts = [f"# {place.name}\n", as_markdown(ast.get_docstring(package) or "")]
    for module in sorted(place.glob("*.py")):
        if module.stem != "__init__":
            parts += [f"({place.name}.{module.stem})=\n## {module.stem}\n"]
            parts += module_told(module, (place.name, module.stem))
    return "\n".join(parts)


def module_told(path: Path, names: tuple[str, ...]) -> Iterator[str]:
    """A module's own words, and each public name with what it takes and gives."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    code = f"../code/{'/'.join(names)}.py.txt"
    yield as_markdown(ast.get_docstring(tree) or "")
    yield f'<a href="{code}">The code</a>\n'
    for node, after in zip(tree.body, [*tree.body[1:], None], strict=True):
        if isinstance(node, Named) and not node.name.startswith("_"):
            yield from named_told(node, names)
        elif (said := constant_told(node, after)) is not None:
            yield said


def named_told(node: Named, names: tuple[str, ...]) -> Iterator[str]:
    """A function or a class: how it is called, its words, and its own public functions."""
    yield f"{'#' * (len(names) + 1)} {node.name}\n"
    yield f"```python\n{head_of(node)}\n```\n"
    yield as_markdown(ast.get_docstring(node) or "")
    yield from declared_told(node)
    if isinstance(node, ast.ClassDef):
        for one in node.body:
            if isinstance(one, ast.FunctionDef) and not one.name.startswith("_"):
                yield f"```python\n{head_of(one)}\n```\n"
                yield as_markdown(ast.get_docstring(one) or "")


def head_of(node: Named) -> str:
    """The lines up to a body; of a class the fields with them."""
    if isinstance(node, ast.ClassDef):
        bases = ", ".join(map(ast.unparse, node.bases))
        fields = [one for one in node.body if isinstance(one, ast.AnnAssign | ast.Assign)]
        lines = [f"    {ast.unparse(one)}" for one in fields]
        return "\n".join([f"class {node.name}" + (f"({bases})" if bases else ""), *lines])
    returns = f" -> {ast.unparse(node.returns)}" if node.returns else ""
    head = f"{node.name}({ast.unparse(node.args)}){returns}"
    if len(head) > 88 and node.args.args + node.args.kwonlyargs:
        inside = ast.unparse(node.args)
        head = f"{node.name}(\n    {split_at_commas(inside)},\n){returns}"
    return head


def split_at_commas(arguments: str) -> str:
    """Arguments one a line; commas within brackets part nothing."""
    depth, made = 0, []
    for letter in arguments:
        depth += (letter in "([{") - (letter in ")]}")
        made.append(",\n    " if letter == "," and depth == 0 else letter)
    return re.sub(r"\n {5,}", "\n    ", "".join(made))


def declared_told(node: Named) -> Iterator[str]:
    """Which number of a plan a function makes, by what formula and on whose word."""
    for one in node.decorator_list:
        if isinstance(one, ast.Call) and getattr(one.func, "id", "") == "declared":
            told = {key.arg: key.value for key in one.keywords}
            said = {
                key: value.value for key, value in told.items() if isinstance(value, ast.Constant)
            }
            name = one.args[0]
            if isinstance(name, ast.Constant) and {"label", "equation", "source"} <= said.keys():
                yield (
                    f"Makes the [number](../numbers.md) `{name.value}`, {said['label']}: "
                    f"`{' '.join(said['equation'].split())}` ({said['source']}).\n"
                )


def constant_told(node: ast.stmt, after: ast.stmt | None) -> str | None:
    """A name of the module that has words after it."""
    if not isinstance(node, ast.Assign | ast.AnnAssign) or not isinstance(after, ast.Expr):
        return None
    words = after.value
    is_told = isinstance(words, ast.Constant) and isinstance(words.value, str)
    if not is_told or ast.unparse(node).startswith("_"):
        return None
    line = ast.unparse(node)
    shown = line if len(line) < 100 else line.split("=")[0].strip()
    return f"```python\n{shown}\n```\n\n{as_markdown(words.value)}"


def as_markdown(docstring: str) -> str:
    """Our docstrings as they are meant: underlined words are headings, rows below them items."""
    made: list[str] = []
    is_list = is_code = False
    for line in cleandoc(docstring).splitlines():
        code = line.startswith(">>>") or (is_code and bool(line.strip()))
        if code != is_code:
            made.append("```python" if code else "```")
            is_code = code
        if _UNDERLINE.match(line.strip()) and made:
            made[-1:] = ["", f"**{made[-1].strip()}**", ""]
            is_list = True
        elif is_list and not code and re.match(r"\S", line):
            made.append(f"* {line}")
        else:
            made.append(line)
    if is_code:
        made.append("```")
    return "\n".join(made).replace("<", "&lt;") + "\n"
