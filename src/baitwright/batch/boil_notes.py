"""What the plan remarks on about the boil: bacteria, the quench, mixes that set on their own."""

from __future__ import annotations

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.boil import BoilStage, air_share
from baitwright.batch.setting import on_milk_protein
from baitwright.physics.food import Composition
from baitwright.quantities import show
from baitwright.recipe.bench import Bench
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.bands import band_of

_ENOUGH = 7.0
"""Powers of ten below which the plan says so: what regulators ask of cooked meat."""
_STILL_BOILS = 368.15
"""Below 95 C a pot no longer boils its baits (judgement), K."""
_WATER = (0.15, 0.90)
"""Shares of water that foods had on which the rules for heat in a paste were tried (judgement)."""
_AIR = 0.20
"""Air above which it lies in no small pores any more (judgement)."""
_FILM = (0.008, 0.040)
"""Diameters for which the film in boiling water was bracketed by correlations, m."""


def on_boil(plan: BatchPlan) -> list[Note]:
    """Every remark on the boil."""
    recipe, boiled = plan.request.recipe, plan.boil
    return [
        *beyond_the_rules(
            boiled.bait.make_up,
            air=air_share(plan.rolled.bait),
            diameters=(recipe.bait.diameter,),
        ),
        *_on_load(boiled),
        *_on_quench(boiled, plan.request.bench),
        *_on_bacteria(boiled),
        *on_milk_protein(recipe, boiled.protein, boiled.cooled.whey),
    ]


def _on_load(boiled: BoilStage) -> list[Note]:
    """A pot that its basket cools too far to count as boiling."""
    dips = float(unwrap(boiled.dips_to.value))
    if dips >= _STILL_BOILS:
        return []
    text = (
        f"One basket cools the pot to {show(dips, 'C')}: smaller loads, more water or more heat "
        "keep it at the boil."
    )
    return [Note("boil", text, "incropera-dewitt", Weight.DOUBT)]


def beyond_the_rules(
    make_up: Composition, *, air: float, diameters: tuple[float, ...]
) -> list[Note]:
    """Where paste or size lie outside what the rules for heat were made for."""
    doubts = []
    water = float(make_up.water)
    if not _WATER[0] <= water <= _WATER[1]:
        doubts.append(
            f"the paste holds {show(water, '%')} water, outside the {show(_WATER[0], '%')} to "
            f"{show(_WATER[1], '%')} of the foods these rules were tried on"
        )
    if air > _AIR:
        doubts.append(f"{show(air, '%')} of it is air, more than lies in small pores")
    strange = [one for one in diameters if not _FILM[0] <= one <= _FILM[1]]
    if strange:
        sizes = " and ".join(dict.fromkeys(show(one, "mm") for one in (strange[0], strange[-1])))
        doubts.append(
            f"{sizes} lies outside the {show(_FILM[0], 'mm')} to {show(_FILM[1], 'mm')} that heat "
            "transfer in the pot was worked out for"
        )
    if not doubts:
        return []
    text = f"Seconds beyond the rules they come from: {'; '.join(doubts)}. Cut one open."
    return [Note("boil", text, "choi-okos-1986", Weight.DOUBT)]


def _on_quench(boiled: BoilStage, bench: Bench) -> list[Note]:
    if bench.pot.quench is None:
        return []
    gained = float(unwrap(boiled.peak.value)) - float(unwrap(boiled.when_lifted.value))
    text = (
        f"Dropped into {bench.pot.quench} the coldest paste gains {gained:.0f} K more after the "
        "pot; the advised time does not count on what is gained in air."
    )
    return [Note("boil", text, "crank-1975")]


def _on_bacteria(boiled: BoilStage) -> list[Note]:
    """Lethality is information: it decides nothing and promises nothing."""
    notes = []
    fallen = band_of(boiled.decades)
    if fallen.low80 < _ENOUGH:
        text = (
            f"When lifted out, salmonella of wet egg have fallen by {fallen.low80:.1f} powers of "
            f"ten in the coldest paste of one bait in ten, fewer than {_ENOUGH:.0f}. Longer in "
            "the pot, or a smaller bait."
        )
        notes.append(Note("boil", text, "doyle-mazzotta-2000", Weight.CAUTION))
    minutes = show(float(unwrap(boiled.spores.value)), "min", 2)
    text = (
        f"Spores live through a bait's boil: it does to them what {minutes} at 90 °C would, and "
        "ten minutes are asked of chilled food, more where egg white is. A moist bait is "
        "perishable. Powers of ten are for wet egg, not for dry dust on the crust."
    )
    notes.append(Note("boil", text, "fsa-vacuum-packing"))
    return notes
