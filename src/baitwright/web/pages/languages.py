"""The language of the pages, as their reader chooses it for this browser."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Form, Response

from baitwright.web.deeds import leads_to
from baitwright.web.guard import holds_token
from baitwright.web.language import CHOSEN, LANGUAGES
from baitwright.web.paths import own_path

pages = APIRouter(include_in_schema=False, dependencies=[Depends(holds_token)])
_LASTS = 365 * 24 * 3600


@pages.post("/language")
def choose(language: Annotated[str, Form()] = "", to: Annotated[str, Form()] = "/") -> Response:
    """Keep the choice in a cookie, and show the same page in it."""
    answer = leads_to(own_path(to))
    if language in LANGUAGES:
        answer.set_cookie(CHOSEN, language, max_age=_LASTS, httponly=True, samesite="strict")
    else:
        answer.delete_cookie(CHOSEN, httponly=True, samesite="strict")
    return answer
