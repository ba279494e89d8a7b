"""The door for programs; its document takes a while to write.

Every refusal has one of the shapes that the document tells.
"""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import Response
from starlette.exceptions import HTTPException as Refusal

from baitwright import __version__
from baitwright.terms.errors import InputError
from baitwright.web.api.answers import Answer, said

_ABOUT = """The workshop's use cases for other programs on this machine. What is asked of a plan has
the fields of a recipe file and a bench file, with the units a maker writes. What changes something
needs the header x-baitwright-token, which /token tells."""


def make_api(state: Any) -> FastAPI:
    """The API over a workshop's state."""
    from baitwright.web.api import desk, notebook, plans, records

    api = FastAPI(
        title="Baitwright",
        version=__version__,
        description=_ABOUT,
        docs_url=None,  # its pages would fetch scripts from elsewhere
        redoc_url=None,
        default_response_class=Answer,
    )
    api.state = state
    for part in (plans.asks, notebook.asks, records.asks, desk.asks):
        api.include_router(part)
    api.add_exception_handler(InputError, _tell_input)
    api.add_exception_handler(RequestValidationError, _tell_unread)
    api.add_exception_handler(Refusal, _tell_refusal)
    api.add_exception_handler(Exception, _tell_fault)
    return api


def _tell_input(request: Request, error: Exception) -> Response:
    assert isinstance(error, InputError)
    return said({"detail": _detail(error)}, 422)


def _tell_unread(request: Request, error: Exception) -> Response:
    from baitwright.web.api.unread import first_wrong

    assert isinstance(error, RequestValidationError)
    return said({"detail": _detail(first_wrong(error))}, 422)


def _tell_refusal(request: Request, error: Exception) -> Response:
    assert isinstance(error, Refusal)
    answer = said({"detail": str(error.detail)}, error.status_code)
    answer.headers.update(error.headers or {})
    return answer


def _tell_fault(request: Request, error: Exception) -> Response:
    """The browser hears no more than that; the terminal hears all."""
    return said({"detail": "This is our fault, not yours."}, 500)


def _detail(error: InputError) -> dict[str, str]:
    return {"field": error.field, "accepted": error.accepted, "message": str(error)}
