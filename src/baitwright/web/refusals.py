"""How a page tells what it could not do."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from baitwright.terms.errors import InputError
from baitwright.web import render
from baitwright.web.house import house_of
from baitwright.web.lan import is_signed_in


def _tell_input(request: Request, error: Exception) -> Response:
    assert isinstance(error, InputError)
    if error.field == "notebook" and not house_of(request).notebook.is_there:
        return render.page(request, "begin.html")
    return render.refused(request, error)


def _tell_refusal(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    if request.app.state.house.lan is not None and not is_signed_in(request):
        return PlainTextResponse(str(error.detail), error.status_code)
    return render.page(
        request, "refusal.html", status=error.status_code, code=error.status_code, told=error.detail
    )


REFUSALS: Mapping[Any, Callable[[Request, Exception], Response]] = {
    InputError: _tell_input,
    HTTPException: _tell_refusal,
}
"""By the kind of error."""
