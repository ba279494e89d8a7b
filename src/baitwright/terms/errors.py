"""Every error a maker can meet, in one shape: which field, what came, what would be accepted."""

from __future__ import annotations

from unicodedata import category

_LONGEST = 200
"""Characters of a value that a message repeats."""
_LONGEST_LINE, _MOST_LINES = 1500, 60
"""Characters of a line of any other part, which may repeat some of what came, and its lines."""


_STEERING = ("Cc", "Cf", "Cs")
"""Kinds of letters that nobody sees: a terminal or a browser would obey them."""


class BaitwrightError(Exception):
    """Anything this program raises on purpose."""


class InputError(BaitwrightError):
    """What was handed in cannot be used; the message says what could.

    Parameters
    ----------
    field: the name the maker knows the value by, e.g. ``"bait.diameter"``.
    got: the value as it came.
    accepted: what would have been right, in words, e.g. ``"a length such as 15 mm"``.
    hint: one more sentence that may help, or nothing.
    where: the file the value stands in, or nothing.
    """

    def __init__(
        self, field: str, got: object, accepted: str, *, hint: str = "", where: str = ""
    ) -> None:
        self.field, self.got, self.accepted = _told(field), got, _told(accepted)
        self.hint, self.where = _told(hint), _told(where)
        super().__init__(str(self))

    def located(self, where: str, prefix: str = "") -> InputError:
        """The same error, told where its value stands: in which file and under which heading."""
        field = f"{prefix}.{self.field}" if prefix else self.field
        return InputError(field, self.got, self.accepted, hint=self.hint, where=where)

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        try:
            came = "nothing" if self.got is None else repr(self.got)
        except RecursionError:
            came = f"a {type(self.got).__name__} in which others lie without an end"
        if len(came) > _LONGEST:
            came = f"{came[:_LONGEST]}... ({len(came)} characters)"
        hint = f" {self.hint}" if self.hint else ""
        return f"{place}{self.field}: got {came}, but it takes {self.accepted}.{hint}"


def _told(text: str) -> str:
    """Words for a terminal or a page: of no endless length, and with nothing that steers either."""
    plain = "".join(
        repr(one)[1:-1] if category(one) in _STEERING and one not in "\n\t" else one for one in text
    )
    lines = plain.split("\n")[:_MOST_LINES]
    return "\n".join(
        f"{one[:_LONGEST_LINE]}..." if len(one) > _LONGEST_LINE else one for one in lines
    )


class RangeError(InputError):
    """A number outside what its formula or the trade can carry.

    Parameters
    ----------
    field: the name of the number.
    got: the number as it came.
    low, high: the limits that would be accepted, inclusive, in ``unit``.
    unit: the unit of all three.
    """

    def __init__(
        self,
        field: str,
        got: object,
        *,
        low: float,
        high: float,
        unit: str = "",
        hint: str = "",
    ) -> None:
        self.low, self.high, self.unit = low, high, unit
        tail = f" {unit}" if unit else ""
        super().__init__(field, got, f"{low:g} to {high:g}{tail}", hint=hint)


class ComputationError(BaitwrightError):
    """A solver did not reach its accuracy: our fault, not the maker's."""
