"""An invented season: deliveries, batches, bottle tests, nights with blanks among them, an order.

Every figure is made up. It goes through the same use cases as a maker's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import folder_of
from baitwright.workshop.attached import Beside
from baitwright.workshop.bags import Bagging, Kept, bag
from baitwright.workshop.batch_file import BatchTable
from baitwright.workshop.batch_made import Making, made, measured_later
from baitwright.workshop.batches import plan_into
from baitwright.workshop.deliveries import Delivery, bring_in
from baitwright.workshop.demo import demo_file
from baitwright.workshop.forms import form_of
from baitwright.workshop.mixing import Mixing, mix
from baitwright.workshop.ordering import Wanted, take_order
from baitwright.workshop.packing import Packing, pack
from baitwright.workshop.people_book import record_person
from baitwright.workshop.plan_batch import plan_batch
from baitwright.workshop.prices import Asking, ask
from baitwright.workshop.reading import parse
from baitwright.workshop.recipe_shelf import keep_recipe, newest_text
from baitwright.workshop.record_forms import Filled, Told, record
from baitwright.workshop.sending import send
from baitwright.workshop.stock_words import read_amount

WATER, WAFTER, SINKER = "Long Reedpool", "copper-wafter", "chalk-sinker"
PACK = "wafters, bag of 20"
_FEWER = 64
"""Batches imagined for bands of long ago: nobody waits for their digits."""
_INVENTED = "Invented, for the demonstration."
_SHELF = (
    # item, amount, money, days it keeps, supplier, lot
    ("Eggs", "60", "14.40", 75, "Osier Farm", "E-31"),
    ("semolina", "10 kg", "9.50", 400, "Reedmill", "S-881"),
    ("maize-meal-fine", "5 kg", "6.20", 320, "Reedmill", "M-120"),
    ("maize-meal-coarse", "2 kg", "2.60", 320, "Reedmill", "M-121"),
    ("soya-flour-roasted", "5 kg", "8.90", 250, "Reedmill", "Y-044"),
    ("brewers-yeast", "2 kg", "11.00", 300, "Reedmill", "B-17"),
    ("liver-powder", "2 kg", "19.80", 85, "Withybed Supplies", "L-9"),
    ("egg-albumen", "1 kg", "16.40", 500, "Withybed Supplies", "A-3"),
    ("Malt", "500 ml", "14.50", 700, "Withybed Supplies", "F-210"),
    ("Caraway oil", "50 ml", "12.00", 600, "Withybed Supplies", "F-211"),
    ("Yeast extract", "500 ml", "9.90", 400, "Withybed Supplies", "F-212"),
    ("cork-ball 9 mm", "1500", "60.00", 0, "Withybed Supplies", "C-9"),
    ("cork-ball 8 mm", "500", "18.00", 0, "Withybed Supplies", "C-8"),
    ("bag", "100", "4.00", 0, "Withybed Supplies", ""),
    ("label", "100", "3.00", 0, "Withybed Supplies", ""),
)
_NIGHTS = (
    # days ago, bites, fish, lost, weather, water
    (33, 1, 1, 0, "overcast, light west", "9 C"),
    (27, 0, 0, 0, "clear, frost by morning", "8 C"),
    (20, 2, 1, 1, "rain, falling glass", "8 C"),
    (13, 0, 0, 0, "still, fog", "7 C"),
    (6, 0, 0, 0, "north-east, cold", "6 C"),
    (3, 1, 1, 0, "mild, south-west", "6 C"),
)


@dataclass(frozen=True, slots=True)
class _Season:
    """The notebook of a season that ends at a moment."""

    book: Notebook
    now: datetime

    def ago(self, days: int, hour: int = 9) -> datetime:
        """An hour of a day before today; never one that is still to come."""
        at = self.now.replace(hour=hour, minute=0, second=0, microsecond=0) - timedelta(days)
        return min(at, self.now)

    def write(self, kind: str, told: Mapping[str, Any], *, name: str = "", at: datetime) -> str:
        """A record; its name."""
        folder = folder_of(self.book.place)
        filled = Told(_always(told), Beside(folder, folder), name)
        return record(self.book, form_of(kind), filled, now=at).name

    def plan(self, recipe: str, *, at: datetime) -> str:
        """A planned batch; its name."""
        path, bench = demo_file(f"{recipe}.toml"), demo_file("bench-three-large-eggs.toml")
        past = None if at > self.now - timedelta(days=2) else _FEWER
        worked_out = plan_batch(path, bench, batches=past, clock=lambda: at.replace(tzinfo=None))
        return plan_into(self.book, path, worked_out, now=at).name

    def make(self, recipe: str, told: Mapping[str, Any], *, at: datetime) -> str:
        """A batch that was made; its name."""
        name = self.plan(recipe, at=at)
        making = Making(parse(told, BatchTable, where=""), _day(at, 180))
        made(self.book, name, making, now=at)
        return name


def season(book: Notebook, *, now: datetime) -> None:
    """Write the whole season, the oldest first, up to what dries today and is planned."""
    one = _Season(book, now)
    _people(one)
    _shelf(one)
    first = _first_batches(one)
    _nights(one, first)
    _sold(one, first[0])
    _today(one)


def _people(one: _Season) -> None:
    at, nowhere = one.ago(60), Beside(Path(), Path())
    for name, role in (("R. Withy", "owner of a water"), ("T. Sedge", "customer")):
        told = {"name": f"{name} (invented)", "role": role}
        record_person(one.book, Told(_always(told), nowhere), now=at)


def _always(told: Mapping[str, Any]) -> Filled:
    """What is told, whatever stands there."""
    return lambda standing: told


def _shelf(one: _Season) -> None:
    at = one.ago(58)
    for item, amount, money, keeps, supplier, lot in _SHELF:
        best = _day(at, keeps) if keeps else None
        came = Delivery(item, read_amount(amount), Decimal(money), best, supplier, lot)
        bring_in(one.book, came, now=at)
    for recipe in (WAFTER, SINKER):
        keep_recipe(one.book, demo_file(f"{recipe}.toml"), now=at)
    malt = {"supplier": "Withybed Supplies", "carrier": "propylene glycol", "hazards": "H317"}
    one.write("liquid", {**malt, "remark": _INVENTED}, name="Malt", at=at)
    softer = newest_text(one.book, "Copper wafter").replace('"10 %"\nbasis', '"8 %"\nbasis')
    keep_recipe(one.book, softer, now=one.ago(50), reason="skin too hard in cold water")
    keep_recipe(
        one.book,
        demo_file(f"{WAFTER}.toml"),
        now=one.ago(42),
        reason="softer ones wore off overnight",
    )
    mix(one.book, demo_file(f"{WAFTER}.toml"), Mixing(4.0, best_before=_day(at, 90)), now=at)


def _first_batches(one: _Season) -> tuple[str, ...]:
    names = []
    for days, baits, fresh, later in ((40, 262, "33.6 g", "28.4 g"), (25, 251, "34.4 g", "29.6 g")):
        at = one.ago(days, 18)
        told = {"baits_made": baits, "baits_good": baits - 6, "twenty_fresh": fresh}
        name = one.make(WAFTER, {**told, "egg_in_bowl": "172 g"}, at=at)
        weighed = parse({"twenty_at_8h": later, "cup_weight": "1.43 g"}, BatchTable, where="")
        measured_later(one.book, name, weighed, now=one.ago(days - 1, 8))
        bag(one.book, name, Bagging(30, 4, Kept.FREEZER), now=one.ago(days - 1, 9))
        rest = Bagging(15, 1) if days > 30 else Bagging(25, 5, Kept.FREEZER)
        bag(one.book, name, rest, now=one.ago(days - 1, 10))
        test = {
            "batch": name,
            "water": "17 C",
            "look": [
                {"on": "alone", "floated": 6, "hung": 1, "sank": 1},
                {"on": "rig", "after": "10 min", "floated": 0, "hung": 1, "sank": 7},
            ],
        }
        one.write("test", {**test, "remark": _INVENTED}, at=one.ago(days - 1, 20))
        names.append(name)
    told = {"baits_made": 330, "baits_good": 322, "twenty_fresh": "34.9 g"}
    names.append(one.make(SINKER, told, at=one.ago(11, 17)))
    bag(one.book, names[-1], Bagging(46, 7, Kept.FREEZER), now=one.ago(10, 9))
    return tuple(names)


def _nights(one: _Season, batches: tuple[str, ...]) -> None:
    for at, (days, bites, fish, lost, weather, water) in enumerate(_NIGHTS):
        fished = f"{batches[0 if days > 24 else 1]}/{1 + at % 4}"
        rods = [
            {"position": "left, 40 m, silt", "bag": fished, "bites": bites, "hours": "11 h"},
            {"position": "right, reed edge", "bag": fished, "bites": 0, "hours": "11 h"},
        ]
        told = {"water": WATER, "bites": bites, "fish": fish, "lost": lost, "weather": weather}
        more = {"water_temperature": water, "rod_hours": "22 h", "owner": "person 1"}
        one.write("night", {**told, **more, "rod": rods}, at=one.ago(days, 19))
    asked = {"question": "How much malt in winter?", "answer": "The same; the oil goes down."}
    one.write("question", {**asked, "customer": "person 2"}, at=one.ago(14))
    wrong = {"what": "Two baits cracked in the bag.", "bag": f"{batches[0]}/3", "state": "closed"}
    done = {"done": "Bag replaced.", "customer": "person 2"}
    one.write("complaint", {**wrong, **done}, at=one.ago(9))


def _sold(one: _Season, batch: str) -> None:
    at, many = one.ago(8), Amount(6, Counted.PIECES)
    pack(one.book, Packing(batch, PACK, 6, 20, 1, (("bag", many), ("label", many))), now=at)
    ask(one.book, PACK, Asking(Decimal("6.50"), wanted=Decimal("0.40")), now=at)
    for wanted, days in ((2, 7), (1, 2)):
        lines = [Wanted(PACK, Amount(wanted, Counted.PIECES))]
        day = one.ago(days)
        name = take_order(one.book, "person 2", lines, now=day, day=day.date()).order.name
        if days > 2:
            send(one.book, name, now=day, day=day.date())


def _today(one: _Season) -> None:
    """One batch that dries, one that is ready and in no bag, and one that is still to be made."""
    told = {"baits_made": 258, "twenty_fresh": "33.9 g", "boiled": "95 s"}
    one.make(WAFTER, {**told, "egg_in_bowl": "169 g"}, at=one.now - timedelta(days=1, hours=3))
    one.make(WAFTER, {**told, "baits_made": 266}, at=one.now - timedelta(hours=3))
    one.plan(WAFTER, at=one.now)


def _day(at: datetime, days: int) -> date:
    return at.date() + timedelta(days)
