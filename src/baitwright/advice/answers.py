"""An answer to somebody: what is said, what it rests on, what calls for care; and two compared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from baitwright.advice.grades import Footing, Grade


@dataclass(frozen=True, slots=True)
class Statement:
    """One thing that is said: of what, the words, and what stands behind them.

    ``about`` is the part of the answer it belongs to, such as one liquid, and ``is_first`` marks
    what is told even where there is room for little.
    """

    about: str
    head: str
    text: str
    grade: Grade
    rests_on: str = ""
    source: str = ""
    is_first: bool = False


@dataclass(frozen=True, slots=True)
class Care:
    """One caution, with its source."""

    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Found:
    """What was computed: statements, what is asked back, what it rests on, what calls for care.

    ``factors`` names the set of factors it was computed with.
    """

    statements: tuple[Statement, ...] = ()
    asks: tuple[str, ...] = ()
    assumptions: tuple[Statement, ...] = ()
    cares: tuple[Care, ...] = ()
    factors: str = ""


@dataclass(frozen=True, slots=True)
class Advice:
    """One answer as it was given: whose question, the maker's own words, and what was computed.

    ``version`` and ``question_version`` count from 1; ``label`` is the asker's short one, and
    ``told`` what they said of their eggs and mix, entry by entry.
    """

    name: str
    version: int
    day: str
    question: str
    question_version: int
    label: str
    told: tuple[tuple[str, str], ...]
    opening: str
    words: str
    closing: str
    program: str
    found: Found


@dataclass(frozen=True, slots=True)
class Changed:
    """What differs between two answers to one question; none where there was or is nothing."""

    entry: str
    before: str | None
    after: str | None


def said(
    head: str, text: str, footing: Footing, *, about: str = "", first: bool = False
) -> Statement:
    """A statement on its footing."""
    return Statement(
        about, head, text, footing.grade, footing.rests_on, footing.source, is_first=first
    )


def as_plain(advice: Advice) -> dict[str, Any]:
    """An answer as the notebook keeps it; name and version stand beside it there."""
    kept = asdict(advice)
    return {key: one for key, one in kept.items() if key not in ("name", "version")}


def from_plain(name: str, version: int, body: Mapping[str, Any]) -> Advice:
    """An answer as it was kept, to the letter.

    Raises
    ------
    LookupError, TypeError, ValueError: entries that are none of an answer.
    """
    found = body["found"]
    told = tuple((str(key), str(value)) for key, value in body["told"])
    plain = ("day", "question", "label", "opening", "words", "closing", "program")
    return Advice(
        name=name,
        version=version,
        question_version=int(body["question_version"]),
        told=told,
        found=Found(
            tuple(map(_statement, found["statements"])),
            tuple(map(str, found["asks"])),
            tuple(map(_statement, found["assumptions"])),
            tuple(Care(**one) for one in found["cares"]),
            str(found["factors"]),
        ),
        **{key: str(body[key]) for key in plain},
    )


def _statement(told: Mapping[str, Any]) -> Statement:
    return Statement(**{**told, "grade": Grade(told["grade"])})


def changed(before: Advice, after: Advice) -> tuple[Changed, ...]:
    """What two answers to one question say otherwise: by whom, on what, and every statement."""
    pairs = [
        ("program", before.program, after.program),
        ("factors", before.found.factors, after.found.factors),
        ("asker", before.label, after.label),
        ("question", before.question, after.question),
        *_pairs(dict(before.told), dict(after.told)),
        *((what, getattr(before, what), getattr(after, what)) for what in _OWN),
        *_pairs(_by_head(before.found.statements), _by_head(after.found.statements)),
        *_pairs(_by_head(before.found.assumptions), _by_head(after.found.assumptions)),
        *_pairs(_listed("asked back", before.found.asks), _listed("asked back", after.found.asks)),
        *_pairs(_cares(before), _cares(after)),
    ]
    return tuple(Changed(what, was or None, now or None) for what, was, now in pairs if was != now)


_OWN = ("opening", "words", "closing")


def _by_head(statements: Sequence[Statement]) -> dict[str, str]:
    """Every statement by what it is of; those without a head of their own are counted."""
    found: dict[str, str] = {}
    for one in statements:
        stem = ": ".join(filter(None, (one.about, one.head))) or "said"
        at, name = 1, stem
        while name in found:
            at, name = at + 1, f"{stem} {at + 1}"
        found[name] = f"{one.text} [{one.grade}]"
    return found


def _cares(advice: Advice) -> dict[str, str]:
    return _listed("caution", [one.text for one in advice.found.cares])


def _listed(stem: str, texts: Sequence[str]) -> dict[str, str]:
    return {f"{stem} {at}": text for at, text in enumerate(texts, 1)}


def _pairs(was: Mapping[str, str], now: Mapping[str, str]) -> Iterator[tuple[str, str, str]]:
    for key in (*now, *(key for key in was if key not in now)):
        yield key, was.get(key, ""), now.get(key, "")
