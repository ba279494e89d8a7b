"""One file of recipes and answers: it stands alone, and nothing hidden is anywhere in its bytes."""

from __future__ import annotations

from collections.abc import Iterator
from html import unescape

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baitwright.materials.powders import ingredient
from baitwright.materials.tables import slug
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.purge import loss_of, purge
from baitwright.workshop.questions.travelling_copy import Chosen, travelling_copy, write_travelling
from baitwright.workshop.recipe_files.demo import demo_file
from baitwright.workshop.recipes.recipe_shelf import keep_recipe
from tests.architecture.tree import ROOT
from tests.workshop.records import NOW, write
from tests.workshop.test_answers import LATER, MALT, alone, asked

WAFTER = "Copper wafter"
PARTS = (
    *("semolina", "maize-meal-fine", "soya-flour-roasted", "brewers-yeast", "liver-powder"),
    "maize-meal-coarse",
)
LIQUIDS = ("Malt", "Caraway oil", "Yeast extract")


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Notebook]:
    book = open_notebook(tmp_path_factory.mktemp("kept") / "notebook.sqlite", now=NOW)
    keep_recipe(book, demo_file("copper-wafter.toml"), now=NOW)
    write(book, "liquid", "allergens=mustard", name="Caraway oil")
    yield book
    book.close()


def told(book: Notebook, *hide: str, **more: tuple[str, ...]) -> str:
    made = travelling_copy(book, Chosen(recipes=(WAFTER,), hide=hide, **more))
    return made.sheet.content.decode()


def test_it_stands_alone_and_says_what_is_open(kept: Notebook) -> None:
    words = alone(told(kept))
    for part in PARTS:
        assert ingredient(part).name in words
    for said in (*LIQUIDS, "45 %", "0.8 ml per egg of 50 ml", "15 mm wafter", "bait and not food"):
        assert said in words
    assert "maker and recipe do not exist" in words


@settings(
    deadline=None,
    max_examples=40,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(hide=st.sets(st.sampled_from([*PARTS, *LIQUIDS]), min_size=1))
def test_nothing_hidden_is_anywhere_in_its_bytes(kept: Notebook, hide: set[str]) -> None:
    """Neither its name nor its id, in whatever letters, nor how much there is of it.

    Whatever else is open still stands there.
    """
    html = told(kept, *sorted(hide))
    folded = unescape(html).casefold()
    for one in hide:
        names = {one, slug(one)} | ({ingredient(one).name} if one in PARTS else set())
        assert not [name for name in names if name.casefold() in folded]
    assert folded.count("a part of the maker's own") == len(hide)
    if "liver-powder" in hide and "brewers-yeast" in hide:
        assert "10 %<" not in html
    for one in {*PARTS, *LIQUIDS} - hide:
        assert (ingredient(one).name if one in PARTS else one) in unescape(html)


def test_allergens_of_hidden_lines_are_told(kept: Notebook) -> None:
    """Soya, wheat and the egg that binds, by the table; mustard by a liquid's own label."""
    html = told(kept, "soya-flour-roasted", "semolina", "Caraway oil")
    line = next(one for one in alone(html).splitlines() if "contains" in one)
    for group in ("soybeans", "gluten", "eggs", "mustard"):
        assert group in line
    assert line == next(one for one in alone(told(kept)).splitlines() if "contains" in one)


def test_what_a_mix_calls_secret_is_hidden_in_recipes_too(kept: Notebook) -> None:
    """The mix's own file keeps yeast and liver; its egg albumen and soya are told as allergens."""
    mix = ROOT / "examples" / "copper-mix.toml"
    alone_with_it = travelling_copy(kept, Chosen(mixes=(mix,))).sheet.content.decode()
    both = travelling_copy(kept, Chosen(recipes=(WAFTER,), mixes=(mix,), hide=("semolina",)))
    for html in (alone_with_it, both.sheet.content.decode()):
        words = alone(html)
        assert "yeast, dried" not in words
        assert "liver" not in html.casefold()
        assert "parts of the maker's own" in words
        assert "soybeans" in words
        assert "maize meal, fine" in words
    assert "semolina" in alone(alone_with_it)
    assert "semolina" not in both.sheet.content.decode()


def test_what_can_be_worked_out_is_said_to_the_maker(kept: Notebook) -> None:
    made = travelling_copy(kept, Chosen(recipes=(WAFTER,), hide=("Liver powder", "semolina")))
    assert "leave 55 % for what is hidden" in made.mind[0]
    assert travelling_copy(kept, Chosen(recipes=(WAFTER,), hide=("Malt",))).mind == ()


def test_a_slip_in_what_is_to_be_hidden_shows_nothing(kept: Notebook) -> None:
    with pytest.raises(InputError, match="livr powder"):
        told(kept, "livr powder")
    with pytest.raises(InputError, match="a recipe or an answer"):
        travelling_copy(kept, Chosen())
    with pytest.raises(InputError, match="still be told"):
        told(kept, "Malt", title="With Malt in it")


def test_an_answer_that_names_what_is_hidden_is_refused(kept: Notebook) -> None:
    asked(kept, MALT, "eggs=3 x EU L")
    with pytest.raises(InputError, match="still be told"):
        told(kept, "Malt", answers=("Malt",))
    words = alone(told(kept, "Caraway oil", answers=("Malt",)))
    assert "2.88 to 3.91 ml in all" in words


def test_a_copy_with_an_answer_is_purged_with_it(kept: Notebook) -> None:
    folder = kept.place.parent / "sent"  # type: ignore[union-attr]
    asked(kept, MALT, "eggs=3 x EU L", name="To be purged")
    chosen = Chosen(recipes=(WAFTER,), answers=("To be purged",))
    path = write_travelling(kept, folder / "copy.html", travelling_copy(kept, chosen), now=NOW)
    assert path.exists()
    assert purge(kept, loss_of(kept, "question", "To be purged"), now=LATER) == {}
    assert not path.exists()
