"""A fault of ours: the terminal is told where it happened, the browser only that it did."""

from __future__ import annotations

import logging

from starlette.requests import ClientDisconnect, Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from baitwright.web.render import alone

_LOG = logging.getLogger("baitwright.web")


class Trouble:
    """Answers where nothing else could."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand on; where that fails before an answer began, answer plainly."""
        has_begun = False

        async def watched(message: Message) -> None:
            nonlocal has_begun
            has_begun = has_begun or message["type"] == "http.response.start"
            await send(message)

        try:
            await self._app(scope, receive, watched)
        except ClientDisconnect:  # nobody is there to be answered
            return
        except Exception:
            if scope["type"] != "http" or has_begun:
                raise
            _LOG.exception("our fault, at %r", scope["path"])
            await alone(Request(scope), "trouble.html", status=500)(scope, receive, send)
