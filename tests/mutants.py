"""Small changes to recipe, batch and physics, such as a tester who wishes us ill would make.

mutmut knows how to change an expression; this says which changes there are, in what order they are
tried, and how one is put into a running program: the changed function's code takes the place of its
own, so nothing is written, imported again or slowed down. ``tests/judges.py`` tries them.

Left alone: sentences, which are for people and whose wording no test should nail down, and
``compiled_kernels``, which a test holds equal to the march that is changed here.
"""

from __future__ import annotations

import ast
import gc
import json
import os
import re
import tomllib
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import astuple, dataclass
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
FLOORS = tuple(Path("src/baitwright") / floor for floor in ("recipe", "batch", "physics"))
LEFT_ALONE = {"compiled_kernels.py"}
SEED = 20261129
"""Another after every round of tests written from survivors: those it showed would flatter."""


def module_of(file: str) -> str:
    """The full name of the module in a file."""
    return ".".join(Path(file).with_suffix("").parts[1:]).removesuffix(".__init__")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change to one function; lines count from 1, columns from 0, ends are past the last."""

    file: str
    function: str
    number: int
    start: tuple[int, int]
    end: tuple[int, int]
    becomes: str

    @property
    def name(self) -> str:
        """Module, function and number."""
        return f"{self.module}.{self.function} {self.number}"

    @property
    def module(self) -> str:
        """The module it lies in, by its full name."""
        return module_of(self.file)

    @property
    def floor(self) -> str:
        """recipe, batch or physics."""
        return self.module.split(".")[1]

    def place(self, seed: int = SEED) -> bytes:
        """Where it stands in the random order; those that come or go move no other."""
        return sha256(f"{seed} {self.name}".encode()).digest()


def undressed(code: str) -> str:
    """A module whose functions have no decorators, every line where it was.

    mutmut leaves decorated functions alone, since it would call the decorator again. Here only
    the code below it is exchanged.
    """
    lines = code.splitlines()
    for owner in (tree := ast.parse(code), *(n for n in tree.body if isinstance(n, ast.ClassDef))):
        for function in owner.body:
            for decorator in getattr(function, "decorator_list", ()):
                if isinstance(function, ast.FunctionDef):
                    past = decorator.end_lineno or decorator.lineno
                    lines[decorator.lineno - 1 : past] = [""] * (past - decorator.lineno + 1)
    return "\n".join(lines) + "\n"


def but_for_sentences(change: Callable[[Any], Iterator[Any]]) -> Callable[[Any], Iterator[Any]]:
    """The way to change a text, for texts of one word only."""

    def changed(node: Any) -> Iterator[Any]:
        if " " not in getattr(node, "value", ""):
            yield from change(node)

    return changed


@cache
def undressed_file(file: str) -> str:
    """A module of ours as `undressed` gives it."""
    return undressed((ROOT / file).read_text(encoding="utf-8"))


def mutants_of(file: str) -> list[Mutant]:
    """Every change to the functions of one module, in the order they stand there."""
    import libcst
    from libcst.metadata import MetadataWrapper, PositionProvider
    from mutmut.mutation import file_mutation, mutators
    from mutmut.mutation.pragma_handling import IgnoredCode

    changes = [
        (kind, but_for_sentences(change) if change is mutators.operator_string else change)
        for kind, change in mutators.mutation_operators
    ]
    none_ignored = IgnoredCode(set(), set(), set())
    wrapper = MetadataWrapper(libcst.parse_module(undressed_file(file)))
    visitor = file_mutation.MutationVisitor(changes, none_ignored)
    module = wrapper.visit(visitor)
    position = wrapper.resolve(PositionProvider)
    names = _qualified(module)
    made: list[Mutant] = []
    count: dict[str, int] = defaultdict(int)
    for mutation in visitor.mutations:
        function = names.get(mutation.contained_by_top_level_function)
        if function is None:
            continue
        span = position[mutation.original_node]
        count[function] += 1
        becomes = module.code_for_node(mutation.mutated_node)
        start, end = (span.start.line, span.start.column), (span.end.line, span.end.column)
        made.append(Mutant(file, function, count[function], start, end, becomes))
    return made


@cache
def every_mutant() -> tuple[Mutant, ...]:
    """Every change there is; kept in ``build/`` for each module until it changes."""
    made: list[Mutant] = []
    for file in files():
        kept = ROOT / "build" / "nightly" / "mutants" / f"{file.replace('/', '.')}.json"
        of = sha256(f"{version('mutmut')} {undressed_file(file)}".encode()).hexdigest()
        told = json.loads(kept.read_text(encoding="utf-8")) if kept.exists() else {}
        if told.get("of") != of:
            told = {"of": of, "mutants": [astuple(mutant) for mutant in mutants_of(file)]}
            kept.parent.mkdir(parents=True, exist_ok=True)
            kept.write_text(json.dumps(told), encoding="utf-8")
        for *what, start, end, becomes in told["mutants"]:
            made.append(Mutant(*what, tuple(start), tuple(end), becomes))
    return tuple(made)


def _qualified(module: Any) -> dict[Any, str]:
    """The functions of a module and the methods of its classes, with their qualified names."""
    import libcst

    names = {}
    for statement in module.body:
        if isinstance(statement, libcst.FunctionDef):
            names[statement] = statement.name.value
        elif isinstance(statement, libcst.ClassDef):
            for member in statement.body.body:
                if isinstance(member, libcst.FunctionDef):
                    names[member] = f"{statement.name.value}.{member.name.value}"
    return names


def files() -> list[str]:
    """The modules that are changed."""
    found = (path for floor in FLOORS for path in (ROOT / floor).rglob("*.py"))
    return sorted(
        path.relative_to(ROOT).as_posix() for path in found if path.name not in LEFT_ALONE
    )


def in_order(mutants: Sequence[Mutant], seed: int = SEED) -> list[Mutant]:
    """The mutants in the random order that they keep."""
    return sorted(mutants, key=lambda mutant: mutant.place(seed))


def mutated(mutant: Mutant) -> str:
    """The whole module with the change in it."""
    lines = undressed_file(mutant.file).splitlines(keepends=True)
    (first, column), (last, past) = mutant.start, mutant.end
    changed = lines[first - 1][:column] + mutant.becomes + lines[last - 1][past:]
    return "".join([*lines[: first - 1], changed, *lines[last:]])


def difference(mutant: Mutant) -> tuple[str, str]:
    """The changed lines as they were and as they are, each run together into one."""
    (first, column), (last, past) = mutant.start, mutant.end
    lines = undressed_file(mutant.file).splitlines()[first - 1 : last]
    was = " ".join(line.strip() for line in lines)
    becomes = lines[0][:column] + mutant.becomes + lines[-1][past:]
    return was, " ".join(becomes.split())


@dataclass(frozen=True, slots=True)
class Alike:
    """Changes after which nothing is different that a maker could notice, and why.

    ``was`` and ``becomes`` are as `difference` has them, ``where`` is a function's full name; in
    all three an ellipsis stands for anything.
    """

    where: str
    was: str
    becomes: str
    why: str

    def __contains__(self, mutant: Mutant) -> bool:
        was, becomes = difference(mutant)
        return (
            _like(self.where, f"{mutant.module}.{mutant.function}")
            and _like(self.was, was)
            and _like(self.becomes, becomes)
        )


def _like(pattern: str, text: str) -> bool:
    return re.fullmatch(".*".join(re.escape(part) for part in pattern.split("…")), text) is not None


@cache
def explained() -> tuple[Alike, ...]:
    """The survivors that have an explanation, from ``survivors.toml``."""
    told = tomllib.loads((ROOT / "tests" / "survivors.toml").read_text(encoding="utf-8"))
    return tuple(Alike(**one) for one in told["alike"])


def explanation(mutant: Mutant) -> str:
    """Why nobody could notice this change; empty where somebody could."""
    return next((one.why for one in explained() if mutant in one), "")


def statement_lines(mutant: Mutant) -> range:
    """The lines of the innermost statement around the change; a whole function for its head."""
    here = range(0)
    for node in ast.walk(ast.parse(undressed_file(mutant.file))):
        if not isinstance(node, ast.stmt) or isinstance(node, ast.ClassDef):
            continue
        lines = range(node.lineno, (node.end_lineno or node.lineno) + 1)
        if mutant.start[0] in lines and mutant.end[0] in lines:
            inside = [child.lineno for child in ast.walk(node) if isinstance(child, ast.stmt)][1:]
            within = not isinstance(node, ast.FunctionDef) and inside
            ends = min(inside) if within else lines.stop
            if mutant.end[0] < ends and (not here or len(range(node.lineno, ends)) < len(here)):
                here = range(node.lineno, ends)
    return here


def code_of(source: str, mutant: Mutant) -> CodeType:
    """The compiled code of the function in a source of its module."""

    def search(code: CodeType) -> Iterator[CodeType]:
        for constant in code.co_consts:
            if isinstance(constant, CodeType):
                if constant.co_qualname == mutant.function:
                    yield constant
                yield from search(constant)

    whole = compile(source, os.fspath(ROOT / mutant.file), "exec", dont_inherit=True)
    return next(search(whole))


def defaults_of(source: str, function: str) -> list[tuple[str, ast.expr]]:
    """Argument names and the expressions of their defaults."""
    owner, _, name = function.rpartition(".")
    body = ast.parse(source).body
    if owner:
        body = next(n for n in body if isinstance(n, ast.ClassDef) and n.name == owner).body
    args = next(n for n in body if isinstance(n, ast.FunctionDef) and n.name == name).args
    placed = [*args.posonlyargs, *args.args]
    pairs = list(zip(placed[len(placed) - len(args.defaults) :], args.defaults, strict=True))
    pairs += [(a, d) for a, d in zip(args.kwonlyargs, args.kw_defaults, strict=True) if d]
    return [(arg.arg, default) for arg, default in pairs]


@cache
def running() -> dict[tuple[str, str], list[FunctionType]]:
    """The functions of this program by file and qualified name, looked up once."""
    found: dict[tuple[str, str], list[FunctionType]] = defaultdict(list)
    for thing in gc.get_objects():
        if type(thing) is FunctionType:
            found[thing.__code__.co_filename, thing.__code__.co_qualname].append(thing)
    return found


def put_in(mutant: Mutant) -> None:
    """Change the running program; there is no way back but to end the process."""
    source = mutated(mutant)
    code = code_of(source, mutant)
    before = defaults_of(undressed_file(mutant.file), mutant.function)
    after = defaults_of(source, mutant.function)
    changed = {
        name: ast.literal_eval(new)
        for (name, old), (_, new) in zip(before, after, strict=True)
        if ast.dump(old) != ast.dump(new)
    }
    functions = running()[os.fspath(ROOT / mutant.file), mutant.function]
    if not functions:
        raise LookupError(f"{mutant.name}: no such function is running")
    for function in functions:
        function.__code__ = code
        keyword = function.__kwdefaults__ or {}
        placed = code.co_varnames[: code.co_argcount]
        values = list(function.__defaults__ or ())
        for name, value in changed.items():
            if name in keyword:
                keyword[name] = value
            else:
                values[placed.index(name) - code.co_argcount] = value
        function.__defaults__ = tuple(values) or None
