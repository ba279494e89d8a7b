"""Cells that hold words: names, allergen groups, and hazard phrases by their codes."""

from __future__ import annotations

import re

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.label_fields import NONE, PHRASE, PHRASES, allergen_group
from baitwright.workshop.tables.table_file import NOT_STORED

_LONGEST_NAME = 80
_BROKEN = {"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A", NOT_STORED}
_SPLIT = re.compile(r"[;,/|\n]+|\band\b")
_NONE: tuple[list[str], ...] = ([], [NONE], ["-"])


def sound(cell: str) -> str:
    """A cell as it is.

    Raises
    ------
    InputError: it is an error or a formula of the spreadsheet's that has no value.
    """
    if cell in _BROKEN:
        raise InputError("", cell, "a value: save the file once in the spreadsheet program")
    return cell


def name_in(cell: str) -> str:
    """A name on one line.

    Raises
    ------
    InputError: more than one line, or a very long one.
    """
    if not cell.isprintable() or len(cell) > _LONGEST_NAME:
        raise InputError("", cell, f"one line of up to {_LONGEST_NAME} characters")
    return cell


def allergens_in(cell: str) -> str:
    """Allergen groups of EU law by their ids, parted by semicolons; "none" is told, a dash is not.

    Raises
    ------
    InputError: a word that is no group.
    """
    words = [word.strip() for word in _SPLIT.split(cell) if word.strip()]
    if (plain := [word.lower() for word in words]) in _NONE:
        return NONE if plain == [NONE] else ""
    return "; ".join(dict.fromkeys(allergen_group(word) for word in words))


def hazards_in(cell: str) -> str:
    """Hazard phrases of a safety data sheet by their codes, parted by semicolons.

    Raises
    ------
    InputError: something that is no code of a phrase.
    """
    joined = re.sub(r"\s*\+\s*", "+", cell)
    codes = [word for word in re.split(r"[;,|\s]+", joined) if word]
    if [word.lower() for word in codes] in _NONE:
        return ""
    if not all(PHRASE.fullmatch(code) for code in codes):
        raise InputError("", cell, PHRASES)
    return "; ".join(dict.fromkeys(codes))
