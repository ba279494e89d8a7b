"""Days, amounts and money as a language writes them, and what only English has words for."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from markupsafe import Markup

from baitwright.web.language import ENGLISH, English, catalogue, heads

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DAY = "%(weekday)s %(day)s %(month)s"
_WITHIN = re.compile(r"(?<=\d)[.,](?=\d)")
_ROW = re.compile(r"(.+) (\d+)")
_COUNTRY = re.compile("[A-Z]{2}(?:, [A-Z]{2})*: ")
_SENTENCES = re.compile(r"(?<=[.!?]) (?=[A-Z])")
_SPOKEN = re.compile("[A-Za-z]{2}")
_UNIT = r"(?: ?(?:m?g|kg|m?l|[mck]?m|m[23]|s|min|h|d|%|°C|k?W|k?Pa|hPa|g/ml|ml/min))?"
_AMOUNT = rf"[-+±<>]?\d[\d.,]*{_UNIT}"
_MEASURED = re.compile(rf"{_AMOUNT}(?: to {_AMOUNT})?")
_DATED = re.compile(rf"\b({'|'.join(WEEKDAYS)}) (\d{{1,2}}) ({'|'.join(MONTHS)})\b")
_TIMED = re.compile(rf"\b({'|'.join(WEEKDAYS)})(?= \d\d:\d\d)")
_BETWEEN = re.compile(r"(?<=\d)((?: \S{1,4})?) (to|of) (?=[-+]?\d)")
_LEAST = " at least"
_MOST = 20
"""Sentences of the longest text that is told of several."""
_NAMED_BY = 7
"""Words of the longest name: what is longer, or ends like a sentence, is none."""
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
        """A word in this language, or as it is where the catalogue lacks it.

        Known in part is ``Liquid 2``, and ``Draw Malt`` where the catalogue has ``Draw`` and the
        place of a name, and what consists of known sentences.
        """
        found = self._found(english)
        if not found or not isinstance(found, English):
            return found
        if _MEASURED.fullmatch(english):
            return self.figure(english)
        return self._of_name(english) or self._in_sentences(english) or found

    def _of_name(self, english: str) -> str:
        """Known words with a number after them, or with a name; nothing where it is neither."""
        row = _ROW.fullmatch(english)
        stem = self._found(row[1]) if row else ""
        if row and not isinstance(stem, English):
            return f"{stem} {row[2]}"
        for head, said in heads(self.language):
            name = english.removeprefix(head)
            is_long = len(name.split()) > _NAMED_BY or name.endswith((".", "!", "?"))
            if name != english and not is_long:
                return said % self.word(name)
        return ""

    def _in_sentences(self, english: str) -> str:
        """Known sentences: before them the country they are of, behind them what they are about."""
        country = _COUNTRY.match(english)
        before = country[0] if country else ""
        text, about = english.removeprefix(before), ""
        if text.endswith(")") and " (" in text:
            text, bracket, inner = text.rpartition(" (")
            about = bracket + inner
        told, parts = list[str](), _SENTENCES.split(text)
        if len(parts) > _MOST:
            return ""
        while parts:
            ends = range(len(parts), 0, -1)  # as many together as the catalogue has
            found = ((self._found(" ".join(parts[:end])), end) for end in ends)
            said, end = next((one for one in found if not isinstance(one[0], English)), ("", 0))
            if not end:
                return ""
            told.append(said)
            parts = parts[end:]
        return f"{before}{' '.join(told)}{about}"

    def _found(self, english: str) -> str:
        """As it is written, or as it is at the head of a field."""
        if not english:
            return ""
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
        """Numbers and days as this language writes them, and what stands between two numbers."""
        if self.language == ENGLISH:
            return str(told)
        said = _DATED.sub(self._dated, self._found(str(told)))
        said = _TIMED.sub(lambda day: self._found(day[1]), said)
        said = _BETWEEN.sub(lambda ends: f"{ends[1]} {self._found(ends[2])} ", said)
        return _WITHIN.sub(lambda mark: _OTHER[mark[0]], said)

    def _dated(self, day: re.Match[str]) -> str:
        parts = {
            "weekday": self._found(day[1]),
            "day": day[2],
            "month": self._found(day[3]),
        }
        return self._found(DAY) % parts

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
