"""The rules of a water out of the notebook, held against a plan, a bag, or a night."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from baitwright.advice.venue_rules import Finding, Session, WaterRules, broken, check
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.names import as_kept

WATER = "water"
_WORDS = ("nuts", "particles", "floating_baits", "lead", "barbed_hooks", "rigs")
_MORE = ("night_fishing", "permit", "biosecurity", "source")
_NUMBERS = ("free_bait_most", "rods_most")
_DAYS = ("permit_until", "checked")


@dataclass(frozen=True, slots=True)
class Held:
    """A water's rules held against something; ``rules`` is None where no record of it stands."""

    water: str
    what: str
    rules: WaterRules | None
    findings: tuple[Finding, ...]

    @property
    def broken(self) -> tuple[Finding, ...]:
        """What breaks a rule or comes close to it."""
        return broken(self.findings)


def waters(page: Page) -> tuple[str, ...]:
    """The waters of which rules are written down."""
    return tuple(one.name for one in page.all(WATER) if one.body is not None)


def rules_of(page: Page, water: str) -> WaterRules | None:
    """The rules of a water; None where no record of it stands."""
    found = page.latest(WATER, as_kept(page, WATER, water))
    if found is None or found.body is None:
        return None
    body: dict[str, Any] = dict(found.body)
    told: dict[str, Any] = {key: body.get(key) or None for key in (*_WORDS, *_MORE)}
    told |= {key: body.get(key) for key in _NUMBERS}
    told |= {key: date.fromisoformat(body[key]) for key in _DAYS if body.get(key)}
    banned = tuple(body["banned"]) if body.get("banned") else None
    return WaterRules(name=found.name, banned=banned, **told)


def held_against(page: Page, water: str, session: Session) -> Held:
    """A water's rules held against what is to be taken there; all unknown where none are written.

    Raises
    ------
    InputError: no water is named.
    """
    if not water.strip():
        raise InputError("water", None, "the name of a water")
    rules = rules_of(page, water)
    known = WaterRules(name=water) if rules is None else rules
    return Held(known.name, session.what, rules, check(known, session))
