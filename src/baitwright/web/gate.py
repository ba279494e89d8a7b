"""Nobody comes past the door to other devices without a session but to sign in."""

from __future__ import annotations

from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from baitwright.web.guard import LOOKS, limited
from baitwright.web.house import House
from baitwright.web.paths import whole_path
from baitwright.web.render import alone

SIGN_IN, ROOT = "/sign-in", "/certificate.crt"
_OPEN = (SIGN_IN, ROOT)
_STATIC = "/static/"
_MOST_SENT = 4_000
"""Bytes from whoever is not signed in (judgement): a passphrase and where to go next."""


class Gate:
    """Stands behind the guard; where only this machine may ask, it lets all pass."""

    def __init__(self, app: ASGIApp, house: House) -> None:
        self._app, self._house = app, house

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let pass who is signed in, or who wants to sign in."""
        lan = self._house.lan
        if scope["type"] != "http" or lan is None:
            await self._app(scope, receive, send)
            return
        request = Request(scope)
        is_in = lan.sessions.is_on(request.cookies.get(lan.cookie, ""))
        request.state.is_signed_in = is_in
        path: str = scope["path"]
        if is_in:
            await self._app(scope, receive, send)
        elif path in _OPEN or path.startswith(_STATIC):
            await self._app(scope, limited(receive, _MOST_SENT), send)
        else:
            await _sent_away(request)(scope, receive, send)


def _sent_away(request: Request) -> Response:
    """To the sign-in page, and back from there; a script is only told."""
    if "text/html" not in request.headers.get("accept", ""):
        return JSONResponse({"detail": "Sign in first."}, 401)
    if request.method in LOOKS:
        return RedirectResponse(f"{SIGN_IN}?to={quote(whole_path(request), safe='/')}", 303)
    return alone(request, "signed_out.html", status=401)
