"""Pages put together from templates: every text escaped, every page with what all of them share."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape
from starlette.requests import Request
from starlette.responses import HTMLResponse

from baitwright import __version__
from baitwright.materials.factors import set_said
from baitwright.sources import key_said
from baitwright.terms.errors import InputError
from baitwright.web.guard import LOOKS, TOKEN, token_of
from baitwright.web.house import House, house_of
from baitwright.web.lan import is_signed_in
from baitwright.web.language import LANGUAGES, catalogue, language_of
from baitwright.web.paths import whole_path
from baitwright.web.words import Words

ROOMS = (
    ("/", "Trays"),
    ("/plan", "Plan"),
    ("/mix", "Mix"),
    ("/batches", "Batches"),
    ("/shelf", "Shelf"),
    ("/notebook", "Notebook"),
    ("/more", "More"),
)
"""What stands in the row of doors on every page."""
PART = "x-part"
"""The header by which a script asks for one part of a page only."""
_NAMED_BY_DAY = re.compile(r"\d{4}-\d\d-\d\d(?:/\w+)*")
DONE = "done"
"""Under which a page is told which deed led to it."""


def page(request: Request, template: str, *, status: int = 200, **told: Any) -> HTMLResponse:
    """A page of the workshop.

    Parameters
    ----------
    request: what was asked.
    template: its file; a script that asks for a part gets the block of that name.
    status: of the answer.
    told: what the template tells.
    """
    from baitwright.workshop.opening.copies_kept import copied_last

    house: House = house_of(request)
    language = language_of(request)
    made = templates(language).get_template(template)
    shared = {
        "asked_path": request.url.path,
        "copied": copied_last(house.place),
        "house": house,
        "is_signed_in": is_signed_in(request),
        "is_looked_at": request.method in LOOKS,
        "languages": LANGUAGES,
        "asked_whole": whole_path(request),
        "rooms": ROOMS,
        "said": house.once.done(request.query_params.get(DONE, "")),
        "token": token_of(house),
        "token_field": TOKEN,
        "version": __version__,
    }
    part = request.headers.get(PART)
    if part in made.blocks:
        context = made.new_context({**shared, **told})
        return HTMLResponse("".join(made.blocks[part](context)), status)
    return HTMLResponse(made.render(**shared, **told), status)


def alone(request: Request, template: str, *, status: int = 200, **told: Any) -> HTMLResponse:
    """A page that shows nothing of the workshop, for who is not in it."""
    language = language_of(request)
    made = templates(language).get_template(template)
    return HTMLResponse(made.render(language=language, **told), status)


@cache
def templates(language: str) -> Environment:
    """The templates in a language, escaping all they are told."""
    made = Environment(
        loader=PackageLoader("baitwright.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )
    made.install_gettext_translations(  # type: ignore[attr-defined]
        catalogue(language), newstyle=True
    )
    made.globals["language"] = language
    own = {"whole": whole, "key": key_said, "by_set": set_said}
    made.filters |= {**Words(language).filters, **own}
    return made


def whole(told: str) -> str:
    """A text in which no name that begins with a day breaks over two lines."""
    return Markup(_NAMED_BY_DAY.sub(r'<span class="whole">\g<0></span>', str(escape(told))))


def refused(request: Request, error: InputError, *, status: int = 422) -> HTMLResponse:
    """The page that tells an error which no page of its own could tell."""
    from baitwright.workshop.forms.web_words import said_here

    return page(request, "refused.html", status=status, error=said_here(error))
