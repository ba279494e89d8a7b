"""The page on which a mix is mended: the text of a file in, what stands in for it out."""

from __future__ import annotations

from collections.abc import Mapping

from baitwright.sheets.text_soak import INVENTED
from baitwright.workshop.mending.mend_asked import Mishap
from baitwright.workshop.mending.mend_made import Beside
from baitwright.workshop.mending.mend_mix import mended
from baitwright.workshop.mending.mend_question import MendQuestion
from baitwright.workshop.mending.mend_read import changed_in, mend_from
from baitwright.workshop.mending.mend_shown import mended_shown
from baitwright.workshop.opening.notebook_care import clock_with_zone
from baitwright.workshop.recipe_files.demo import MIX, demo_file
from baitwright.workshop.recipe_files.ingredient_tables import IngredientTable
from baitwright.workshop.told.answer_parts import Part
from baitwright.workshop.typed.toml_reading import in_toml

_GONE = "liver-powder"


def demo_mishap() -> dict[str, str]:
    """The mix of the demonstration, and a part of it that is no longer to be had."""
    return {"mix": demo_file(MIX).read_text("utf-8"), "without": _GONE}


def mend_shown(told: MendQuestion) -> tuple[Part, ...]:
    """The mix that stands in, with the factors that every workshop begins with.

    Raises
    ------
    InputError: the mix, or what has happened to it.
    """
    mishap = Mishap(
        without=told.without,
        changed=_changed(told.changed),
        instead=told.instead,
        name=told.name,
    )
    asked = mend_from(in_toml(told.mix, where=""), mishap, where="")
    made = mended(asked, Beside(now=clock_with_zone(), old_left=told.old_left))
    invented = (Part("", lines=(INVENTED,)),) if told.mix == demo_mishap()["mix"].strip() else ()
    return (*invented, *mended_shown(made))


def _changed(text: str) -> Mapping[str, IngredientTable]:
    return changed_in(in_toml(text, where=""), where="") if text else {}
