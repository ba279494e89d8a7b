"""Selling from the command line: packed, priced, ordered, sent, brought back, counted up."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_notebook import done, place, refused

__all__ = ["place"]


@pytest.fixture
def shop(place: Path) -> str:
    """A lot of two hundred baits, and bags."""
    said = done("shelf", "in", "wafters", "200", "--price", "10", "--best-before", "2099-05-01")
    done("shelf", "in", "bags", "100", "--price", "5")
    done("shelf", "in", "hooks", "30", "--price", "7.50")
    return said.removeprefix("lot ").partition(":")[0]


def packed(shop: str) -> str:
    """Ten packs of twelve; their lot."""
    counts = ("--packs", "10", "--each", "12", "--lost", "5", "--with", "bags=10")
    return done("sell", "pack", shop, "pack", *counts).split()[-1]


def test_from_a_lot_of_baits_to_a_sale_and_what_came_back(shop: str, tmp_path: Path) -> None:
    lot = packed(shop)
    assert "each piece: 0.6750" in done("cost", "lot", lot)
    assert json.loads(done("cost", "lot", lot, "--json"))["lost"] == 5
    asked = done("price", "pack", "--ask", "2.40", "--vat", "20%", "--margin", "60%")
    assert asked.startswith("pack: 2.40 each with 20.0 % VAT in it, costs 0.6750, leaves 1.32")
    assert "order 1: open" in done("sell", "order", "pack=3", "hooks=2@0.50")
    assert "3 of it spoken for" in done("shelf")
    slip = done("sell", "send", "1")
    assert f"3  pack, lot {lot}, best before 2099-05-01" in slip
    assert done("sell", "slip", "1") == slip
    back = ("sell", "back", "1", lot, "1", "--refund", "2.40", "--to", "quarantine")
    assert f"of {lot} into quarantine, 2.40 paid back" in done(*back)
    told = done("sell", "takings")
    assert "order 1: took 5.00 without VAT, cost 1.85, leaves 3.15, 63.0 %" in told
    assert json.loads(done("sell", "takings", "--json"))["margins"][0]["name"] == "1"
    assert json.loads(done("sell", "--json"))["orders"][0]["state"] == "sent"
    assert "order 1: sent" in done("sell")
    for command, name in (("shelf", "s"), ("price", "p"), ("sell takings", "t")):
        table = tmp_path / f"{name}.csv"
        assert done(*command.split(), "--csv", str(table)) == f"written: {table}\n"
        assert table.read_bytes().startswith(b"\xef\xbb\xbf")


def test_kits_are_joined_parted_and_undone(shop: str) -> None:
    packed(shop)
    assert done("sell", "kit", "box", "pack=2", "hooks=3") == "box: 2 parts\n"
    lot = done("sell", "join", "box", "2").split()[-1]
    assert "+2 of pack, 1.35" in done("sell", "part", lot, "1")
    undone = done("shelf", "undo")
    assert "-2 of pack, 1.35" in undone
    assert "+1 of box, 2.10" in undone


def test_orders_are_cancelled(shop: str) -> None:
    done("sell", "order", "hooks=30@0.50")
    assert "order 1: cancelled" in done("sell", "cancel", "1", "--why", "changed their mind")
    assert "spoken for" not in done("shelf")
    assert "order 1: open" in done("sell", "undo", "1")
    assert "30 of it spoken for" in done("shelf")
    assert "an order that was cancelled" in refused("sell", "undo", "1").stderr


def test_a_price_and_a_kit_are_taken_back(shop: str) -> None:
    assert "a record of the notebook" in refused("price", "hooks", "--undo").stderr
    done("price", "hooks", "--ask", "0.50")
    done("price", "hooks", "--ask", "0.70")
    assert done("price", "hooks", "--undo").startswith("hooks: 0.50 each")
    assert done("price", "hooks", "--undo").startswith("hooks: 0.70 each")
    for wrong in (("hooks", "--ask", "1"), ()):
        assert "price" in refused("price", *wrong, "--undo").stderr
    done("sell", "kit", "box", "bags=2", "hooks=3")
    done("sell", "kit", "box", "bags=1")
    assert done("sell", "kit", "box", "--undo") == "box: 2 of bags, 3 of hooks\n"
    assert "one of both" in refused("sell", "kit", "box", "bags=3", "--undo").stderr
    done("sell", "kit", "tin", "bags=1")
    assert done("sell", "kit", "tin", "--undo") == "tin: no parts any more\n"


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("pack", "LOT", "pack", "--packs", "0", "--each", "12"), "packs: got 0"),
        (("pack", "LOT", "pack", "--packs", "-1", "--each", "12"), "packs: got -1"),
        (("pack", "LOT", "pack", "--packs", "1", "--each", "1", "--with", "bags"), "label=10"),
        (("order", "pack"), "an item and an amount"),
        (("order", "hooks=2@cheap"), "money such as 32.50"),
        (("order", "hooks=2@1", "--day", "2999-01-01"), "today or before"),
        (("order", "toffee=2@1"), "one of the shelf"),
        (("order",), "order"),
        (("send", "4"), "order: got '4'"),
        (("join", "box", "1"), "kit: got 'box'"),
    ],
)
def test_one_clear_message_and_nothing_written(
    shop: str, arguments: tuple[str, ...], message: str
) -> None:
    before = done("shelf")
    said = refused("sell", *(shop if one == "LOT" else one for one in arguments)).stderr
    assert message in said
    assert len(said.splitlines()) == 1
    assert done("shelf") == before
    assert done("sell").startswith("No order yet")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("hooks", "--ask", "two"), "money such as 32.50"),
        (("hooks", "--ask", "2", "--vat", "20"), "per cent such as 20%"),
        (("hooks", "--vat", "20%", "--no-vat"), "one of both"),
        (("--ask", "2"), "an item's name"),
        (("toffee",), "one of the shelf"),
    ],
)
def test_prices_that_are_none(shop: str, arguments: tuple[str, ...], message: str) -> None:
    assert message in refused("price", *arguments).stderr


def test_the_cost_of_what_was_not_made(shop: str) -> None:
    assert "put together here" in refused("cost", "lot", shop).stderr
    assert "a batch of the notebook" in refused("cost", "batch", "B1", "--bags", "2").stderr
