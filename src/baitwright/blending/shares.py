"""What a dry mix is made of by class: binder, coarse, soluble and the rest; and what sets it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from baitwright.blending.blend import part_brings, summed
from baitwright.blending.components import Component
from baitwright.materials.powders import ROLES, Ingredient
from baitwright.materials.proteins import protein_kinds
from baitwright.materials.sieves import retention
from baitwright.terms.quantity import Quantity, declared, given, tabled
from baitwright.terms.units import PERCENT

_DAIRY = ("whey", "casein", "milk")
GELS_COLD = "gelatine"


@declared(
    "class_share",
    label="share of the dry mix",
    unit=PERCENT,
    equation="the sum over its members",
    source="definition",
)
def class_share(**members: Any) -> Any:
    """What ingredients of one class make up of the mix."""
    return sum(members.values())


@declared(
    "protein_that",
    label="protein of the dry mix by how it binds",
    unit=PERCENT,
    equation="share x protein x share of that protein",
    source="jelen-rattray",
)
def protein_that(share: Any, protein: Any, of_protein: Any) -> Any:
    """Protein of one part that sets, gels or takes up water."""
    return share * protein * of_protein


@dataclass(frozen=True, slots=True)
class Binding:
    """Protein of the dry mix by how it binds, as shares of the mix.

    ``setting`` sets by heat (egg and whey), ``hydrating`` takes up water (casein, gluten), and
    ``gelling`` melts in the pot and gels when cold (gelatine).
    """

    setting: Quantity
    hydrating: Quantity
    gelling: Quantity


def by_class(parts: Sequence[Component]) -> Mapping[str, Quantity] | None:
    """Every class that has members, by name; None where not all of the mix can be taken apart."""
    if any(one.row is None for one in parts):
        return None
    found = {role: share_of(parts, partial(_is_of, role)) for role in ROLES}
    return {role: share.labelled(f"{role} part") for role, share in found.items() if share}


def _is_of(role: str, row: Ingredient) -> bool:
    return row.role == role


def share_of(parts: Iterable[Component], belongs: Callable[[Ingredient], bool]) -> Quantity | None:
    """What ingredients of a kind make up of the mix; none where there are none of it."""
    members = {
        f"part_{at}": one.share
        for at, one in enumerate(parts, start=1)
        if one.row is not None and belongs(one.row)
    }
    return class_share(**members) if members else None


def coarse_grains(parts: Sequence[Component]) -> Quantity:
    """What a sieve of 1 mm would still hold of the mix: grains, whatever their class."""
    brought = {
        f"part_{at}": part_brings(share=one.share, figure=_grains(one)).labelled(
            f"grains over 1 mm from {one.name}"
        )
        for at, one in enumerate(parts, start=1)
    }
    return summed(brought, "grains over 1 mm in the dry mix", PERCENT)


def _grains(one: Component) -> Quantity:
    row = retention(one.row)
    label = f"grains over 1 mm in {one.name}"
    return given("over_1_mm", row.fraction, label=label, unit=PERCENT, backing=tabled(row))


def binding_of(parts: Sequence[Component]) -> Binding | None:
    """Protein by how it binds; None where not all of the mix can be taken apart."""
    if any(one.row is None for one in parts):
        return None
    ways: dict[str, dict[str, Quantity]] = {way: {} for way in ("setting", "hydrating", "gelling")}
    for at, one in enumerate(parts, start=1):
        kind = None if one.row is None else protein_kinds().get(one.row.id)
        if kind is None or "protein" not in one.figures:
            continue
        gels = kind.kind == GELS_COLD
        shares = {
            "setting": kind.setting,
            "hydrating": 0.0 if gels else kind.hydrating,
            "gelling": kind.hydrating if gels else 0.0,
        }
        for way, share in shares.items():
            if share:
                told = given(
                    f"protein_{way}",
                    share,
                    label=f"of the protein of {one.name}, {way}",
                    unit=PERCENT,
                    backing=tabled(kind),
                )
                ways[way][f"part_{at}"] = protein_that(
                    share=one.share, protein=one.figures["protein"], of_protein=told
                ).labelled(f"{way} protein from {one.name}")
    words = {
        "setting": "sets by heat",
        "hydrating": "binds by taking up water",
        "gelling": "gels when cold",
    }
    return Binding(
        **{
            way: summed(found, f"protein of the dry mix that {words[way]}", PERCENT)
            for way, found in ways.items()
        }
    )


def dairy_share(parts: Iterable[Component]) -> float:
    """Milk powders, whey and caseins as a share of the mix."""
    kinds = protein_kinds()
    return sum(
        float(one.share.value)
        for one in parts
        if one.row is not None and one.row.id in kinds and kinds[one.row.id].kind in _DAIRY
    )
