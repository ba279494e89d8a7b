"""A year in words, for programs and as pictures."""

from __future__ import annotations

from dataclasses import asdict
from decimal import Decimal

from baitwright.sheets.picture_year import months_picture, readings_picture
from baitwright.sheets.svg import Picture
from baitwright.workshop.told.worth_words import as_json, known
from baitwright.workshop.years.year import YearReport
from baitwright.workshop.years.year_book import Paid
from baitwright.workshop.years.year_told import cost_told, learned_told, made_told, wrong_told


def year_text(told: YearReport) -> str:
    """The whole year, a line each thing."""
    parts = (
        ("What was made", made_told(told)),
        ("What it cost", cost_told(told)),
        ("What went wrong", wrong_told(told)),
        ("What was learned", learned_told(told)),
    )
    lines = [f"{told.year}{' so far' if told.so_far else ''}"]
    for title, found in parts:
        lines += ["", title, *(f"  {one}" for one in found)]
    return "\n".join(lines)


def year_json(told: YearReport) -> str:
    """The same for programs; money as text, nothing where it is not known."""
    made = [{**asdict(one), "cost": _known(one.cost)} for one in told.made]
    lost = [{**asdict(one), "cost": _known(one.cost)} for one in told.wrong.lost]
    sold = told.sold and {**asdict(told.sold), "left": told.sold.money}
    money = {key: _known(getattr(told, key)) for key in ("cost", "bought", "unordered")}
    wrong = {**asdict(told.wrong), "lost": lost}
    return as_json(
        {**asdict(told), **money, "made": made, "sold": sold, "wrong": wrong, "baits": told.baits}
    )


def year_pictures(told: YearReport) -> tuple[Picture, ...]:
    """The year drawn; no picture of what there is nothing of."""
    drawn = []
    if told.baits:
        drawn.append(months_picture(told.months, title=f"{told.year}: month by month"))
    if told.learned.readings:
        rows = [(one.label, one.over_planned, one.inside) for one in told.learned.readings]
        drawn.append(readings_picture(rows, title=f"{told.year}: read against planned"))
    return tuple(drawn)


def _known(told: Paid) -> dict[str, Decimal | int | None]:
    return {"value": known(told.value, whole=told.whole), "lots_without_price": told.unpriced}
