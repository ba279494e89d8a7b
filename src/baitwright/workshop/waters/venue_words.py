"""What a water's rules say of what is planned, in lines and for programs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from baitwright.advice.venue_rules import Finding, Verdict
from baitwright.workshop.waters.venue import Held

DECIDES = "Nothing is blocked: the owner of the water decides, and this may be out of date."
_SIGNS = {
    Verdict.BREAKS: "!",
    Verdict.NEARLY: "!",
    Verdict.LOOK: "?",
    Verdict.UNKNOWN: "?",
    Verdict.KEEPS: "-",
}


def headline(held: Held) -> str:
    """What comes of all rules, in one line."""
    many = [one.about for one in held.findings if one.verdict is Verdict.BREAKS]
    near = [one.about for one in held.findings if one.verdict is Verdict.NEARLY]
    open_ = [one.about for one in held.findings if one.verdict is Verdict.UNKNOWN]
    if held.rules is None:
        return (
            f"No rules of {held.water} are written down: ask its owner, then "
            f'baitwright record water "{held.water}"'
        )
    said = [f"breaks {_of('rule', many)}: {', '.join(many)}"] if many else []
    said += [f"close to {_of('rule', near)}: {', '.join(near)}"] if near else []
    said += [] if many or near else ["no rule that is written down is broken"]
    said += [f"not known: {', '.join(open_)}"] if open_ else []
    return f"{held.what} at {held.water}: {'; '.join(said)}."


def where_from(held: Held) -> str:
    """When and where the rules were read."""
    if held.rules is None:
        return DECIDES
    day = "on a day nobody told" if held.rules.checked is None else f"on {held.rules.checked}"
    source = held.rules.source or "a place nobody told"
    return f"Rules read {day}, from {source}. {DECIDES}"


def finding_words(one: Finding) -> str:
    """One rule with what comes of it."""
    return f"{one.verdict}: {rule_words(one)}"


def rule_words(one: Finding) -> str:
    """One rule with what was found."""
    if one.verdict is Verdict.UNKNOWN:
        return one.rule
    return f"{one.about}: {one.rule}. Found: {one.found}"


def venue_lines(held: Held, *, every: bool = True) -> Iterator[str]:
    """The rules in lines; those that are broken or nearly so alone, where not all are wanted."""
    yield headline(held)
    if held.rules is None:
        return
    for one in held.findings if every else held.broken:
        yield f"  {_SIGNS[one.verdict]} {finding_words(one)}"
    yield f"  {where_from(held)}"


def venue_json(held: Held) -> dict[str, Any]:
    """The same for programs."""
    rules = held.rules
    checked = None if rules is None or rules.checked is None else rules.checked.isoformat()
    return {
        "water": held.water,
        "what": held.what,
        "is_written_down": rules is not None,
        "checked_on": checked,
        "source": None if rules is None else rules.source,
        "rules": [
            {"about": one.about, "verdict": one.verdict, "rule": one.rule, "found": one.found}
            for one in held.findings
        ],
    }


def _of(word: str, several: list[str]) -> str:
    return f"a {word}" if len(several) == 1 else f"{len(several)} {word}s"
