"""The form of a plan: what matters first and open, everything else in groups that wait closed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from baitwright.workshop.forms.asked_fields import Asked, Group
from baitwright.workshop.plans.plan_told import PlanTold
from baitwright.workshop.plans.plan_words import LABELS, bare

_BAIT = ("name", "bait.kind", "bait.diameter", "bait.core.diameter")
_EGG = ("eggs[].count", "eggs[].grade", "eggs[].shell", "eggs[].contents")
_MIX = ("base.name", "tub.mass")
_LIQUID = ("liquid[].name", "liquid[].level", "liquid[].carrier")
_LEAVING = ("leaving",)
_OPEN = frozenset((*_BAIT, *_MIX, *_LEAVING))


@dataclass(frozen=True, slots=True)
class Row:
    """One of several alike: what matters of it, and the rest."""

    name: str
    title: str
    first: tuple[Asked, ...]
    rest: tuple[Asked, ...]
    is_blank: bool


@dataclass(frozen=True, slots=True)
class PlanForm:
    """The fields of a plan in the order in which a maker thinks of them."""

    bait: tuple[Asked, ...]
    eggs: tuple[Row, ...]
    mix: tuple[Asked, ...]
    liquids: tuple[Row, ...]
    leaving: tuple[Asked, ...]
    others: tuple[Group, ...]

    @property
    def whole(self) -> Group:
        """All its fields in one group, to find the one an error is about."""
        rows = (one for row in (*self.eggs, *self.liquids) for one in (*row.first, *row.rest))
        fields = (*self.bait, *rows, *self.mix, *self.leaving)
        return Group("", "", "", fields, self.others)


def refilled(form: PlanForm, pairs: Iterable[tuple[str, str]]) -> PlanForm:
    """A form with what was typed in it to the letter, where what was typed makes no table."""
    typed = dict(pairs)

    def fields(told: tuple[Asked, ...]) -> tuple[Asked, ...]:
        return tuple(replace(one, value=typed.get(one.name, one.value)) for one in told)

    def rows(told: tuple[Row, ...]) -> tuple[Row, ...]:
        return tuple(replace(row, first=fields(row.first), rest=fields(row.rest)) for row in told)

    def group(told: Group) -> Group:
        return replace(told, fields=fields(told.fields), groups=tuple(map(group, told.groups)))

    return PlanForm(
        bait=fields(form.bait),
        eggs=rows(form.eggs),
        mix=fields(form.mix),
        liquids=rows(form.liquids),
        leaving=fields(form.leaving),
        others=tuple(map(group, form.others)),
    )


def plan_form(told: PlanTold) -> PlanForm:
    """The form of a plan, filled with what was told."""
    recipe, bench = (_labelled(group) for group in told.groups)
    known = {one.name: one for group in (recipe, bench) for one in group.walk()}
    groups = (*recipe.groups, *bench.groups)
    others = (_without(one) for one in groups if not one.name.startswith(("eggs[", "liquid[")))
    single = [one for one in recipe.fields if one.name not in _OPEN]
    kitchen = [one for one in bench.fields if one.name not in _OPEN]
    return PlanForm(
        bait=_these(known, _BAIT),
        eggs=tuple(_rows(groups, "eggs[", _EGG)),
        mix=_these(known, _MIX),
        liquids=tuple(_rows(groups, "liquid[", _LIQUID)),
        leaving=_these(known, _LEAVING),
        others=(
            *(one for one in others if one.fields or one.groups),
            Group("kitchen", "Kitchen and shelf", "", tuple(kitchen)),
            Group("recipe", "Of the recipe", "", tuple(single)),
        ),
    )


def _these(known: dict[str, Asked], names: Iterable[str]) -> tuple[Asked, ...]:
    return tuple(known[name] for name in names)


def _rows(groups: Iterable[Group], start: str, first: tuple[str, ...]) -> Iterator[Row]:
    for group in groups:
        if group.name.startswith(start):
            shown = {bare(one.name): one for one in group.walk()}
            rest = tuple(one for name, one in shown.items() if name not in first)
            waits = group.is_blank and group.name != "eggs[1]"  # without eggs there is no plan
            yield Row(group.name, group.title, _these(shown, first), rest, waits)


def _without(group: Group) -> Group:
    """A group without the fields that stand open already."""
    fields = tuple(one for one in group.fields if one.name not in _OPEN)
    return replace(group, fields=fields, groups=tuple(map(_without, group.groups)))


def _labelled(group: Group) -> Group:
    fields = tuple(
        replace(one, label=LABELS.get(bare(one.name), one.label)) for one in group.fields
    )
    return replace(group, fields=fields, groups=tuple(map(_labelled, group.groups)))
