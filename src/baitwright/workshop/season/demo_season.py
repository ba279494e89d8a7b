"""An invented season: deliveries, batches, bottle tests, nights with blanks among them, an order.

Every figure is made up. It goes through the same use cases as a maker's own.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal
from pathlib import Path

from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.store import Notebook
from baitwright.workshop.batches.bags import Bagging, Kept, bag
from baitwright.workshop.batches.batch_made import measured_later
from baitwright.workshop.costs.prices import Asking, ask
from baitwright.workshop.forms.attached import Beside
from baitwright.workshop.questions.answer_book import answer
from baitwright.workshop.recipe_files.demo import demo_file
from baitwright.workshop.recipes.recipe_history import newest_text
from baitwright.workshop.recipes.recipe_shelf import keep_recipe
from baitwright.workshop.records.people_book import record_person
from baitwright.workshop.records.record_forms import Told
from baitwright.workshop.season import demo_data as data
from baitwright.workshop.season.demo_complaints import complained
from baitwright.workshop.season.demo_things import told_of_things
from baitwright.workshop.season.demo_writer import Season, always, on_day
from baitwright.workshop.selling.ordering import Wanted, take_order
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.selling.sending import send
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.tubs.mixing import Mixing, mix
from baitwright.workshop.typed.amounts import read_amount
from baitwright.workshop.typed.reading import parse


def season(book: Notebook, *, now: datetime) -> None:
    """Write the whole season, the oldest first, up to what dries today and is planned."""
    one = Season(book, now)
    _people(one)
    _shelf(one)
    first = _first_batches(one)
    _nights(one, first)
    _asked(one)
    _sold(one, first[0])
    _today(one)


def _people(one: Season) -> None:
    at, nowhere = one.ago(60), Beside(Path(), Path())
    for name, role in (("R. Withy", "owner of a water"), ("T. Sedge", "customer")):
        told = {"name": f"{name} (invented)", "role": role}
        record_person(one.book, Told(always(told), nowhere), now=at)


def _shelf(one: Season) -> None:
    at = one.ago(58)
    for item, amount, money, keeps, supplier, lot in data.SHELF:
        best = on_day(at, keeps) if keeps else None
        came = Delivery(item, read_amount(amount), Decimal(money), best, supplier, lot)
        bring_in(one.book, came, now=at)
    for recipe in (data.WAFTER, data.SINKER):
        keep_recipe(one.book, demo_file(f"{recipe}.toml"), now=at)
    told_of_things(one)
    softer = newest_text(one.book, "Copper wafter").replace('"10 %"\nbasis', '"8 %"\nbasis')
    keep_recipe(one.book, softer, now=one.ago(50), reason="skin too hard in cold water")
    keep_recipe(
        one.book,
        demo_file(f"{data.WAFTER}.toml"),
        now=one.ago(42),
        reason="softer ones wore off overnight",
    )
    mix(one.book, demo_file(f"{data.WAFTER}.toml"), Mixing(4.0, best_before=on_day(at, 90)), now=at)


def _first_batches(one: Season) -> tuple[str, ...]:
    names = []
    for days, baits, fresh, later in ((40, 262, "33.6 g", "28.4 g"), (25, 251, "34.4 g", "29.6 g")):
        at = one.ago(days, 18)
        told = {"baits_made": baits, "baits_good": baits - 6, "twenty_fresh": fresh}
        name = one.make(data.WAFTER, {**told, "egg_in_bowl": "172 g"}, at=at)
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
        one.write("test", {**test, "remark": data.INVENTED}, at=one.ago(days - 1, 20))
        names.append(name)
    told = {"baits_made": 330, "baits_good": 322, "twenty_fresh": "34.9 g"}
    names.append(one.make(data.SINKER, told, at=one.ago(11, 17)))
    bag(one.book, names[-1], Bagging(46, 7, Kept.FREEZER), now=one.ago(10, 9))
    return tuple(names)


def _nights(one: Season, batches: tuple[str, ...]) -> None:
    for at, (days, bites, fish, lost, weather, water) in enumerate(data.NIGHTS):
        fished = f"{batches[0 if days > 24 else 1]}/{1 + at % 4}"
        rods = [
            {"position": "left, 40 m, silt", "bag": fished, "bites": bites, "hours": "11 h"},
            {"position": "right, reed edge", "bag": fished, "bites": 0, "hours": "11 h"},
        ]
        told = {"water": data.WATER, "bites": bites, "fish": fish, "lost": lost, "weather": weather}
        more = {"water_temperature": water, "rod_hours": "22 h", "owner": "person 1"}
        one.write("night", {**told, **more, "rod": rods}, at=one.ago(days, 19))
    complained(one, batches)


def _asked(one: Season) -> None:
    told = {"question": "How much malt in winter?", "answer": "The same; the oil goes down."}
    levels = {"levels": ["Malt: 0.8 ml per egg of 50 ml"], "eggs": "3 x EU L"}
    liquid = {"carriers": ["propylene glycol"], "strengths": ["quality"]}
    thanks = {"opening": "Thank you for asking.", "closing": "Good luck at the water."}
    one.write("template", {**thanks, "remark": data.INVENTED}, name="usual", at=one.ago(15))
    whose = {"customer": "person 2", "asker": "winter order", "template": "usual"}
    asked = one.write("question", {**told, **levels, **liquid, **whose}, at=one.ago(14))
    answer(one.book, asked, now=one.ago(14))


def _sold(one: Season, batch: str) -> None:
    at, many = one.ago(8), Amount(6, Counted.PIECES)
    pack(one.book, Packing(batch, data.PACK, 6, 20, 1, (("bag", many), ("label", many))), now=at)
    ask(one.book, data.PACK, Asking(Decimal("6.50"), wanted=Decimal("0.40")), now=at)
    for wanted, days in ((2, 7), (1, 2)):
        lines = [Wanted(data.PACK, Amount(wanted, Counted.PIECES))]
        day = one.ago(days)
        name = take_order(one.book, "person 2", lines, now=day, day=day.date()).order.name
        if days > 2:
            send(one.book, name, now=day, day=day.date())


def _today(one: Season) -> None:
    """One batch that dries, one that is ready and in no bag, and two that are still to be made."""
    told = {"baits_made": 258, "twenty_fresh": "33.9 g", "boiled": "95 s"}
    one.make(data.WAFTER, {**told, "egg_in_bowl": "169 g"}, at=one.now - timedelta(days=1, hours=3))
    one.make(data.WAFTER, {**told, "baits_made": 266}, at=one.now - timedelta(hours=3))
    one.plan(data.SINKER, at=one.now)
    one.plan(data.WAFTER, at=one.now)
