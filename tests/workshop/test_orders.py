"""Orders: set aside, sent the earliest first, brought back at the value at which they went."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from baitwright.ledger.movements import Account, Reason
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.costs.prices import Asking, ask
from baitwright.workshop.entries.stock_moves import Taking, take_out, undo_last
from baitwright.workshop.selling.order_words import (
    order_text,
    orders_json,
    orders_text,
    read_line,
    read_part,
    taken_text,
)
from baitwright.workshop.selling.ordering import Taken, Wanted, cancel, take_order
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.selling.returning import CameBack, bring_back
from baitwright.workshop.selling.sending import send
from baitwright.workshop.selling.slips import slip, slip_text
from baitwright.workshop.selling.takings import takings
from baitwright.workshop.selling.takings_words import takings_json, takings_text
from baitwright.workshop.shelf.lots import lot_of
from baitwright.workshop.traces.order_records import orders
from baitwright.workshop.traces.orders import State, Where
from baitwright.workshop.traces.quarantine import quarantine
from baitwright.workshop.traces.traces import trace
from baitwright.workshop.typed.typed_days import read_past_day
from tests.workshop.counter import (
    NOW,
    TODAY,
    accounts,
    grams,
    held,
    pieces,
    set_aside,
    worth_of_all,
)

EARLIER = TODAY - timedelta(days=40)


@pytest.fixture
def lots(book: Notebook, lots: dict[str, str]) -> dict[str, str]:
    run = Packing(lots["baits"], "pack", 16, 12, 0, (("bags", pieces(16)),))
    return lots | {"packs": pack(book, run, now=NOW).lot}


@pytest.fixture
def order(book: Notebook, lots: dict[str, str]) -> Taken:
    """Four packs at 2.40 with 20 % VAT in it, and 2 kg of semolina at 3.00."""
    ask(book, "pack", Asking(Decimal("2.40"), Decimal("0.2")), now=NOW)
    wanted = (Wanted("pack", pieces(4)), Wanted("semolina", grams(2000), Decimal("3.00")))
    return take_order(book, "", wanted, now=NOW, day=TODAY)


def came(lot: str, count: int, where: Where = Where.SHELF, refund: str = "0") -> CameBack:
    return CameBack(lot, pieces(count), Decimal(refund), where, "torn")


def test_an_order_sets_aside_and_cancelling_lets_go(
    book: Notebook, lots: dict[str, str], order: Taken
) -> None:
    assert order.order.total == Decimal("15.60")
    assert order.short == ()
    assert set_aside(book) == {lots["packs"]: 4, lots["semolina"]: 2_000_000}
    assert cancel(book, "1", now=NOW, why="changed their mind").state is State.CANCELLED
    assert set_aside(book) == {}
    for call in (
        lambda: cancel(book, "1", now=NOW, why=""),
        lambda: send(book, "1", now=NOW, day=TODAY),
        lambda: bring_back(book, "1", came(lots["packs"], 1), now=NOW, day=TODAY),
        lambda: slip(book, "1"),
    ):
        with pytest.raises(InputError, match="cancelled"):
            call()


def test_what_is_not_there_is_told_and_set_aside_for_nobody_else(
    book: Notebook, lots: dict[str, str], order: Taken
) -> None:
    more = take_order(book, "", [Wanted("pack", pieces(14))], now=NOW, day=TODAY)
    assert [(one.item, one.amount) for one in more.short] == [("pack", pieces(2))]
    assert "! 2 of pack is not there" in taken_text(more)
    assert set_aside(book)[lots["packs"]] == 16
    with pytest.raises(InputError, match="got '14', but it takes 12 at most"):
        send(book, "2", now=NOW, day=TODAY)
    assert set_aside(book)[lots["packs"]] == 16
    send(book, "1", now=NOW, day=TODAY)
    assert held(book)[lots["packs"]] == 12


def test_what_is_sent_leaves_at_the_average_and_can_be_traced(
    book: Notebook, lots: dict[str, str], order: Taken
) -> None:
    sent = send(book, "1", now=NOW, day=TODAY)
    assert [(one.lot, one.amount, one.value) for one in sent.lines] == [
        (lots["packs"], -4, Decimal("-3.08")),
        (lots["semolina"], -2_000_000, Decimal("-2.6")),
    ]
    assert set_aside(book) == {}
    sale = Place(Stop.SALE, "order 1")
    assert sale in trace(book, lots["baits"]).recall
    assert Place(Stop.INGREDIENT, lots["baits"]) in {
        one.place for one in trace(book, "order 1").back
    }


def test_the_earliest_to_expire_goes_first_and_quarantine_never(
    book: Notebook, lots: dict[str, str]
) -> None:
    wanted = [Wanted("wafters", pieces(10), Decimal("0.20"))]
    take_order(book, "", wanted, now=NOW, day=TODAY)
    assert set_aside(book) == {lots["baits"]: 8, lots["later"]: 2}
    quarantine(book, lots["baits"], "musty", now=NOW)
    sent = send(book, "1", now=NOW, day=TODAY)
    assert [(one.lot, one.amount) for one in sent.lines] == [(lots["later"], -10)]


def test_undoing_what_was_sent_is_an_inverse(
    book: Notebook, lots: dict[str, str], order: Taken
) -> None:
    before = accounts(book), held(book), set_aside(book), orders(book)[0].state
    send(book, "1", now=NOW, day=TODAY)
    after = accounts(book), held(book), set_aside(book), orders(book)[0].state
    undo_last(book, now=NOW)
    assert (accounts(book), held(book), set_aside(book), orders(book)[0].state) == before
    assert not trace(book, lots["packs"]).onward
    undo_last(book, now=NOW)
    assert (accounts(book), held(book), set_aside(book), orders(book)[0].state) == after
    assert Place(Stop.SALE, "order 1") in trace(book, lots["packs"]).recall
    undo_last(book, now=NOW)
    send(book, "1", now=NOW, day=TODAY)
    assert (accounts(book), held(book), set_aside(book), orders(book)[0].state) == after


def test_a_return_comes_back_at_what_it_went_out_with(
    book: Notebook, lots: dict[str, str], order: Taken
) -> None:
    """The average has moved meanwhile: what comes back is still worth what it went for."""
    before = accounts(book)["pack"]
    send(book, "1", now=NOW, day=TODAY)
    run = Packing(lots["later"], "pack", 2, 12, 40, (("bags", pieces(2)),))
    dear = pack(book, run, now=NOW).lines[-1].value
    assert dear / 2 > before.average
    bring_back(book, "1", came(lots["packs"], 1, refund="2.40"), now=NOW, day=TODAY)
    bring_back(book, "1", came(lots["packs"], 3), now=NOW, day=TODAY)
    assert accounts(book)["pack"] == Account(before.amount + 2, before.value + dear)
    with pytest.raises(InputError, match="got '1', but it takes 0 at most"):
        bring_back(book, "1", came(lots["packs"], 1), now=NOW, day=TODAY)
    (found,) = orders(book)
    assert f"back {TODAY}: of {lots['packs']} onto the shelf, 2.40 paid back" in order_text(found)


def test_a_return_may_go_into_quarantine_or_the_bin(
    book: Notebook, lots: dict[str, str], order: Taken
) -> None:
    send(book, "1", now=NOW, day=TODAY)
    bring_back(book, "1", came(lots["packs"], 1, Where.QUARANTINE), now=NOW, day=TODAY)
    (aside,) = (lot for lot in held(book) if lot not in lots.values())
    with book.reading() as page:
        found = lot_of(page, aside)
    assert (found.quarantined, found.why, found.supplier_lot) == (True, "torn", lots["packs"])
    assert {one.place.name for one in trace(book, aside).back} >= {lots["packs"], lots["baits"]}
    before = accounts(book)
    bring_back(book, "1", came(lots["packs"], 1, Where.BIN), now=NOW, day=TODAY)
    assert accounts(book) == before
    with pytest.raises(InputError, match="a reason for throwing it away"):
        thrown = CameBack(lots["packs"], pieces(1), Decimal(0), Where.BIN)
        bring_back(book, "1", thrown, now=NOW, day=TODAY)


def test_an_undone_return_can_be_taken_back_again(
    book: Notebook, lots: dict[str, str], order: Taken
) -> None:
    send(book, "1", now=NOW, day=TODAY)
    sent = accounts(book)
    bring_back(book, "1", came(lots["packs"], 4), now=NOW, day=TODAY)
    undo_last(book, now=NOW)
    assert (accounts(book), orders(book)[0].back) == (sent, ())
    bring_back(book, "1", came(lots["packs"], 4), now=NOW, day=TODAY)
    assert len(orders(book)[0].back) == 1


def test_takings_by_hand(book: Notebook, lots: dict[str, str], order: Taken) -> None:
    """Sent: 9.60 less VAT is 8.00, and 6.00; cost 3.08 and 2.60. Two packs came back: one onto
    the shelf, one into the bin, 1.20 paid back for each, 1.00 without VAT.
    """
    send(book, "1", now=NOW, day=TODAY)
    bring_back(book, "1", came(lots["packs"], 1, refund="1.20"), now=NOW, day=TODAY)
    bring_back(book, "1", came(lots["packs"], 1, Where.BIN, "1.20"), now=NOW, day=TODAY)
    told = takings(book)
    assert [(one.taken, one.cost) for one in told.sales] == [
        (Decimal("14"), Decimal("5.68")),
        (Decimal("-1"), Decimal("-0.77")),
        (Decimal("-1"), Decimal("0")),
    ]
    text = takings_text(told)
    assert "order 1: took 12.00 without VAT, cost 4.91, leaves 7.09, 59.1 %" in text
    assert "month 2026-11: took 12.00" in text
    assert f"stock on the shelf worth {worth_of_all(book):.2f}" in text
    assert '"margin": "7.090000"' in takings_json(told)


def test_months_and_sales_without_an_order(book: Notebook, lots: dict[str, str]) -> None:
    wanted = [Wanted("wafters", pieces(2), Decimal("0.50"))]
    for day in (EARLIER, TODAY):
        name = take_order(book, "", wanted, now=NOW, day=day).order.name
        send(book, name, now=NOW, day=day)
    take_out(book, Taking("hooks", pieces(4), Reason.SOLD), now=NOW)
    take_out(book, Taking("hooks", pieces(4), Reason.SOLD), now=NOW)
    undo_last(book, now=NOW)
    text = takings_text(takings(book))
    assert "month 2026-10: took 1.00 without VAT" in text
    assert "all together: took 2.00 without VAT" in text
    assert "sold without an order, what was asked is unknown: stock worth 1.00" in text


def test_a_slip_tells_lots_days_and_allergens(
    book: Notebook, lots: dict[str, str], order: Taken
) -> None:
    send(book, "1", now=NOW, day=TODAY)
    text = slip_text(slip(book, "1"))
    assert f"4  pack, lot {lots['packs']}, best before 2027-05-01" in text
    assert "not known of wafters" in text
    assert "bags" not in text
    assert f"2 kg  semolina, lot {lots['semolina']}\n    Allergens: holds " in text
    assert "gluten" in text
    assert "2.40" not in text


@pytest.mark.parametrize(
    ("wanted", "customer", "message"),
    [
        ([], "", "order"),
        ([Wanted("toffee", pieces(1), Decimal(1))], "", "one of the shelf"),
        ([Wanted("hooks", grams(1), Decimal(1))], "", "a count, as on the shelf"),
        ([Wanted("hooks", pieces(1))], "", "price of hooks"),
        ([Wanted("hooks", pieces(1), Decimal(1))], "Anna Example", "code of a person"),
    ],
)
def test_an_order_that_cannot_be_writes_nothing(
    book: Notebook, lots: dict[str, str], wanted: list[Wanted], customer: str, message: str
) -> None:
    with pytest.raises(InputError, match=message):
        take_order(book, customer, wanted, now=NOW, day=TODAY)
    assert orders(book) == ()
    assert set_aside(book) == {}


def test_a_customer_is_a_code_and_erased_people_order_nothing(
    book: Notebook, lots: dict[str, str]
) -> None:
    wanted = [Wanted("hooks", pieces(1), Decimal(1))]
    with book.writing() as page:
        code = page.add_person({"name": "Anna Example"}, time=NOW)
    take_order(book, code, wanted, now=NOW, day=TODAY)
    send(book, "1", now=NOW, day=TODAY)
    assert f"For {code}" in slip_text(slip(book, "1"))
    with book.writing() as page:
        page.erase_person(code, time=NOW)
    with pytest.raises(InputError, match="code of a person"):
        take_order(book, code, wanted, now=NOW, day=TODAY)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda book, lot: send(book, "7", now=NOW, day=TODAY), "order: got '7', but it takes one"),
        (lambda book, lot: send(book, "1", now=NOW, day=EARLIER), "it was ordered then"),
        (
            lambda book, lot: bring_back(book, "1", came(lot, 1), now=NOW, day=TODAY),
            "order 1: got 'open'",
        ),
    ],
)
def test_what_cannot_be_sent_writes_nothing(
    book: Notebook,
    lots: dict[str, str],
    order: Taken,
    call: Callable[[Notebook, str], object],
    message: str,
) -> None:
    before = accounts(book), set_aside(book)
    with pytest.raises(InputError, match=message):
        call(book, lots["packs"])
    assert (accounts(book), set_aside(book)) == before


@pytest.mark.parametrize(
    ("back", "day", "message"),
    [
        ({"lot": "2026-11-27/2"}, TODAY, "a lot of order 1"),
        ({"amount": pieces(5)}, TODAY, "4 at most"),
        ({"amount": grams(1)}, TODAY, "a count, as on the shelf"),
        ({"refund": Decimal("15.61")}, TODAY, "15.60 at most"),
        ({}, EARLIER, "it went then"),
    ],
)
def test_what_cannot_come_back_writes_nothing(
    book: Notebook,
    lots: dict[str, str],
    order: Taken,
    back: dict[str, object],
    day: date,
    message: str,
) -> None:
    send(book, "1", now=NOW, day=TODAY)
    before = accounts(book)
    wrong = replace(came(lots["packs"], 1), **back)  # type: ignore[arg-type]
    with pytest.raises(InputError, match=message):
        bring_back(book, "1", wrong, now=NOW, day=day)
    assert accounts(book) == before
    assert orders(book)[0].back == ()


def test_orders_as_a_list(book: Notebook, lots: dict[str, str], order: Taken) -> None:
    text = orders_text(orders(book))
    assert "order 1: open, ordered 2026-11-27, 15.60" in text
    assert "    4 of pack at 2.40: 9.60" in text
    assert "ask your local authority" in text
    assert '"total": "15.60"' in orders_json(orders(book))
    assert orders_text([]).startswith("No order yet")


def test_lines_as_they_are_typed() -> None:
    assert read_line("pack of 12=2@6.50") == Wanted("pack of 12", pieces(2), Decimal("6.50"))
    assert read_line("semolina = 2 kg") == Wanted("semolina", grams(2000))
    assert read_part("a=b=3") == ("a=b", pieces(3))
    for wrong in ("pack", "=2", "pack=", "pack=0", "pack=2@six", "pack=-2", "pack=2@-1"):
        with pytest.raises(InputError):
            read_line(wrong)


def test_days_to_come_are_refused() -> None:
    assert read_past_day("", TODAY) == read_past_day(TODAY.isoformat(), TODAY) == TODAY
    for wrong in ((TODAY + timedelta(days=1)).isoformat(), "tomorrow", "2026-13-01"):
        with pytest.raises(InputError, match="today or before"):
            read_past_day(wrong, TODAY)
