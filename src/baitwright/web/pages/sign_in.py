"""In from another device, and out again."""

from __future__ import annotations

from math import ceil

from anyio.to_thread import run_sync
from fastapi import APIRouter, Depends, HTTPException, Request
from fastapi.responses import RedirectResponse, Response

from baitwright.web.gate import ROOT, SIGN_IN
from baitwright.web.guard import holds_token
from baitwright.web.house import House
from baitwright.web.lan import Lan, is_signed_in
from baitwright.web.paths import own_path
from baitwright.web.render import alone
from baitwright.workshop.keys.sessions import LASTS

pages = APIRouter(include_in_schema=False)


@pages.get(SIGN_IN)
def ask(request: Request, to: str = "/") -> Response:
    """The page that asks for the passphrase."""
    _lan(request)
    if is_signed_in(request):
        return RedirectResponse(own_path(to), 303)
    return _page(request, to)


@pages.post(SIGN_IN)
async def sign_in(request: Request) -> Response:
    """Begin a session.

    It needs no token of a page: there is one passphrase and nothing to be signed in to but this
    workshop, and the guard has refused what comes from another site's page.
    """
    lan = _lan(request)
    async with request.form(max_files=0, max_fields=4) as form:
        told, to = str(form.get("passphrase", "")), str(form.get("to", "/"))
    address = request.client.host if request.client else ""
    async with lan.one_at_a_time:
        wait = lan.attempts.wait(address)
        if wait:
            return _page(request, to, wait=wait)
        if not await run_sync(_is_right, lan, told):
            lan.attempts.wrong(address)
            return _page(request, to, is_wrong=True)
        lan.attempts.right(address)
    lan.sessions.end(request.cookies.get(lan.cookie, ""))
    answer = RedirectResponse(own_path(to), 303)
    held, lasts = lan.sessions.begin(), int(LASTS.total_seconds())
    answer.set_cookie(
        lan.cookie, held, max_age=lasts, httponly=True, samesite="strict", secure=lan.is_tls
    )
    return answer


@pages.post("/sign-out", dependencies=[Depends(holds_token)])
def sign_out(request: Request) -> Response:
    """End the session."""
    lan = _lan(request)
    lan.sessions.end(request.cookies.get(lan.cookie, ""))
    answer = RedirectResponse(SIGN_IN, 303)
    answer.delete_cookie(lan.cookie, httponly=True, samesite="strict", secure=lan.is_tls)
    return answer


@pages.get(ROOT)
def root(request: Request) -> Response:
    """The certificate that a device may trust."""
    told = _lan(request).root
    if told is None:
        raise HTTPException(404, "Nothing is encrypted here.")
    return Response(told, media_type="application/x-x509-ca-cert")


def _is_right(lan: Lan, told: str) -> bool:
    from baitwright.workshop.keys.passphrase import is_right

    return is_right(lan.place, told)


def _page(request: Request, to: str, *, is_wrong: bool = False, wait: float = 0.0) -> Response:
    status = 429 if wait else 401 if is_wrong else 200
    told = {"to": own_path(to), "is_wrong": is_wrong, "wait": _in_words(wait), "root": ROOT}
    told["is_tls"] = _lan(request).is_tls
    answer = alone(request, "sign_in.html", status=status, **told)
    if wait:
        answer.headers["retry-after"] = str(ceil(wait))
    return answer


def _in_words(wait: float) -> tuple[str, int] | None:
    """How long to wait, as words with a number in them."""
    seconds = ceil(wait)
    if not seconds:
        return None
    if seconds < 120:
        return "%(number)s seconds", seconds
    return "%(number)s minutes", ceil(seconds / 60)


def _lan(request: Request) -> Lan:
    house: House = request.app.state.house
    if house.lan is None:
        raise HTTPException(404, "This workshop is open on its own machine alone: nobody signs in.")
    return house.lan
