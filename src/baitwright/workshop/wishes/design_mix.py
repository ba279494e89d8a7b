"""A mix designed from a file of wishes: the mix, why it is so, or what clashes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from baitwright.blending.clash import Clash, clash_of
from baitwright.blending.explain import Explanation, explain
from baitwright.blending.looked import Looked, look
from baitwright.blending.rounding import Weighable, weighable
from baitwright.blending.search import Design, design
from baitwright.blending.solver import Ended
from baitwright.blending.sweep import Sweep, sweep
from baitwright.blending.wanted import named, prices
from baitwright.blending.wishes import Goal
from baitwright.sheets.picture_page import picture_page
from baitwright.sheets.picture_prices import prices_picture
from baitwright.sheets.svg import Picture
from baitwright.sheets.text_clash import clash_text
from baitwright.sheets.text_design import explanation_text, looked_text, mix_text, sweep_text
from baitwright.sheets.text_soak import INVENTED
from baitwright.terms.errors import InputError
from baitwright.workshop.told.files import write_together
from baitwright.workshop.wishes.wishes_file import Wanted, read_wishes


@dataclass(frozen=True, slots=True)
class PriceRange:
    """Prices of one ingredient to look at [per kg]; by default from half its price to twice it."""

    ingredient: str
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Designed:
    """What came of the wishes; where nothing can keep them, ``clash`` says why.

    ``found`` is then the nearest mix there is, if any, and ``weighed`` that one in steps. Where a
    price was moved there is the sweep for least cost, and for any other goal what was looked at.
    """

    wanted: Wanted
    found: Design | None
    weighed: Weighable | None
    why: Explanation | None = None
    clash: Clash | None = None
    swept: Sweep | None = None
    looked: tuple[Looked, ...] = ()


def design_mix(
    path: Path, *, prices_of: PriceRange | None = None, seconds: float = 60.0
) -> Designed:
    """The mix that a file wishes for.

    Parameters
    ----------
    path: the file of wishes.
    prices_of: an ingredient whose price is to be moved.
    seconds: after which the best mix in steps so far is taken.

    Raises
    ------
    InputError: the file, or the ingredient whose price is to be moved.
    """
    return designed(read_wishes(path), prices_of=prices_of, seconds=seconds)


def designed(
    wanted: Wanted, *, prices_of: PriceRange | None = None, seconds: float = 60.0
) -> Designed:
    """As `design_mix`, of wishes that are read."""
    found = design(wanted.wishes, seconds=seconds)
    if found.is_there:
        made = Designed(wanted, found, weighable(found, wanted.step), explain(found))
        return made if prices_of is None else _moved(made, prices_of, seconds=seconds)
    if found.ended is Ended.TIME:
        raise InputError("seconds", f"{seconds:g}", "more time, or fewer rules about steps")
    clash = clash_of(wanted.wishes)
    near = clash.nearest
    weighed = None if near is None else weighable(near, wanted.step)
    return Designed(wanted, near, weighed, clash=clash)


def _moved(made: Designed, asked: PriceRange, *, seconds: float) -> Designed:
    wishes = made.wanted.wishes
    one = named(wishes.candidates, asked.ingredient, "prices")
    now = prices([one])[one.id]
    ends = {
        "low": 0.5 * now if asked.low is None else asked.low,
        "high": 2.0 * now if asked.high is None else asked.high,
    }
    if wishes.goal is Goal.CHEAPEST:
        return replace(made, swept=sweep(wishes, one.id, **ends))
    return replace(made, looked=look(wishes, one.id, **ends, seconds=seconds))


def shown(made: Designed) -> str:
    """The mix and its reasons as text."""
    wanted = made.wanted
    lines = [wanted.name, *([INVENTED] if wanted.invented else []), ""]
    if made.clash is not None:
        lines += [*clash_text(made.clash), ""]
        lines += ["  The nearest mix there is:"] if made.found else ["  There is no mix near it."]
    if made.found is not None and made.weighed is not None:
        lines += mix_text(made.found, made.weighed, batch=wanted.batch)
        if made.why is not None:
            lines += explanation_text(made.found, made.why)
    if made.swept is not None:
        lines += sweep_text(made.swept, _name_of(made, made.swept.ingredient))
    lines += looked_text(made.looked)
    lines += [f"  - {note}" for note in wanted.notes]
    return "\n".join(lines)


def _name_of(made: Designed, ingredient: str) -> str:
    return next(one.name for one in made.wanted.wishes.candidates if one.id == ingredient)


def sweep_picture(made: Designed) -> Picture | None:
    """The mix over the price of an ingredient; None where none was asked for."""
    if made.swept is None:
        return None
    one = named(made.wanted.wishes.candidates, made.swept.ingredient, "prices")
    now = one.price or 0.0
    return prices_picture(made.swept, now, name=made.wanted.name, ingredient=one.name)


def write_prices(made: Designed, folder: Path) -> tuple[Path, ...]:
    """Write ``prices.svg`` and ``prices.html``, both or neither; where they are.

    Raises
    ------
    InputError: no price was moved, or the folder cannot be written to.
    """
    picture = sweep_picture(made)
    if picture is None:
        raise InputError(
            "pictures", str(folder), "--prices with an ingredient and least cost, to be drawn"
        )
    before = (INVENTED,) if made.wanted.invented else ()
    page = picture_page(
        made.wanted.name, "its price", (picture,), before=before, after=made.wanted.notes
    )
    contents: dict[str, bytes] = {"prices.svg": picture.svg.encode(), "prices.html": page.encode()}
    return write_together(folder, contents, field="pictures")
