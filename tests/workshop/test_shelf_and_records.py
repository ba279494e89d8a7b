"""Whatever is done in whatever order: stock adds up, undoing is an inverse, nothing is lost."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, precondition, rule

from baitwright.ledger.movements import Reason
from baitwright.notebook.page import Page, Revision
from baitwright.terms.errors import InputError
from baitwright.workshop.entries.stock_moves import Taking, count_lot, take_out, undo_last
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.read_records import history
from baitwright.workshop.recipes.recipe_shelf import KIND as RECIPE
from baitwright.workshop.recipes.recipe_shelf import keep_recipe
from baitwright.workshop.recipes.recipe_taken import take_back
from baitwright.workshop.records.record_forms import take_away, undo
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.stock import ITEM
from baitwright.workshop.typed.amounts import read_amount, read_money
from tests.architecture.tree import ROOT
from tests.workshop.machine import OverTheUseCases
from tests.workshop.records import NOW, write

COPPER = (ROOT / "examples" / "copper-wafter.toml").read_text(encoding="utf-8")
ITEMS, NIGHTS = st.sampled_from(("semolina", "salt")), st.sampled_from(("Late", "Early"))
GRAMS = st.integers(1, 900)
NIGHT = FORMS["night"]


class Workshop(OverTheUseCases):
    """A maker who does things in any order, some of which are refused."""

    @initialize()
    def opens(self) -> None:
        self.begin()
        self.now, self.lines, self.kept = NOW, 0, 0
        self.lots: list[str] = []

    def later(self) -> Any:
        self.now += timedelta(minutes=1)
        return self.now

    # --- the shelf --------------------------------------------------------------------------

    @rule(item=ITEMS, grams=GRAMS, price=st.integers(0, 999))
    def comes(self, item: str, grams: int, price: int) -> None:
        came = Delivery(item, read_amount(f"{grams} g"), read_money(f"{price}"))
        self.lots.append(bring_in(self.book, came, now=self.later()))

    @rule(item=ITEMS, grams=GRAMS)
    def goes(self, item: str, grams: int) -> None:
        before = self.stock()
        wanted = Taking(item, read_amount(f"{grams} g"), Reason.USED)
        try:
            take_out(self.book, wanted, now=self.later())
        except InputError:
            assert self.stock() == before
            assert sum(self.held(item).values()) < grams * 1000

    @precondition(lambda self: self.lots)
    @rule(data=st.data(), grams=GRAMS)
    def goes_beyond(self, data: st.DataObject, grams: int) -> None:
        lot = data.draw(st.sampled_from(self.lots))
        item = self.item_of(lot)
        told = Taking(item, read_amount(f"{grams} g"), Reason.LOST, lot=lot, override="torn sack")
        take_out(self.book, told, now=self.later())

    @precondition(lambda self: self.lots)
    @rule(data=st.data(), grams=st.integers(0, 900))
    def is_counted(self, data: st.DataObject, grams: int) -> None:
        lot = data.draw(st.sampled_from(self.lots))
        count_lot(self.book, lot, read_amount(f"{grams} g", least=0), now=self.later())
        assert self.held(self.item_of(lot)).get(lot, 0) == grams * 1000

    @rule()
    def shelf_is_undone_twice(self) -> None:
        before = self.stock()
        if self.lines:
            undo_last(self.book, now=self.later())
            undo_last(self.book, now=self.later())
            assert self.stock() == before

    @precondition(lambda self: self.lines)
    @rule()
    def shelf_is_undone(self) -> None:
        with self.book.reading() as page:
            last = page.entry_lines()
        before = {one.item: self.held(one.item) for one in last}
        undo_last(self.book, now=self.later())
        for one in last:
            after = self.held(one.item).get(one.lot, 0)
            assert after == before[one.item].get(one.lot, 0) - one.amount

    # --- records ----------------------------------------------------------------------------

    @rule(name=NIGHTS, bites=st.integers(0, 9))
    def writes(self, name: str, bites: int) -> None:
        made = write(self.book, "night", "water=Long Reedpool", f"bites={bites}", name=name)
        assert made.body is not None
        assert made.body["bites"] == bites

    @rule(level=st.integers(1, 9))
    def keeps(self, level: int) -> None:
        path = self.folder / "recipe.toml"
        path.write_text(COPPER.replace("0.8 ml per egg", f"0.{level} ml per egg"), encoding="utf-8")
        keep_recipe(self.book, path, now=self.later())

    @rule(name=NIGHTS)
    def takes_away_and_undoes(self, name: str) -> None:
        last = self.night(name)
        if last is not None and last.body is not None:
            take_away(self.book, NIGHT, name, now=self.later(), reason="twice")
            back = undo(self.book, NIGHT, name, now=self.later())
            assert back.body == last.body

    @rule(name=NIGHTS)
    def takes_away(self, name: str) -> None:
        last = self.night(name)
        if last is not None and last.body is not None:
            take_away(self.book, NIGHT, name, now=self.later(), reason="twice")

    @rule(name=NIGHTS)
    def undoes(self, name: str) -> None:
        last = self.night(name)
        if last is not None:
            undo(self.book, NIGHT, name, now=self.later())
            assert undo(self.book, NIGHT, name, now=self.later()).body == last.body

    @rule()
    def takes_the_recipe_back(self) -> None:
        with self.book.reading() as page:
            last = page.latest(RECIPE, "Copper wafter")
        if last is not None:
            take_back(self.book, last.name, now=self.later())
            assert take_back(self.book, last.name, now=self.later()).revision.body == last.body

    # --- what holds whatever was done -------------------------------------------------------

    @invariant()
    def stock_is_the_sum_of_its_lines(self) -> None:
        if not hasattr(self, "book"):
            return
        with self.book.reading() as page:
            lines = page.book_lines()
            for item in {one.item for one in lines}:
                of_item = [one for one in lines if one.item == item]
                account = page.account(item)
                assert account.amount == sum(one.amount for one in of_item)
                assert account.value == sum(one.value for one in of_item)
                assert sum(page.lots(item).values()) == account.amount
        held: dict[str, int] = {}
        for one in lines:
            held[one.lot] = held.get(one.lot, 0) + one.amount
            assert held[one.lot] >= 0 or one.override

    @invariant()
    def nothing_shrinks(self) -> None:
        if not hasattr(self, "book"):
            return
        with self.book.reading() as page:
            lines, kept = len(page.book_lines()), _versions(page)
            items = page.all(ITEM)
        assert lines >= self.lines
        assert kept >= self.kept
        assert len(items) <= 2
        self.lines, self.kept = lines, kept

    # --- looking ----------------------------------------------------------------------------

    def stock(self) -> dict[str, Any]:
        with self.book.reading() as page:
            return {
                item: (dict(page.lots(item)), page.account(item)) for item in ("semolina", "salt")
            }

    def held(self, item: str) -> dict[str, int]:
        with self.book.reading() as page:
            return dict(page.lots(item))

    def item_of(self, lot: str) -> str:
        with self.book.reading() as page:
            found = page.latest("lot", lot)
        assert found is not None
        assert found.body is not None
        return str(found.body["item"])

    def night(self, name: str) -> Revision | None:
        try:
            return history(self.book, NIGHT, name)[-1]
        except InputError:
            return None


def _versions(page: Page) -> int:
    kinds = (RECIPE, "night", "lot", ITEM)
    return sum(len(page.history(kind, name)) for kind in kinds for name in page.names(kind))


TestWorkshop = Workshop.TestCase
TestWorkshop.settings = settings(max_examples=8, stateful_step_count=15)
