"""A person in the words of records: found, and overwritten by the code where that is wished."""

from __future__ import annotations

import json
from collections.abc import Iterable
from contextlib import suppress
from datetime import UTC, datetime

from baitwright.notebook.merging import LOCAL
from baitwright.notebook.overwriting import Overwriting, Overwritten, overwrite
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import PLAN
from baitwright.workshop.copies.known_bodies import is_well_shaped
from baitwright.workshop.forms.form import WRITTEN
from baitwright.workshop.recipes.recipe_shelf import KIND as RECIPE
from baitwright.workshop.strip.bench_strip import STRIP

TELLING = 4
"""Shorter words than so many letters stand anywhere (judgement)."""
_WHOLE = (RECIPE, PLAN, STRIP, *LOCAL)
"""A recipe is a file to the letter, of which batches say the version: it is purged or kept anew."""
Found = tuple[tuple[str, str], ...]


class _LookedAtError(Exception):
    """Takes back what was written to look at it."""


def overwriting(words: Iterable[str], code: str) -> Overwriting:
    """Words that a person's code is to overwrite.

    Raises
    ------
    InputError: too short ones, or such as stand in every code.
    """
    told = tuple(dict.fromkeys(" ".join(word.split()) for word in words))
    for word in told:
        is_plain = word.isprintable() and not set(word) & set('"\\')
        if len(word) < TELLING or not is_plain or word.casefold() in code:
            accepted = f"whole words of {TELLING} letters or more, such as a surname"
            raise InputError("overwrite", word, accepted)
    return Overwriting(
        told, code, lambda kind, body: kind not in _WHOLE and is_well_shaped(kind, body)
    )


def look(book: Notebook, code: str, told: Overwriting) -> tuple[tuple[Overwritten, ...], Found]:
    """What would be overwritten, and in whose words the person would stand then.

    It is written to be looked at, and taken back.
    """
    changed: list[Overwritten] = []
    named: list[tuple[str, str]] = []
    with suppress(_LookedAtError), book.writing() as page:
        changed = overwrite(page.connection, told, time=datetime.fromtimestamp(0, UTC))
        named = named_in(page, code, told.words)
        raise _LookedAtError
    return tuple(one for one in changed if f", {WRITTEN}" not in one.where), tuple(named)


def named_in(page: Page, code: str, words: Iterable[str] = ()) -> list[tuple[str, str]]:
    """Records that have something in their own words that only this person's entry should say.

    Parameters
    ----------
    page: to read from.
    code: the person's.
    words: that are theirs too.
    """
    written = (page.persons()[code] or {}).get(WRITTEN, {})
    told = f"{written.get('name', '')} {written.get('address', '')}".split()
    told = [*(word.strip(",.;:()") for word in told), *words]
    told += filter(None, (written.get("phone"), written.get("mail")))
    telling = sorted({word for word in told if len(word) >= TELLING})
    book = {
        entry: " ".join(one.override for one in lines).casefold()
        for entry, lines in page.entries().items()
    }
    found: list[tuple[str, str]] = []
    for word in telling:
        found += page.holding(word)
        there = (entry for entry, words in book.items() if word.casefold() in words)
        found += (("the shelf's book, entry", str(entry)) for entry in there)
        found += (("the trace of", supply) for supply in page.supplies_with(word))
        others = page.persons().items()
        found += (
            ("the entry of", other)
            for other, body in others
            if other != code and word.casefold() in json.dumps(body, ensure_ascii=False).casefold()
        )
    return list(dict.fromkeys(found))
