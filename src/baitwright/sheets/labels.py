"""Labels for bags, packs, kits, tubs and bottles: what is in it, which lot, until when."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

from baitwright.materials.labels import LabelSize, code_limit, label_sizes
from baitwright.sheets.breakable import breakable
from baitwright.sheets.tables import lines_of
from baitwright.sheets.typeset import pdf_of
from baitwright.sheets.wording import calendar_day
from baitwright.terms.errors import InputError

_TEMPLATE = Path(__file__).with_name("labels.typ")
_NO_ROOM = "no room on the label"
"""What the template says where the words of a label do not fit in print that can be read."""
_PIECE = 16
"""Letters of a word after which it may be broken: as many as fit beside the code."""


@dataclass(frozen=True, slots=True)
class Label:
    """What a bag, a pack, a kit, a tub or a bottle says of itself.

    ``kind`` says what bait or mix it is, ``content`` how many or how much, ``dated`` whether it was
    made or packed on its ``day``, ``cautions`` are ids of the cautions' table,
    ``sheets`` what is known of the safety data sheets of a blend's liquids.
    """

    name: str
    kind: str
    content: str
    lot: str
    dated: str
    day: date
    best_before: date | None
    kept: str
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    unknown: tuple[str, ...]
    cautions: tuple[str, ...]
    maker: str = ""
    sheets: str = ""
    invented: bool = False


@dataclass(frozen=True, slots=True)
class Code:
    """A lot as a QR code: its picture, and modules from edge to edge with the quiet zone."""

    picture: str
    modules: int


def lot_code(lot: str, size: LabelSize) -> Code:
    """The code of a lot, with as much of it readable when torn as its size allows.

    Raises
    ------
    InputError: a lot so long that its modules would be too small on this label.
    """
    import segno  # only those who print labels pay

    try:
        made = segno.make(lot, error="M", micro=False)
    except segno.DataOverflowError:
        raise _too_long(lot, size) from None
    quiet = round(code_limit("quiet-zone"))
    modules = round(made.symbol_size(border=quiet)[0])
    if size.code / modules < code_limit("least-module"):
        raise _too_long(lot, size)
    picture = io.BytesIO()
    made.save(picture, kind="svg", border=quiet, xmldecl=False, nl=False, omitsize=True)
    return Code(picture.getvalue().decode(), modules)


def label_pages(labels: Iterable[tuple[Label, int]], size: LabelSize, *, skip: int = 0) -> bytes:
    """Labels as a PDF, each so many times, tagged for screen readers; black on white.

    The same labels give the same bytes: the file is dated by the last day on them.

    Parameters
    ----------
    labels: each with how many of it are wanted.
    size: of page and label.
    skip: places of the first page to leave free, for a sheet that was begun.

    Raises
    ------
    InputError: words or a lot that do not fit on this size, or more places than a page has.
    """
    import typst

    told = tuple(labels)
    if not 0 <= skip < size.places:
        raise InputError("skip", skip, f"places of a page to leave free, 0 to {size.places - 1}")
    data = {
        "title": f"Labels: {', '.join(dict.fromkeys(one.name for one, _ in told))}",
        "size": {key: 1e3 * getattr(size, key) for key in _LENGTHS},
        "across": size.across,
        "down": size.down,
        "skip": skip,
        "labels": [{"copies": count, **label_data(one, size)} for one, count in told],
    }
    last = max(one.day for one, _ in told)
    try:
        return pdf_of(_TEMPLATE, data, moment=datetime.combine(last, time()))
    except typst.TypstError as error:
        if _NO_ROOM not in str(error):
            raise
        raise _too_full(size) from None


_LENGTHS = ("page_width", "page_height", "label_width", "label_height", "code", "gap")


def label_data(label: Label, size: LabelSize) -> dict[str, Any]:
    """Everything a label prints, as text."""
    best = label.best_before
    return {
        "name": breakable(label.name, _PIECE),
        "kind": breakable(label.kind, _PIECE),
        "content": label.content,
        "lot": breakable(label.lot, _PIECE),
        "made": made_words(label),
        "best_before": "" if best is None else calendar_day(best),
        "keep": keeping_words(label),
        "allergens": breakable(allergen_words(label), _PIECE),
        "cautions": caution_words(label),
        "sheets": label.sheets,
        "maker": breakable(label.maker, _PIECE),
        "invented": label.invented,
        "code": asdict(lot_code(label.lot, size)),
    }


def label_text(label: Label) -> str:
    """The same words for a terminal."""
    lines = [
        "invented demo" if label.invented else "",
        ", ".join(filter(None, (label.name, label.kind, label.content))),
        f"Lot {label.lot}. {made_words(label)}.",
        " ".join(filter(None, (f"Best before: {best_words(label)}.", keeping_words(label)))),
        allergen_words(label),
        caution_words(label),
        label.sheets,
        label.maker,
    ]
    return "\n".join(line for line in lines if line)


def made_words(label: Label) -> str:
    """The day it was made or packed."""
    return f"{label.dated} {calendar_day(label.day)}"


def best_words(label: Label) -> str:
    """The day until which it is at its best, or that nobody told."""
    return "not told" if label.best_before is None else calendar_day(label.best_before)


def keeping_words(label: Label) -> str:
    """How to keep it; nothing where nobody said."""
    words = {one["id"]: one["text"] for one in lines_of("label_keeping", ("id", "text"))}
    return words[label.kept] if label.kept else ""


def caution_words(label: Label) -> str:
    """Its cautions in the words that labels have for them, in the order of the table."""
    lines = lines_of("label_cautions", ("id", "text"))
    return " ".join(one["text"] for one in lines if one["id"] in label.cautions)


def allergen_words(label: Label) -> str:
    """Which allergens are in it, may be in it, and of what nothing is known."""
    told = {
        "Contains": label.contains,
        "May contain": label.may_contain,
        "Allergens not known of": label.unknown,
    }
    words = " ".join(f"{how} {', '.join(names)}." for how, names in told.items() if names)
    return words or "None of the fourteen allergen groups, as far as its labels tell."


def _too_full(size: LabelSize) -> InputError:
    area = size.label_width * size.label_height
    larger = [one.id for one in label_sizes().values() if one.label_width * one.label_height > area]
    room = f"a larger label: {' or '.join(larger)}" if larger else "fewer words, such as --maker"
    return InputError("paper", size.id, f"{room}, for these words in print that can be read")


def _too_long(lot: str, size: LabelSize) -> InputError:
    least = code_limit("least-module")
    accepted = f"one whose code has modules of {1e3 * least:g} mm at least on {size.name}"
    return InputError("lot", lot, accepted, hint="A larger label has room for a longer name.")
