"""A few rolls that prove a mended mix, as parts of an answer."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.materials.factors import factor_priors
from baitwright.quantities import percent, show
from baitwright.sheets.wording import Figure, count_of, figure
from baitwright.uncertainty.bands import band_of
from baitwright.workshop.mending.mend_made import StandIn
from baitwright.workshop.told.answer_parts import Grid, Large, Part, said

_UPTAKE = (
    "No table tells how much more or less a mix takes up: what is predicted is the old one's dry "
    "mix per egg, and as unsure as that of a mix nobody has rolled."
)


def roll_parts(made: StandIn) -> Iterator[Part]:
    """The rolls, what to weigh for them, and when to say yes."""
    rolls = made.rolls
    heads = ("", "dry mix", "paste")
    rows = tuple(
        (said(one.mix, one.why), figure(one.dry_mix), figure(one.paste)) for one in rolls.rolls
    )
    weigh = tuple((said(name), figure(one)) for name, one in made.weigh)
    yield Part(
        "Roll before you trust it",
        lines=(_UPTAKE,),
        large=(Large("Eggs for the test", Figure(count_of(rolls.eggs, "egg"), "")),),
        grids=(
            Grid("One egg each", heads, rows),
            Grid(f"To weigh for {figure(rolls.new_mix).text} of new mix", ("", ""), weigh),
        ),
        steps=tuple(_steps(made)),
    )
    yield Part("Say yes when", points=tuple(_yes(made)))


def _steps(made: StandIn) -> Iterator[str]:
    egg = figure(made.after.made.bowl.egg).text
    yield f"Beat the eggs together and share them out by weight: {egg} to a roll"
    yield "Weigh each roll's dry mix in a cup before and after; what is gone is what it took up"
    yield "Liquids, order and rest as ever. Roll twenty of your usual size of each; count cracks"
    yield "Weigh twenty fresh ones together; push one under in a tared cup and read the rise"
    yield "Boil for the seconds you know, and cut one of each open at once"
    yield "Dry them beside each other; weigh the same twenty after 8 h"
    yield "Lay one of each in a clear jar of cold water overnight"
    if not any(one.mix == made.before.asked.told.base.name for one in made.rolls.rolls):
        yield "No old mix is left to roll: set the readings beside your last record of it"


def _yes(made: StandIn) -> Iterator[str]:
    band = band_of(made.after.made.bowl.dry_mix)
    low, high = show(band.low80, "g"), show(band.high80, "g")
    near = percent(factor_priors()["paste_density"].log_sd)
    yield (
        "one of its rolls neither sticks nor cracks; what that one took up is the dry mix per egg "
        f"from now on ({low} to {high} was to be expected)"
    )
    yield f"twenty of it weigh as twenty of the old within {near}, fresh and after 8 h [judgement]"
    yield "the one cut open has set to the middle in the old seconds"
    yield "in the jar in the morning it does what the old one does, and has not split"
    yield (
        "If none rolls, go on by 5 g of mix; if they roll and weigh otherwise, plan size and core "
        "anew; if the middle is soft, boil longer or put more hardener on top."
    )
