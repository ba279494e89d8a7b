"""The label of one lot that was made here: what it is, how much is in it, its day and its care."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from baitwright.ledger.entries import stands
from baitwright.ledger.movements import Amount, Counted
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Page, Revision
from baitwright.sheets.labels import Label
from baitwright.sheets.wording import count_of
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Kept
from baitwright.workshop.labels.label_care import care_of, sheets_of
from baitwright.workshop.labels.lot_allergens import made_of
from baitwright.workshop.shelf.item_units import refuse_unit
from baitwright.workshop.shelf.lots import LOT, Lot, lot_of, refuse_quarantined
from baitwright.workshop.shelf.stock import counted_as
from baitwright.workshop.tubs.tellings import BLEND
from baitwright.workshop.typed.amounts import in_words


def made_stands(page: Page, one: Revision) -> bool:
    """Whether what was bagged, packed or put together was not undone in the shelf's book."""
    if one.body is None:
        return False
    return all(stands(entry, page.entry_lines) for entry in one.body["entries"])


def label_of_bag(page: Page, bag: Revision) -> Label:
    """The label of one bag of a batch."""
    body = bag.body or {}
    label = _label(page, bag.name, count_of(body["baits"], "bait"), dated="Bagged")
    return replace(label, kept=body["kept"])


def labels_of_packs(page: Page, run: Revision) -> tuple[Label, int]:
    """The label of a packing run's packs, and how many were packed."""
    body = run.body or {}
    label = _label(page, run.name, count_of(body["each"], "bait"), dated="Packed")
    kind = ", ".join(filter(None, (body["baits"], label.kind)))
    return replace(label, kind=kind), body["packs"]


def labels_of_kits(page: Page, joined: Revision) -> tuple[Label, int]:
    """The label of a lot of kits, and how many of them were not taken apart again.

    Raises
    ------
    InputError: all of them were.
    """
    body, came = joined.body or {}, date.fromisoformat(lot_of(page, joined.name).came)
    apart = sum(one["kits"] for one in body["apart"] if stands(one["entry"], page.entry_lines))
    if apart == body["kits"]:
        raise InputError("label", joined.name, "kits that were not taken apart")
    label = _label(page, joined.name, "1 kit", dated="Packed")
    parts = _parts(page, body["entries"][0], body["kits"])
    return replace(label, kind=parts, dated="Packed", day=came), body["kits"] - apart


def is_mixed(page: Page, name: str) -> bool:
    """Whether a name is that of a tub of mix, or of a bottle that was blended here."""
    record = page.latest(LOT, name)
    if record is None or not record.body:
        return False
    lot = Lot(**record.body)
    if lot.stop == Stop.INGREDIENT and page.latest(BLEND, lot.item) is not None:
        _, first = made_of(page, name)
        return name not in first
    return lot.stop == Stop.MIX


def label_of_mixed(page: Page, name: str, net: Amount | None, *, copies: int) -> Label:
    """The label of a tub of mix or of a blend: all that it holds is in it, unless told.

    Raises
    ------
    InputError: less stands there than so many labels say.
    """
    label = _label(page, name, _net(page, name, net, copies=copies), dated="Made")
    if lot_of(page, name).stop == Stop.MIX:
        return replace(label, kind="mix for baits", kept=Kept.ROOM)
    return replace(label, kind="liquids blended for baits", sheets=sheets_of(page, name))


def _label(page: Page, name: str, content: str, *, dated: str) -> Label:
    """A label with what the notebook knows; baits of one batch have the day it was made."""
    lot, care = lot_of(page, name), care_of(page, name)
    refuse_quarantined(name, lot)
    best = lot.best_before
    return Label(
        lot.item,
        care.bait,
        content,
        name,
        dated if care.made is None else "Made",
        date.fromisoformat(care.made or lot.came),
        None if best is None else date.fromisoformat(best),
        "",
        care.allergens.holds,
        care.allergens.may_hold,
        care.allergens.unknown,
        care.cautions,
        invented=care.invented,
    )


def _parts(page: Page, entry: int, kits: int) -> str:
    """What is in one kit of a lot, as it was put together."""
    units: dict[str, int] = {}
    for line in page.entry_lines(entry):
        if line.amount < 0:
            units[line.item] = units.get(line.item, 0) - line.amount
    return "; ".join(_part(page, item, whole // kits) for item, whole in units.items())


def _part(page: Page, item: str, units: int) -> str:
    counted = counted_as(page, item)
    times = " ×" if counted is Counted.PIECES else ""
    return f"{in_words(units, counted)}{times} {item}"


def _net(page: Page, name: str, told: Amount | None, *, copies: int) -> str:
    """What each label of a tub or a bottle says is in it: all it holds unless told."""
    item = lot_of(page, name).item
    counted, held = counted_as(page, item), page.lots(item).get(name, 0)
    net = Amount(held, counted) if told is None else told
    refuse_unit(item, counted, net)
    if not 0 < net.units * copies <= held:
        accepted = (
            f"{in_words(max(held, 0), counted)} at most on all labels, which lot {name} holds"
        )
        raise InputError("net", in_words(net.units, counted), accepted)
    return f"net {in_words(net.units, counted)}"
