"""Looking after the notebook: copies, everything in one file, and what is to be destroyed."""

from __future__ import annotations

from functools import cache
from typing import Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import FileResponse, HTMLResponse, Response
from starlette.background import BackgroundTask

from baitwright.terms.errors import InputError
from baitwright.web.deeds import Deed, Doing, Of, Stands, Told, add_all, here, leads_to
from baitwright.web.files import ARCHIVE, kept_upload
from baitwright.web.guard import holds_token
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import FIELD, Done
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)
_HOLDS = [Depends(holds_token)]


@pages.get("/care")
def care(request: Request, house: InHouse) -> HTMLResponse:
    """The copies there are, and what can be done with the whole notebook."""
    from baitwright.notebook.plain_pages import pages_beside
    from baitwright.workshop.copies.purge import PURGED
    from baitwright.workshop.opening.copies_kept import copies

    told: dict[str, Any] = {"copies": copies(house.place), "kinds": PURGED}
    told |= {"place": str(house.place), "pages": str(pages_beside(house.place))}
    return page(request, "care.html", **told, once=house.once.mark())


@pages.post("/care/copy", dependencies=_HOLDS)
def copy_now(house: InHouse, form: Told) -> Response:
    """Copy the notebook into the folder beside it."""
    from baitwright.workshop.opening.notebook_care import copy_now

    def deed() -> Done:
        made = copy_now(house.place, clock=house.notebook.clock)
        return Done("/care", "Copied, opened and found sound: %(name)s", {"name": made.name})

    mark, led = house.once.do(str(form.get(FIELD, "")), deed)
    return leads_to(led.to, mark)


@pages.post("/care/export", dependencies=_HOLDS)
def export(house: InHouse) -> Response:
    """Everything in one zip, handed to the browser; where it went is written down for a purge."""
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.workshop.copies.exports_noted import export_to_hand

    with house.notebook.writing() as book:
        path = export_to_hand(book, files=shelf_beside(house.place), now=house.now)
    gone = BackgroundTask(path.unlink, missing_ok=True)
    return FileResponse(path, media_type=ARCHIVE, filename=path.name, background=gone)


def _copy(house: House, of: Of) -> Stands:
    from baitwright.workshop.opening.copies_kept import copy_named

    return Stands(shown={"copy": copy_named(house.place, of.get("copy", ""))})


def _restore(doing: Doing) -> Done:
    from baitwright.workshop.opening.copies_kept import copy_named

    path = copy_named(doing.house.place, doing.of.get("copy", "")).path
    put = doing.house.notebook.put_back(path)
    if put.replaced is None:
        return Done("/care", "Put back: %(name)s", {"name": path.name})
    said = "Put back: %(name)s. What it replaced is kept as %(replaced)s"
    return Done("/care", said, {"name": path.name, "replaced": put.replaced.name})


def _upload(doing: Doing) -> Done:
    return Done(here("/care/import/look", file=kept_upload(doing, "export.zip").mark))


def _looked(house: House, of: Of) -> Stands:
    from baitwright.workshop.copies.exchange_words import what_comes
    from baitwright.workshop.copies.import_looked import looked_at

    waits = house.uploads.waiting(of.get("file", ""))
    found = looked_at(house.place, waits.path, now=house.now)
    is_open = not (found.is_decided or found.hindrances)
    shown = {"lines": tuple(what_comes(found)), "is_open": is_open, "hindered": found.hindrances}
    return Stands(shown={**shown, "file": waits})


def _import(doing: Doing) -> Done:
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.workshop.copies.exchange_words import imported_text
    from baitwright.workshop.copies.import_all import import_all
    from baitwright.workshop.copies.import_looked import wish_of

    house, waits = doing.house, doing.house.uploads.waiting(doing.of.get("file", ""))
    wish = wish_of(doing.told.keep, now=house.now)
    with house.notebook.writing() as book:
        found = import_all(book, waits.path, files=shelf_beside(house.place), wish=wish)
    if not found.is_done:
        raise InputError("keep", None, "mine or theirs: some records differ")
    house.uploads.drop(waits.mark)
    return Done("/care", imported_text(found).replace(str(waits.path), waits.name))


def _loss(house: House, of: Of) -> Stands:
    from baitwright.workshop.copies.purge import loss_of
    from baitwright.workshop.copies.purge_words import what_goes, what_stays

    with house.notebook.looking() as book:
        loss = loss_of(book, *_named(of), questions=bool(of.get("questions")))
    told = {"goes": tuple(what_goes(loss)), "stays": tuple(what_stays(loss))}
    return Stands(shown={**told, "typed_name": loss.name})


def _named(of: Of) -> tuple[str, str]:
    return of.get("kind", ""), of.get("name", "")


def _purge(doing: Doing) -> Done:
    from baitwright.workshop.copies.purge import loss_of, purge
    from baitwright.workshop.copies.purge_words import purged_text

    doing.house.notebook.settle()
    with doing.house.notebook.writing() as book:
        loss = loss_of(book, *_named(doing.of), questions=bool(doing.of.get("questions")))
        if doing.told.typed.strip() != loss.name:
            raise InputError("typed", doing.told.typed, f"{loss.name}, letter by letter")
        left = purge(book, loss, now=doing.house.now)
    return Done("/care", purged_text(loss, left))


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.shelf.deed_tables import KeepTable, Nothing, PurgeTable

    return {
        "restore": Deed(
            "Put a copy back",
            "Put it back",
            Nothing,
            _restore,
            stands=_copy,
            about="What stands in the notebook now is copied first, then replaced by this copy.",
            back="/care",
            template="restore.html",
        ),
        "import": Deed(
            "Bring in an export",
            "Look at it",
            Nothing,
            _upload,
            about="The zip of an export. It is held against your notebook before it comes in.",
            back="/care",
            file=".zip,application/zip",
        ),
        "import/look": Deed(
            "The export",
            "Bring it in",
            KeepTable,
            _import,
            stands=_looked,
            about="The notebook is copied before. Nothing that is there is overwritten.",
            back="/care/import",
            template="import_look.html",
        ),
        "purge": Deed(
            "Purge",
            "Destroy it for good",
            PurgeTable,
            _purge,
            stands=_loss,
            caution="Nothing brings it back: it goes from the notebook, its copies and its pages.",
            back="/care",
            template="purge.html",
        ),
    }


_NAMES = ("restore", "import", "import/look", "purge")
add_all(pages, "/care", _NAMES, deeds=deeds)
