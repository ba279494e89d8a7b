"""Days, amounts and money as a language writes them, and what only English has words for."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from markupsafe import Markup

from baitwright.web.language import ENGLISH, English, catalogue

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DAY = "%(weekday)s %(day)s %(month)s"
_WITHIN = re.compile(r"(?<=\d)[.,](?=\d)")
_ROW = re.compile(r"(.+) (\d+)")
_SPOKEN = re.compile("[A-Za-z]{2}")
_LEAST = " at least"
_OTHER = {".": ",", ",": "."}


@dataclass(frozen=True, slots=True)
class Words:
    """How pages of a language write what they are told."""

    language: str

    @property
    def filters(self) -> dict[str, Callable[..., Any]]:
        """What templates call them by."""
        own = (self.day, self.clock, self.amount, self.money, self.paid, self.share)
        every = (*own, self.figure, self.told, self.unit, hour)
        return {one.__name__: one for one in every}

    def word(self, english: str) -> str:
        """A word in this language, or as it is where the catalogue lacks it; Liquid 2 is two."""
        if not english:
            return ""
        row = _ROW.fullmatch(english)
        found = self._found(english)
        if row is None or not isinstance(found, English):
            return found
        stem = self._found(row[1])
        return found if isinstance(stem, English) else f"{stem} {row[2]}"

    def _found(self, english: str) -> str:
        """As it is written, or as it is at the head of a field."""
        words = catalogue(self.language)
        found = words.gettext(english)
        if not isinstance(found, English):
            return found
        headed = words.gettext(english[:1].upper() + english[1:])
        return found if isinstance(headed, English) else headed

    def told(self, english: object, of: Mapping[str, object] | None = None) -> str:
        """What the workshop says: in this language, or marked as English for who hears it read.

        Parameters
        ----------
        english: its words, or an error that tells itself.
        of: names and numbers that stand in them, where there are places for such.
        """
        if not english:
            return ""
        found = self.word(str(english))
        said = found % of if of else found
        if not isinstance(found, English) or not _SPOKEN.search(said):
            return said
        return Markup('<span lang="en">{}</span>').format(said)

    def unit(self, told: str) -> str:
        """A unit: symbols are the same everywhere, words are not."""
        return self.word(told)

    def figure(self, told: object) -> str:
        """A number, or several in a row, with this language's mark before the decimals."""
        if self.language == ENGLISH:
            return str(told)
        return _WITHIN.sub(lambda mark: _OTHER[mark[0]], str(told))

    def day(self, told: date) -> str:
        """A day as it is said: Fri 27 Nov."""
        weekday, month = WEEKDAYS[told.weekday()], MONTHS[told.month - 1]
        parts = {"weekday": self.word(weekday), "day": told.day, "month": self.word(month)}
        return self.word(DAY) % parts

    def clock(self, told: datetime) -> str:
        """An hour of a day: Fri 27 Nov, 17:00."""
        return f"{self.day(told)}, {told:%H:%M}"

    def amount(self, units: int, counted: Any) -> str:
        """So much of an item, with the unit it is read in."""
        from baitwright.workshop.typed.amounts import in_words

        return self.figure(in_words(units, counted))

    def money(self, told: Decimal | None, places: int = 2) -> str:
        """An amount of the shop's money."""
        return "" if told is None else self.figure(f"{told:,.{places}f}")

    def paid(self, told: Decimal, whole: bool, digits: int = 2) -> str:
        """Money of which not all may be known, for want of a price that nobody told."""
        from baitwright.workshop.told.worth_words import money

        number, least, _ = money(told, whole=whole, digits=digits).partition(_LEAST)
        return (
            f"{self.figure(number)} {self.word(_LEAST.strip())}"
            if least
            else self.figure(self.word(number))
        )

    def share(self, told: Decimal | None) -> str:
        """A share in per cent."""
        from baitwright.workshop.told.worth_words import percent

        return self.figure(percent(told))


def hour(told: datetime) -> str:
    """A moment on the clock of this machine, to the second: 17:00:30."""
    return f"{told.astimezone():%H:%M:%S}"
