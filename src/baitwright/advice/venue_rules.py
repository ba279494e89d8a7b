"""What a water allows, held against what is planned for it; nothing is blocked, all is told."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from baitwright.quantities import show

NEARLY = 0.9
"""From this share of what is allowed on, an amount is close to it (judgement)."""
BANNED, ALLOWED = "banned", "allowed"
OWN_ONLY, PREPARED_ONLY = "the fishery's own only", "prepared only"
HOOKBAITS_ONLY, BY_PERMIT = "hookbaits only", "by permit"


class Verdict(StrEnum):
    """What comes of a rule and what is planned."""

    BREAKS = "breaks"
    NEARLY = "close to it"
    LOOK = "look yourself"
    UNKNOWN = "not known"
    KEEPS = "keeps"


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterRules:
    """The rules of one water; None or nothing where nobody wrote them down.

    ``banned`` are words for baits and ingredients, ``free_bait_most`` is what goes in on one
    session [kg].
    """

    name: str
    nuts: str | None = None
    particles: str | None = None
    banned: tuple[str, ...] | None = None
    free_bait_most: float | None = None
    floating_baits: str | None = None
    lead: str | None = None
    barbed_hooks: str | None = None
    rigs: str | None = None
    rods_most: int | None = None
    night_fishing: str | None = None
    permit: str | None = None
    permit_until: date | None = None
    biosecurity: str | None = None
    checked: date | None = None
    source: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """What is to be taken to a water, as far as it is known; None where it is not.

    ``nuts`` and ``particles`` name what of the bait is or holds them, ``perhaps_nuts`` what may;
    ``holds`` are words for all that is in the bait and done to it. ``free_bait`` is how much goes
    in: low, middle and high [kg].
    """

    what: str
    nuts: tuple[str, ...] | None = None
    perhaps_nuts: tuple[str, ...] = ()
    particles: tuple[str, ...] | None = None
    holds: tuple[str, ...] | None = None
    untold: tuple[str, ...] = ()
    free_bait: tuple[float, float, float] | None = None
    floats: bool | None = None
    lead: bool | None = None
    rods: int | None = None
    night: bool | None = None
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule: what it is about, what comes of it, what it says and what was found."""

    about: str
    verdict: Verdict
    rule: str
    found: str


def check(rules: WaterRules, session: Session) -> tuple[Finding, ...]:
    """Every rule with what was found, broken ones first; rules that nobody told say so."""
    found = [one for rule in _EVERY for one in rule(rules, session)]
    order = list(Verdict)
    return tuple(sorted(found, key=lambda one: order.index(one.verdict)))


