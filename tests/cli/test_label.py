"""Labels and pages from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from baitwright.workshop.opening.notebook_care import clock_with_zone
from tests.cli.test_notebook import done, place, refused
from tests.cli.test_sell import packed, shop

__all__ = ["place", "shop"]


@pytest.fixture
def packs(shop: str) -> str:
    return packed(shop)


def test_labels_are_told_and_written(packs: str, tmp_path: Path) -> None:
    code = done("record", "person", "name=A. Example", "mail=someone@example.org")
    assert "person 1" in code
    told = done("label", packs, "--kept", "fridge", "--maker", "person 1")
    day = clock_with_zone().date()
    assert told.startswith(f"10 of:\npack, wafters, 12 baits\nLot {packs}. Packed {day.day} ")
    assert "Best before: 1 May 2099. Keep in the fridge." in told
    assert "Fishing bait. Not food. Keep away from children and animals." in told
    assert told.endswith("A. Example, someone@example.org\n")
    for paper in ("bag", "tub", "a4", "a5", "a4-tub"):
        file = tmp_path / f"{paper}.pdf"
        said = done("label", packs, "--pdf", str(file), "--paper", paper, "--copies", "3")
        assert said.endswith(f"written: {file}\n")
        assert file.read_bytes().startswith(b"%PDF")
    (label,) = json.loads(done("label", packs, "--json"))["labels"]
    assert (label["lot"], label["copies"]) == (packs, 10)


def test_the_shelf_and_costs_are_written_as_pages(packs: str, tmp_path: Path) -> None:
    done("price", "pack", "--ask", "2.40")
    for paper in ("a4", "a5"):
        stock, cost = tmp_path / f"s-{paper}.pdf", tmp_path / f"c-{paper}.pdf"
        assert done("shelf", "--pdf", str(stock), "--paper", paper) == f"written: {stock}\n"
        said = done("cost", "lot", packs, "--pdf", str(cost), "--paper", paper)
        assert said.endswith(f"written: {cost}\n")
        assert "each piece: 0.6750" in said
        for file in (stock, cost):
            assert file.read_bytes().startswith(b"%PDF")
    both = done("shelf", "--pdf", str(tmp_path / "s.pdf"), "--csv", str(tmp_path / "s.csv"))
    assert both.count("written: ") == 2


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("2026-11-27/99",), "made here"),
        (("LOT", "--maker", "person 4"), "person"),
        (("LOT", "--net", "heavy"), "an amount such as"),
        (("LOT", "--copies", "0"), "1 to 2000"),
        (("LOT", "--paper", "a3", "--pdf", "FILE"), "bag, tub, a4, a5, a4-tub"),
        (("LOT", "--skip", "15", "--pdf", "FILE"), "0 to 14"),
    ],
)
def test_one_clear_message_and_nothing_written(
    packs: str, tmp_path: Path, arguments: tuple[str, ...], message: str
) -> None:
    file = tmp_path / "labels.pdf"
    given = {"LOT": packs, "FILE": str(file)}
    said = refused("label", *(given.get(one, one) for one in arguments)).stderr
    assert message in said
    assert len(said.splitlines()) == 1
    assert not file.exists()


def test_help_names_every_paper() -> None:
    said = " ".join(done("label", "--help").split())
    assert "bag, tub, a5, a4 or a4-tub" in said
