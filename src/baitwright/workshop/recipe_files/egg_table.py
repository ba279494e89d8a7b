"""One line of eggs, or of another binding liquid, of a bench file."""

from __future__ import annotations

import math
from typing import Annotated

from baitwright.materials import eggs as shelf
from baitwright.quantities import Kind, kind_of, read_number, show
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.terms.errors import InputError
from baitwright.workshop.typed import fields, words
from baitwright.workshop.typed.reading import Table

_IN_SHELLS = (EggKind.WHOLE, EggKind.WHITE, EggKind.YOLK)
_ONE = (30e-3, 120e-3)
"""A hen's egg in its shell, kg."""
_MOST_POURED = {Kind.VOLUME: 120e-6, Kind.MASS: 125e-3}
"""No hen's egg pours more, m3 or kg."""
_ABOUT_SHELL = "Weight in the shell: of all together, or a list with each."
_ABOUT_CONTENTS = "What is in the bowl, measured: it wins over weight in the shell and grade."
_EACH = fields.measured(Kind.MASS, "30 g", "120 g", example="66 g", about=_ABOUT_SHELL)
_ALL = fields.measured(Kind.MASS, "30 g", "100 kg", example="193 g", about=_ABOUT_SHELL)
_POURED = fields.measured(
    Kind.VOLUME, "5 ml", "100 l", example="165 ml or 170 g", about=_ABOUT_CONTENTS
)
_WEIGHED = fields.measured(
    Kind.MASS, "5 g", "100 kg", example="170 g or 165 ml", about=_ABOUT_CONTENTS
)


def _shell() -> fields.Reads:
    def each_or_all(value: object) -> float | tuple[float, ...]:
        if isinstance(value, list) and value:
            return tuple(map(_EACH.read, value))
        return float(_ALL.read(value))

    many = {"type": "array", "items": fields.typed("66 g"), "minItems": 1}
    accepted = f'{_ALL.accepted}, or each as in ["63 g", "65 g"]'
    return fields.Reads(
        each_or_all, accepted, _ABOUT_SHELL, {"anyOf": [fields.typed("193 g"), many]}
    )


def _contents() -> fields.Reads:
    def by_unit(value: object) -> tuple[Kind, float]:
        unit = read_number(value, "", _POURED.accepted).unit if isinstance(value, str) else ""
        how = _WEIGHED if kind_of(unit) is Kind.MASS else _POURED
        return (Kind.MASS if how is _WEIGHED else Kind.VOLUME), how.read(value)

    schema = fields.typed("165 ml", "170 g")
    return fields.Reads(by_unit, _POURED.accepted, _ABOUT_CONTENTS, schema)


class EggTable(Table):
    """Eggs of one kind: by count and grade, weighed in the shell, or measured in the bowl."""

    kind: Annotated[EggKind, words.word(EggKind, about="Which liquid binds.")] = EggKind.WHOLE
    count: Annotated[int | None, fields.number(1, 1000, example=3, about="How many eggs.")] = None
    grade: Annotated[
        str | None,
        words.shelved(
            lambda text: shelf.grade(text, "").name,
            example="EU L",
            about="Grade, with the system that its letter belongs to.",
        ),
    ] = None
    shell: Annotated[float | tuple[float, ...] | None, _shell()] = None
    contents: Annotated[tuple[Kind, float] | None, _contents()] = None


def as_eggs(line: EggTable, field: str, *, baits_wanted: bool) -> Eggs:
    """A line of the file as eggs.

    Parameters
    ----------
    line: what the file says.
    field: what the file calls this line.
    baits_wanted: whether eggs may be left for the plan to count.

    Raises
    ------
    InputError: what the line says does not tell how much there is.
    """
    _require_enough(line, field, baits_wanted)
    shell, count = _weighed_in_shell(line, field)
    how, amount = line.contents or (None, 0.0)
    if how and count and amount > count * _MOST_POURED[how]:
        got = show(amount, "g" if how is Kind.MASS else "ml")
        raise InputError(f"{field}.contents", got, f"what {count} eggs pour, 120 ml each at most")
    return Eggs(
        kind=line.kind,
        count=count,
        grade=line.grade,
        shell_mass=shell,
        contents_mass=amount if how is Kind.MASS else None,
        contents_volume=amount if how is Kind.VOLUME else None,
    )


def _require_enough(line: EggTable, field: str, baits_wanted: bool) -> None:
    """Refuse a line that does not say how much there is."""
    if line.kind not in _IN_SHELLS:
        measured = f"its measured ml or g, since {line.kind} does not come in shells"
        for name, stated in (("grade", line.grade), ("shell", line.shell)):
            if stated is not None:
                raise InputError(f"{field}.{name}", stated, f"nothing; give contents: {measured}")
        if line.contents is None and not baits_wanted:
            raise InputError(f"{field}.contents", None, f"{measured}, such as '150 ml'")
    elif line.contents is None and line.shell is None:
        if line.grade is None:
            accepted = "a grade such as 'EU L', or their weight as shell or contents"
            raise InputError(f"{field}.grade", None, accepted)
        if line.count is None and not baits_wanted:
            raise InputError(f"{field}.count", None, "how many eggs, such as 3")


def _weighed_in_shell(line: EggTable, field: str) -> tuple[float | None, int | None]:
    """Weight in the shell of all eggs together [kg], and how many there are."""
    if line.shell is None:
        return None, line.count
    if isinstance(line.shell, tuple):
        count = len(line.shell)
        if line.count not in (None, count):
            accepted = f"{count}, as many as there are weights in shell"
            raise InputError(f"{field}.count", line.count, accepted)
        return math.fsum(line.shell), count
    if line.count is None:
        raise InputError(f"{field}.count", None, "how many eggs weigh that together, such as 3")
    if not _ONE[0] <= line.shell / line.count <= _ONE[1]:
        accepted = f"the weight of {line.count} eggs together, 30 g to 120 g each"
        raise InputError(f"{field}.shell", show(line.shell, "g"), accepted)
    return line.shell, line.count
