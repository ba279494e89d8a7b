"""What the program needs may be handed on with it, and what may not is for tests only."""

from __future__ import annotations

import re

import pytest
from packaging.utils import canonicalize_name

from tests.architecture.declared import locked, of_one_python
from tests.licences import ALLOWED, KNOWN_EXTRAS, REPORT, Licensed, licences, scopes

EVERY = licences()
TEXT = REPORT.read_text(encoding="utf-8")
ROWS = dict(re.findall(r"^\| ([\w-]+) \| ([\w.]+) \| [^|]+ \| [^|]+ \|$", TEXT, flags=re.MULTILINE))


def is_allowed(licence: str) -> bool:
    """Whether all parts of an expression are, or one of those that may be chosen."""
    return any(
        all(part.strip("() ") in ALLOWED for part in choice.split(" AND "))
        for choice in licence.split(" OR ")
    )


@pytest.mark.parametrize(
    ("licence", "allowed"),
    [
        ("MIT", True),
        ("GPL-3.0", False),
        ("MIT AND GPL-3.0", False),
        ("GPL-2.0 OR MIT", True),
        ("Apache-2.0 WITH LLVM-exception", True),
        ("not told", False),
    ],
)
def test_an_expression_is_read_as_it_is_meant(licence: str, allowed: bool) -> None:
    assert is_allowed(licence) is allowed


def test_what_the_program_needs_has_an_allowed_licence() -> None:
    needed = [one for one in EVERY if one.scope == "program"]
    assert len(needed) > 20
    assert not [one for one in needed if not is_allowed(one.licence) or one.is_copyleft]


def test_what_an_extra_adds_has_one_or_is_known() -> None:
    odd = {
        one.name: one.licence
        for one in EVERY
        if one.scope == "extra" and not is_allowed(one.licence)
    }
    assert odd == KNOWN_EXTRAS


def test_every_licence_is_told() -> None:
    assert not [one for one in EVERY if one.licence == "not told"]
    assert Licensed("any", "1", "GPL-3.0", "test").is_copyleft
    assert not Licensed("any", "1", "MIT", "test").is_copyleft


def test_the_report_is_of_the_lock() -> None:
    """Versions by the lock; those of other systems and Pythons are not installed here."""
    there = {canonicalize_name(name) for names in scopes().values() for name in names}
    there -= of_one_python("dev.txt")
    lock = {name: version for name, version in locked("dev.txt").items() if name in there}
    assert {name: ROWS.get(name) for name in lock} == lock, "python make.py nightly licences"
