"""A shelf that moves to another notebook in the middle of its work goes on as if it had not."""

from __future__ import annotations

from hypothesis import settings
from hypothesis.stateful import precondition, rule

from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.plain_pages import follow, pages_beside
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.copies.import_all import Wish, import_all
from baitwright.workshop.copies.rebuild import rebuild
from tests.notebook.kitchen import HOUR, NOW
from tests.notebook.random_book import blank, everything
from tests.workshop.test_stock import Shop


class MovingShop(Shop):
    """Between two things that are done the notebook is exported, imported or made of its pages."""

    moves = 0

    @precondition(lambda self: self.lots)
    @rule()
    def moves_by_export_and_import(self) -> None:
        files = shelf_beside(self.book.place)
        path = export_all(self.book, self.folder / "all.zip", files=files, now=NOW).path
        other = self.another()
        assert import_all(other, path, files=files, wish=Wish(NOW)).is_done
        self.goes_on_in(other)
        again = import_all(self.book, path, files=files, wish=Wish(NOW))
        assert again.merge is not None
        assert again.merge.is_nothing

    @precondition(lambda self: self.lots)
    @rule()
    def its_pages_follow(self) -> None:
        follow(self.book, pages_beside(self.book.place), now=NOW)

    @precondition(lambda self: self.lots)
    @rule()
    def is_made_anew_of_its_pages(self) -> None:
        folder = pages_beside(self.book.place)
        follow(self.book, folder, now=NOW + self.moves * HOUR)
        other = self.another()
        rebuild(other, folder, now=NOW)
        self.goes_on_in(other)

    def another(self) -> Notebook:
        self.moves += 1
        place = self.folder / f"notebook-{self.moves}.sqlite"
        place.write_bytes(blank())
        return open_notebook(place, now=NOW)

    def goes_on_in(self, other: Notebook) -> None:
        assert everything(other) == everything(self.book)
        self.book.close()
        self.book = other


TestMovingShop = MovingShop.TestCase
TestMovingShop.settings = settings(max_examples=8, stateful_step_count=20, deadline=None)
