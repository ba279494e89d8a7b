"""A food's figures as the analysis a recipe takes, once they sum to what they must."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from baitwright.materials.nutrients import Nutrient
from baitwright.terms.errors import InputError
from baitwright.workshop.tables.food_figures import Figure

DECLARED = ("water", "protein", "fat", "fibre", "ash")
"""What a recipe's analysis takes; carbohydrate is what is left."""
_WHOLE = Decimal(100)
_ACCEPTED, _PREFERRED = Decimal(5), Decimal(3)
"""A sum of measured parts is between 95 and 105 g, better between 97 and 103 g (fao-infoods-2012).
Parts by difference sum to 100 g but for rounding."""
_BEYOND = Decimal("0.5")
"""Shares of an analysis sum to no more than 100 % within half a point of rounding."""


@dataclass(frozen=True, slots=True)
class Food:
    """A food as a table has it: where it stands there, its name and code, and its figures."""

    at: int
    name: str
    code: str
    figures: Mapping[Nutrient, Figure]


@dataclass(frozen=True, slots=True)
class FoodAnalysis:
    """A food's parts in grams in 100 g as it is, the tags they are from, their sum, and remarks."""

    name: str
    code: str
    parts: Mapping[str, Decimal]
    tags: Mapping[str, str]
    total: Decimal | None
    notes: tuple[str, ...]


def analysis_of(food: Food) -> FoodAnalysis:
    """A food's parts, checked.

    Raises
    ------
    InputError: no water and nothing to find it by, or figures that cannot all be true.

    Notes
    -----
    Reference: infoods-tagnames, which parts each carbohydrate is the rest of;
    fao-infoods-2012, how far a sum of measured parts may be from 100 g.
    """
    chosen = _chosen(food)
    figures = {part: figure for part, (_, figure) in chosen.items()}
    notes = [f"{part}: {figure.note}" for part, figure in figures.items() if figure.note]
    notes += [f"{part}: {one.name}" for part, (one, _) in chosen.items() if _odd(one)]
    method = chosen["carbohydrate"][0].method if "carbohydrate" in chosen else ""
    notes += _find_water(figures, method)
    total, remark = _closed(figures, method)
    notes += remark
    _refuse_too_much(figures, method)
    parts = {part: figures[part].grams for part in DECLARED if part in figures}
    missing = [part for part in DECLARED if part not in parts]
    if missing:
        notes.append(f"not told: {', '.join(missing)}; a plan takes a middling mix's")
    tags = {part: one.tag for part, (one, _) in chosen.items() if part in parts}
    return FoodAnalysis(food.name, food.code, parts, tags, total, tuple(notes))


def _chosen(food: Food) -> dict[str, tuple[Nutrient, Figure]]:
    """The best figure of each part."""
    chosen: dict[str, tuple[Nutrient, Figure]] = {}
    for nutrient, figure in sorted(food.figures.items(), key=lambda pair: pair[0].rank):
        if figure.grams - figure.off > _WHOLE:
            raise InputError(nutrient.part, f"{figure.grams:f} g", "100 g in 100 g at most")
        chosen.setdefault(nutrient.part, (nutrient, figure))
    return chosen


def _odd(nutrient: Nutrient) -> bool:
    return nutrient.part != "carbohydrate" and nutrient.rank > 1


def _find_water(figures: dict[str, Figure], method: str) -> list[str]:
    """Water from dry matter, or as the rest of a food whose carbohydrate is by difference."""
    if "water" in figures:
        return []
    if "dry matter" in figures:
        dry = figures["dry matter"]
        figures["water"] = Figure(max(Decimal(0), _WHOLE - dry.grams), dry.off)
        return ["water: the rest of the dry matter"]
    needed = ("protein", "fat", "ash", "carbohydrate", *_extra(method))
    if not method.startswith("difference") or any(part not in figures for part in needed):
        accepted = "WATER or DM, or carbohydrate by difference beside protein, fat and ash"
        raise InputError("water", None, accepted)
    rest = _WHOLE - sum(figures[part].grams for part in needed)
    off = sum((figures[part].off for part in needed), Decimal(0))
    if rest < -off:
        raise InputError("water", f"{rest:f} g left for it", "parts that sum to 100 g at most")
    figures["water"] = Figure(max(Decimal(0), rest), off)
    return ["water: the rest, by difference"]


def _extra(method: str) -> tuple[str, ...]:
    """What is counted beside a carbohydrate that leaves fibre out."""
    return ("fibre",) if method.endswith("without fibre") else ()


def _closed(figures: Mapping[str, Figure], method: str) -> tuple[Decimal | None, list[str]]:
    """The sum of the parts, and remarks; refused where it is not 100 g as its method says."""
    counted = ("water", "protein", "fat", "ash", "carbohydrate", *_extra(method))
    lacking = [part for part in counted if part not in figures]
    if lacking or method == "as sugar":
        why = f"no {' and no '.join(lacking)}" if lacking else "carbohydrate is counted as sugar"
        return None, [f"its sum is not checked: {why}"]
    total = sum((figures[part].grams for part in counted), Decimal(0))
    alcohol = figures["alcohol"].grams if "alcohol" in figures else Decimal(0)
    gap = min((total - _WHOLE, total + alcohol - _WHOLE), key=abs)
    allowed = sum((figures[part].off for part in counted), Decimal(0))
    measured = not method.startswith("difference")
    # Tables set carbohydrate to nothing where the measured parts leave less than that.
    if measured or (figures["carbohydrate"].grams == 0 and gap > 0):
        allowed = max(allowed, _ACCEPTED)
    if abs(gap) > allowed:
        dry = abs(total - figures["water"].grams - _WHOLE) <= _PREFERRED
        hint = "Is it of dry matter? Figures as it is are wanted." if dry else ""
        accepted = f"100 g within {allowed:f} g"
        raise InputError("sum of its parts", f"{total:f} g", accepted, hint=hint)
    loose = abs(gap) > _PREFERRED
    return total, [f"its parts sum to {total:f} g, which is loose"] if loose else []


def _refuse_too_much(figures: Mapping[str, Figure], method: str) -> None:
    if method.endswith("with fibre") and "fibre" in figures:
        fibre, all_of_it = figures["fibre"], figures["carbohydrate"]
        if fibre.grams - fibre.off > all_of_it.grams + all_of_it.off:
            accepted = f"{all_of_it.grams:f} g at most, all its carbohydrate"
            raise InputError("fibre", f"{fibre.grams:f} g", accepted)
    known = sum((figures[part].grams for part in DECLARED if part in figures), Decimal(0))
    if known > _WHOLE + _BEYOND:
        got = f"{known:f} g of {', '.join(part for part in DECLARED if part in figures)}"
        raise InputError("sum of its parts", got, "100 g at most")
