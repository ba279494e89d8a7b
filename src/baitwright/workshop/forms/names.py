"""Names of records: on one line, nothing hidden in them, and no two that read alike; found by."""

from __future__ import annotations

from unicodedata import normalize

from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.nearest import alike as reads_as

LONGEST_NAME = 80


def as_kept(page: Page, kind: str, name: str) -> str:
    """A record's name as the notebook has it, however it was capitalised; else as it was typed.

    Raises
    ------
    InputError: several names differ from it in capitals only.
    """
    told = normalize("NFC", name).strip()
    if page.latest(kind, told) is not None:
        return told
    found = [one for one in page.names(kind) if one.casefold() == told.casefold()]
    if len(found) > 1:
        raise InputError(kind, name, f"one of these, capitals too: {', '.join(found)}")
    return found[0] if found else told


def fair_name(page: Page, kind: str, name: str) -> str:
    """A record's name without spaces around it; one that stands already is itself.

    Parameters
    ----------
    page: the notebook's.
    kind: of the record.
    name: as it was typed.

    Raises
    ------
    InputError: no name, a hidden character, too long, or one that reads like another's; the message
        tells the name that stands there.
    """
    told = normalize("NFC", name).strip()
    if not told.isprintable() or not 0 < len(told) <= LONGEST_NAME:
        accepted = f"a name on one line of up to {LONGEST_NAME} characters"
        raise InputError(f"{kind}'s name", name, accepted)
    if page.latest(kind, told) is not None:
        return told
    alike = [one for one in page.names(kind) if reads_as(one) == reads_as(told)]
    if alike:
        accepted = f"{alike[0]!r}, which stands there, or a name that does not read like it"
        raise InputError(f"{kind}'s name", name, accepted)
    return told