def broken(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Those that break a rule or come close to it."""
    return tuple(one for one in findings if one.verdict in (Verdict.BREAKS, Verdict.NEARLY))


def _nuts(rules: WaterRules, session: Session) -> Iterator[Finding]:
    told = _told("nuts", rules.nuts)
    if rules.nuts is None or session.nuts is None:
        yield _open("nuts", rules.nuts, "nobody knows all that is in the bait")
    elif rules.nuts == ALLOWED:
        yield Finding("nuts", Verdict.KEEPS, told, _listed(session.nuts, "none in the bait"))
    elif session.nuts:
        yield Finding("nuts", Verdict.BREAKS, told, _listed(session.nuts, ""))
    elif session.perhaps_nuts or session.untold:
        words = _listed(session.perhaps_nuts, "")
        dark = f"not known what is in {', '.join(session.untold)}" if session.untold else ""
        found = "; ".join(filter(None, (f"perhaps in {words}" if words else "", dark)))
        yield Finding("nuts", Verdict.LOOK, told, found)
    else:
        yield Finding("nuts", Verdict.KEEPS, told, "none in the bait")


def _particles(rules: WaterRules, session: Session) -> Iterator[Finding]:
    told = _told("particles", rules.particles)
    if rules.particles is None or session.particles is None:
        yield _open("particles", rules.particles, "nobody knows all that is in the bait")
    elif not session.particles or rules.particles == ALLOWED:
        found = _listed(session.particles, "none in the bait")
        yield Finding("particles", Verdict.KEEPS, told, found)
    elif rules.particles == PREPARED_ONLY:
        found = f"{_listed(session.particles, '')}: soaked and boiled?"
        yield Finding("particles", Verdict.LOOK, told, found)
    else:
        yield Finding("particles", Verdict.BREAKS, told, _listed(session.particles, ""))


def _banned(rules: WaterRules, session: Session) -> Iterator[Finding]:
    if rules.banned is None or session.holds is None:
        told = None if rules.banned is None else ", ".join(rules.banned)
        yield _open("baits", told, "nobody knows what is in it")
        return
    for word in rules.banned:
        hit = [one for one in session.holds if _alike(word, one)]
        told = f"banned: {word}"
        if hit:
            yield Finding("baits", Verdict.BREAKS, told, _listed(tuple(hit), ""))
        elif session.untold:
            found = f"not named, but not known what is in {', '.join(session.untold)}"
            yield Finding("baits", Verdict.LOOK, told, found)
        else:
            yield Finding("baits", Verdict.KEEPS, told, "nothing of that name")


def _free_bait(rules: WaterRules, session: Session) -> Iterator[Finding]:
    most = rules.free_bait_most
    rule = None if most is None else f"{show(most, 'kg')} at most for an outing"
    if most is None or rule is None or session.free_bait is None:
        yield _open("free bait", rule, "how much goes in was not told")
        return
    low, middle, high = session.free_bait
    found = show(middle, "kg")
    if high > low:
        found = f"{found} ({show(low, 'kg')} to {show(high, 'kg')})"
    verdict = Verdict.KEEPS
    if middle > most:
        verdict = Verdict.BREAKS
    elif high > most or middle >= NEARLY * most:
        verdict = Verdict.NEARLY
    yield Finding("free bait", verdict, rule, found)


def _floating(rules: WaterRules, session: Session) -> Iterator[Finding]:
    told = _told("floating baits", rules.floating_baits)
    if rules.floating_baits is None or session.floats is None:
        yield _open("floating baits", rules.floating_baits, "whether it floats was not told")
        return
    found = "a hookbait that floats" if session.floats else "none that floats"
    breaks = session.floats and rules.floating_baits == BANNED
    yield Finding("floating baits", Verdict.BREAKS if breaks else Verdict.KEEPS, told, found)


def _lead(rules: WaterRules, session: Session) -> Iterator[Finding]:
    told = _told("lead", rules.lead)
    if rules.lead is None or session.lead is None:
        yield _open("lead", rules.lead, "whether there is lead was not told")
        return
    breaks = session.lead and rules.lead == BANNED
    found = "lead in the box" if session.lead else "no lead in the box"
    yield Finding("lead", Verdict.BREAKS if breaks else Verdict.KEEPS, told, found)


def _rods(rules: WaterRules, session: Session) -> Iterator[Finding]:
    most = rules.rods_most
    rule = None if most is None else f"{most} at most"
    if most is None or rule is None or session.rods is None:
        yield _open("rods", rule, "how many was not told")
        return
    verdict = Verdict.BREAKS if session.rods > most else Verdict.KEEPS
    yield Finding("rods", verdict, rule, str(session.rods))


def _night(rules: WaterRules, session: Session) -> Iterator[Finding]:
    told = _told("night fishing", rules.night_fishing)
    if rules.night_fishing is None or session.night is None:
        yield _open("night fishing", rules.night_fishing, "whether by night was not told")
        return
    found = "by night" if session.night else "by day"
    verdict = Verdict.KEEPS
    if session.night and rules.night_fishing == BANNED:
        verdict = Verdict.BREAKS
    elif session.night and rules.night_fishing == BY_PERMIT:
        verdict = Verdict.LOOK
    yield Finding("night fishing", verdict, told, found)


def _permit(rules: WaterRules, session: Session) -> Iterator[Finding]:
    if rules.permit is None and rules.permit_until is None:
        yield _open("permit", None, "")
        return
    until = rules.permit_until
    told = "; ".join(filter(None, (rules.permit, f"until {until}" if until else "")))
    if until is None or session.day is None:
        yield Finding("permit", Verdict.LOOK, told, "look whether you have it with you")
    elif session.day > until:
        yield Finding("permit", Verdict.BREAKS, told, f"out of date on {session.day}")
    else:
        yield Finding("permit", Verdict.KEEPS, told, f"good on {session.day}")


def _spoken(
    about: str, of: Callable[[WaterRules], str | None]
) -> Callable[[WaterRules, Session], Iterator[Finding]]:
    """A rule that only eyes can check."""

    def rule(rules: WaterRules, session: Session) -> Iterator[Finding]:
        told = of(rules)
        if told is None:
            yield _open(about, None, "")
        else:
            verdict = Verdict.KEEPS if told == ALLOWED else Verdict.LOOK
            yield Finding(about, verdict, told, "not told by plan or record")

    return rule


_EVERY: tuple[Callable[[WaterRules, Session], Iterator[Finding]], ...] = (
    *(_nuts, _particles, _banned, _free_bait, _floating, _lead),
    _spoken("barbed hooks", lambda rules: rules.barbed_hooks),
    _spoken("rigs", lambda rules: rules.rigs),
    *(_rods, _night, _permit),
    _spoken("biosecurity", lambda rules: rules.biosecurity),
)


def _told(about: str, rule: str | None) -> str:
    return f"{about}: no rule is written down here; ask the owner" if rule is None else rule


def _open(about: str, rule: str | None, lacks: str) -> Finding:
    """A rule that is not known, or one that cannot be held against anything."""
    verdict = Verdict.UNKNOWN if rule is None else Verdict.LOOK
    return Finding(about, verdict, _told(about, rule), "" if rule is None else lacks)


def _listed(names: tuple[str, ...], none: str) -> str:
    return ", ".join(names) or none


def _alike(word: str, held: str) -> bool:
    """Whether a banned word stands among the words of something; one more s makes no difference."""
    wanted = {_plain(one) for one in word.lower().replace("-", " ").split()}
    return wanted <= {_plain(one) for one in held.lower().replace("-", " ").split()}


def _plain(word: str) -> str:
    return word.strip(".,;()").removesuffix("s")
