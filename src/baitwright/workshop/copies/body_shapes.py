"""What the entries of each kind of record must be, so that this program can read them again.

Each is read as the program reads it; what is wrong is told by whatever error comes of it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import partial
from typing import Any

from baitwright.advice.answers import from_plain
from baitwright.ledger.movements import Counted
from baitwright.notebook.attachments import CHECKSUM, PATH
from baitwright.workshop.batches.bags import BAG, Kept
from baitwright.workshop.batches.batch_hours import BATCH, PLAN, State, hours_from
from baitwright.workshop.batches.batch_needs import Wish
from baitwright.workshop.copies.exports_noted import EXPORT
from baitwright.workshop.costs.costs import ASSEMBLY, PACKING
from baitwright.workshop.costs.prices import PRICE, offer_from
from baitwright.workshop.factors.batches_seen import readable
from baitwright.workshop.factors.factors_kept import FACTORS, factors_from
from baitwright.workshop.forms.form_questions import ANSWER
from baitwright.workshop.questions.answer_copies import COPY, refuse_misshapen
from baitwright.workshop.recipes.recipe_changes import changes_between
from baitwright.workshop.recipes.recipe_shelf import KIND as RECIPE
from baitwright.workshop.selling.kits import KIT, kit_from
from baitwright.workshop.shelf.lots import LOT, Lot, place_of
from baitwright.workshop.shelf.stock import ITEM
from baitwright.workshop.strip.bench_strip import STRIP, strip_from_json
from baitwright.workshop.strip.bench_tap import TAPS, tap_from_json
from baitwright.workshop.tables.food_import import ANALYSIS, analysis_from
from baitwright.workshop.traces.order_records import order_from
from baitwright.workshop.traces.orders import ORDER
from baitwright.workshop.tubs.tellings import ENTRY, MADE_LOTS
from baitwright.workshop.typed.shape_checks import numbers, text, whole


def _recipe(body: Mapping[str, Any]) -> None:
    text(body["toml"])
    changes_between("", body["toml"])


def _lot(body: Mapping[str, Any]) -> None:
    lot = Lot(**body)
    text(lot.item, lot.came, lot.supplier, lot.supplier_lot)
    for day in (lot.came, lot.best_before or lot.came):
        date.fromisoformat(day)
    place_of("", lot)
    if not isinstance(lot.priced, bool):
        raise TypeError(f"{lot.priced!r} is neither true nor false")


def _batch(body: Mapping[str, Any]) -> None:
    text(body["about"])
    whole(body["recipe_version"])
    for low, middle, high in body["predicted"].values():
        numbers(low, middle, high)
    for wish in map(Wish.of, body["wishes"]):
        text(wish.name)
        whole(wish.per_bait, *(one.units for one in wish.amounts))
    if "hours" in body:
        hours_from(body["hours"])
    if State(body["state"]) is State.MADE:
        whole(body["baits"], *body["entries"])
        dict(body["actual"])


def _bag(body: Mapping[str, Any]) -> None:
    Kept(body["kept"])
    text(body["about"])
    date.fromisoformat(body["best_before"] or body["day"])
    whole(body["baits"], *body["entries"])


def _packing(body: Mapping[str, Any]) -> None:
    text(body["from"])
    whole(*body["entries"])


def _assembly(body: Mapping[str, Any]) -> None:
    (entry,) = body["entries"]
    text(body["item"])
    whole(entry, body["kits"])
    for one in body["apart"]:
        whole(one["kits"], one["entry"])


def _order(body: Mapping[str, Any]) -> None:
    order = order_from("", body, lambda _: ())
    text(order.customer, *(line.item for line in order.lines))
    whole(*(line.amount.units for line in order.lines))
    numbers(*(number for line in order.lines for number in (line.price, line.vat or 0)))
    whole(*(units for *_, units in body["aside"]), *(one["units"] for one in body["back"]))
    whole(*(one["entry"] for one in body["back"]))
    if body["entry"] is not None:
        whole(body["entry"])
        date.fromisoformat(body["sent_on"])


def _price(body: Mapping[str, Any]) -> None:
    offer = offer_from(body)
    numbers(offer.asked, offer.vat or 0, offer.wanted or 0, offer.step)


def _kit(body: Mapping[str, Any]) -> None:
    parts = kit_from("", body).parts
    text(*(item for item, _ in parts))
    whole(*(amount.units for _, amount in parts))


def _made_lot(body: Mapping[str, Any]) -> None:
    if body.get(ENTRY) is not None:
        whole(body[ENTRY])


SHAPES: Mapping[str, Callable[[Mapping[str, Any]], object]] = {
    RECIPE: _recipe,
    ITEM: lambda body: Counted(body["counted"]),
    LOT: _lot,
    BATCH: _batch,
    BAG: _bag,
    PACKING: _packing,
    ASSEMBLY: _assembly,
    ORDER: _order,
    PRICE: _price,
    KIT: _kit,
    **dict.fromkeys(MADE_LOTS, _made_lot),
    ANALYSIS: partial(analysis_from, ""),
    STRIP: lambda body: strip_from_json(body["steps"]),
    TAPS: lambda body: list(map(tap_from_json, body["taps"])),
    FACTORS: factors_from,
    PLAN: readable,
    EXPORT: lambda body: text(body[PATH], body[CHECKSUM]),
    ANSWER: partial(from_plain, "", 1),
    COPY: refuse_misshapen,
}
"""What reads the entries of a kind, and fails where it cannot."""
