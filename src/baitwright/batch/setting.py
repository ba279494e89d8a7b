"""Why a mix sets hard: protein that sets by heat, and protein that binds by taking up water."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from baitwright.materials.defaults import default
from baitwright.materials.powders import ingredient
from baitwright.materials.proteins import binding, protein_kinds
from baitwright.quantities import percent, show
from baitwright.recipe.base_mix import hardener_on_top
from baitwright.recipe.model import BaseMix, Recipe
from baitwright.terms.evidence import Evidence
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, unwrap
from baitwright.terms.units import PERCENT

_DAIRY = frozenset({"whey", "casein", "milk"})
_ALBUMEN = "egg-albumen"


@declared(
    "protein_of_base",
    label="of it from the base",
    unit=PERCENT,
    equation="share = share in the base / (1 + hardener on top)",
    source="definition",
)
def protein_of_base(in_base: Any, on_top: Any) -> Any:
    """Protein of one kind that the base brings, as a share of the dry mix."""
    return in_base / (1.0 + on_top)


@declared(
    "protein_of_hardener",
    label="of it from the hardener",
    unit=PERCENT,
    equation="share = hardener on top x its setting protein / (1 + hardener on top)",
    source="definition",
)
def protein_of_hardener(in_hardener: Any, on_top: Any) -> Any:
    """Heat-setting protein that the hardener brings, as a share of the dry mix."""
    return on_top * in_hardener / (1.0 + on_top)


@declared(
    "heat_setting",
    label="protein of the dry mix that sets by heat",
    unit=PERCENT,
    equation="share = of the base + of the hardener",
    source="definition",
)
def heat_setting(of_base: Any, of_hardener: Any) -> Any:
    """What of a dry mix sets by heat, beside the egg."""
    return of_base + of_hardener


@dataclass(frozen=True, slots=True)
class BindingProtein:
    """Protein of the dry mix by how it binds; only where the base is known by its parts."""

    setting: Quantity
    of_base: Quantity
    of_hardener: Quantity
    hydrating: Quantity


def binding_protein(recipe: Recipe) -> BindingProtein | None:
    """The dry mix's heat-setting and hydrating protein, or nothing where its parts are unknown."""
    if not recipe.base.parts:
        return None
    on_top = given(
        "hardener_on_top",
        hardener_on_top(recipe.hardener),
        label="hardener, on top of the base",
        unit=PERCENT,
    )
    hard = 0.0 if recipe.hardener is None else _binds(recipe.hardener.ingredient)[0]
    of_base = protein_of_base(in_base=_in_base(recipe.base, 0, "sets by heat"), on_top=on_top)
    of_hardener = protein_of_hardener(
        in_hardener=_share("protein_in_hardener", hard, "protein of the hardener that sets"),
        on_top=on_top,
    )
    hydrating = protein_of_base(
        in_base=_in_base(recipe.base, 1, "binds by taking up water"), on_top=on_top
    )
    return BindingProtein(
        setting=heat_setting(of_base=of_base, of_hardener=of_hardener),
        of_base=of_base,
        of_hardener=of_hardener,
        hydrating=hydrating.labelled("protein of the dry mix that binds by taking up water"),
    )


def _in_base(base: BaseMix, way: int, words: str) -> Quantity:
    total = sum(part.share for part in base.parts)
    share = sum(part.share / total * _binds(part.ingredient)[way] for part in base.parts)
    return _share(f"protein_in_base_{way}", share, f"protein of the base that {words}")


def _share(name: str, value: float, label: str) -> Quantity:
    backing = Backing(Origin.TABLE, "jelen-rattray", Evidence.COMPUTED)
    return given(name, value, label=label, unit=PERCENT, backing=backing)


def _binds(name: str) -> tuple[float, float]:
    """Setting and hydrating protein of an ingredient, as shares of its weight."""
    return binding(ingredient(name))


def is_milky(base: BaseMix) -> bool:
    """Whether a base is said to be rich in milk proteins, or holds whey, casein or milk."""
    ids = (ingredient(part.ingredient).id for part in base.parts)
    kinds = protein_kinds()
    return base.milk_protein or any(one in kinds and kinds[one].kind in _DAIRY for one in ids)


def on_milk_protein(
    recipe: Recipe, protein: BindingProtein | None, whey_set: Quantity
) -> list[Note]:
    """Why half the hardener is enough for a base of milk proteins, from what is in it."""
    if not is_milky(recipe.base):
        return []
    milk, ordinary = default("hardener_milk").value, default("hardener_ordinary").value
    usual = f"common practice is {show(milk, '%')} hardener on top of it, not {show(ordinary, '%')}"
    if protein is None:
        text = (
            f"This base is rich in milk proteins: {usual}. Whey sets by heat as egg does and "
            "caseins bind by taking up water; how much of either is in it, its parts would tell."
        )
        return [Note("boil", text, "jelen-rattray")]
    of_base, of_hardener, setting, hydrating = (
        float(unwrap(one.value))
        for one in (protein.of_base, protein.of_hardener, protein.setting, protein.hydrating)
    )
    plain = ordinary * _binds(_ALBUMEN)[0] / (1.0 + ordinary)
    beside, so = _against(setting, plain)
    whey = f"Of whey some {percent(float(unwrap(whey_set.value)))} has set when it is cold. "
    text = (
        f"Of 100 g of this dry mix {_grams(setting)} is protein that sets by heat: "
        f"{_grams(of_base)} in the base and {_grams(of_hardener)} in the hardener, {beside} the "
        f"{_grams(plain)} that {show(ordinary, '%')} albumen on top gives an ordinary base. "
        f"{whey if of_base else ''}Another {_grams(hydrating)} is casein and the like, which binds "
        f"by taking up water and does not set by heat. {so} {usual}."
    )
    return [Note("boil", text, "jelen-rattray")]


def _against(setting: float, plain: float) -> tuple[str, str]:
    """The mix beside an ordinary one, and how that stands to what makers do."""
    if setting < 0.9 * plain:
        return "less than", "So it is the caseins that must make up for it where"
    return "more than" if setting > 1.1 * plain else "as much as", "It fits that"


def _grams(share: float) -> str:
    return show(0.1 * share, "g", 2)
