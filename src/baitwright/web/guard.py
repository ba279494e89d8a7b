"""Who may ask, and what a browser may do with the answer.

Every request has to name a host this workshop goes by, which keeps a stranger's domain from being
pointed here. What changes something has to come from one of our own pages: the browser says so by
Sec-Fetch-Site or Origin, and a token that only our pages hold says it again.
"""

from __future__ import annotations

import hmac
import re
from hashlib import sha256

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from baitwright.web.house import House, house_of

TOKEN = "token"
"""The field, and `x-baitwright-token` the header, in which a page sends its token back."""
HEADER = f"x-baitwright-{TOKEN}"
MOST_SENT = 32_000_000
"""Bytes of one request (judgement): a photo fits, a film does not."""
LOOKS = ("GET", "HEAD", "OPTIONS")
"""Ways of asking that change nothing."""
_UNROUTED = re.compile("[\x00-\x1f\x7f]")
"""No path of ours has these, and a line's end leads past the routes."""
_CONTENT = "; ".join(
    (
        "default-src 'none'",
        *(
            f"{kind}-src 'self'"
            for kind in ("script", "style", "font", "connect", "manifest", "worker")
        ),
        "img-src 'self' data:",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
_ANSWERS = {
    "content-security-policy": _CONTENT,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}


class Guard:
    """Stands before the whole workshop."""

    def __init__(self, app: ASGIApp, house: House) -> None:
        self._app, self._house = app, house

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse, or let in and mark the answer."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)

        async def marked(message: Message) -> None:
            if message["type"] == "http.response.start":
                answer = MutableHeaders(scope=message)
                for name, told in _ANSWERS.items():
                    answer.setdefault(name, told)
                answer.setdefault("cache-control", "no-store")
            await send(message)

        refused = self._refused(scope["method"], headers, scheme=scope["scheme"])
        if _UNROUTED.search(scope["path"]):
            refused = PlainTextResponse("No path of this workshop has such letters.", 400)
        if refused is not None:
            await refused(scope, receive, marked)
            return
        await self._app(scope, limited(receive), marked)

    def _refused(self, method: str, headers: Headers, *, scheme: str) -> PlainTextResponse | None:
        host, length = headers.get("host", "").lower(), headers.get("content-length", "0")
        if host not in self._house.hosts:
            return PlainTextResponse("This workshop does not go by that name.", 400)
        if not length.isdecimal():
            return PlainTextResponse("How long that is has to be a number.", 400)
        if int(length) > MOST_SENT:
            return PlainTextResponse("That is more than one page may send.", 413)
        if method not in LOOKS and not _is_ours(headers, f"{scheme}://{host}"):
            return PlainTextResponse("That came from another site's page.", 403)
        return None


def _is_ours(headers: Headers, here: str) -> bool:
    """What the browser says of the page that asks; a program that is no browser says nothing."""
    site, origin = headers.get("sec-fetch-site", "none"), headers.get("origin")
    is_here = origin is None or origin.lower() == here
    return is_here and site in ("same-origin", "none")


def limited(receive: Receive, most: int = MOST_SENT) -> Receive:
    """What is sent without saying how much it is stops at the same limit."""
    came = 0

    async def counted() -> Message:
        nonlocal came
        message = await receive()
        came += len(message.get("body", b""))
        if came > most:
            raise HTTPException(413, "That is more than one page may send.")
        return message

    return counted


def token_of(house: House) -> str:
    """What our own pages send back with every change; it outlives a restart of the workshop."""
    return hmac.new(house.key, b"page", sha256).hexdigest()


async def holds_token(request: Request) -> None:
    """Refuse a change whose page does not hold our token.

    Raises
    ------
    HTTPException: 403.
    """
    told = request.headers.get(HEADER)
    if told is None and "form" in request.headers.get("content-type", ""):
        told = str((await request.form()).get(TOKEN, ""))
    if not hmac.compare_digest((told or "").encode(), token_of(house_of(request)).encode()):
        raise HTTPException(403, "That page is not ours, or too old: load it again.")
