"""The names that come nearest to one that nobody knows: by words in any order, slips included."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher
from unicodedata import normalize

_ALIKE = 0.7
"""Words less alike than this are different words (judgement)."""
_STEM = 3
"""Letters at the start of a word that stand for it."""
_SLIPPED, _LONG = 0.8, 5
"""A word so much like another, both of so many letters, is that word misspelt (judgement)."""


def plain_name(name: str) -> str:
    """A name as it is compared: small letters, words parted by single spaces."""
    return " ".join(name.casefold().replace("_", " ").replace("-", " ").replace(",", " ").split())


def alike(name: str) -> str:
    """What two names share that a maker reads as one: capitals, hyphens and spaces aside."""
    return plain_name(normalize("NFKC", name)).replace(" ", "")


def nearest(name: str, known: Iterable[str], *, most: int = 6) -> list[str]:
    """The known names that share words with a name, the nearest first.

    Parameters
    ----------
    name: what was typed.
    known: names that would have been right.
    most: how many to offer.
    """
    wanted = plain_name(name).split()
    ranks = {plain: _rank(wanted, plain.split()) for plain in map(plain_name, known)}
    sharing = [plain for plain, (shared, _) in ranks.items() if shared]
    return sorted(sharing, key=lambda plain: (*(-part for part in ranks[plain]), plain))[:most]


def is_slip(typed: str, word: str) -> bool:
    """Whether a plain name is another but for slips of spelling in its longer words."""
    pairs = list(zip(typed.split(), word.split(), strict=False))
    if len(typed.split()) != len(word.split()):
        return False
    return all(
        one == other or (min(len(one), len(other)) >= _LONG and _alike(one, other) >= _SLIPPED)
        for one, other in pairs
    )


def _rank(wanted: list[str], words: list[str]) -> tuple[int, float]:
    """How many words a name shares with what was typed, then how much of both that is."""
    alike = [_best(typed, words) for typed in wanted]
    shared = sum(map(bool, alike))
    return shared, sum(alike) / max(1, len(wanted) + len(words) - shared)


def _best(typed: str, words: list[str]) -> float:
    return max((_alike(typed, word) for word in words), default=0.0)


def _alike(typed: str, word: str) -> float:
    short, long = sorted((typed, word), key=len)
    if len(short) >= _STEM and long.startswith(short):
        return _ALIKE + (1.0 - _ALIKE) * len(short) / len(long)
    found = SequenceMatcher(None, typed, word).ratio()
    return found if found >= _ALIKE else 0.0
