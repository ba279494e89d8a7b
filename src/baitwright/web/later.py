"""What is built when the first of them knocks: the front door is to open at once."""

from __future__ import annotations

from collections.abc import Callable
from threading import Lock

from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send


class Later:
    """Stands for a part of the workshop until it is asked for something, or made ready."""

    def __init__(self, make: Callable[[], ASGIApp]) -> None:
        self._make = make
        self._made: ASGIApp | None = None
        self._making = Lock()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Build it once, then hand on."""
        made = await run_in_threadpool(self.ready) if self._made is None else self._made
        await made(scope, receive, send)

    def ready(self) -> ASGIApp:
        """Build it, unless it stands."""
        with self._making:
            if self._made is None:
                self._made = self._make()
            return self._made
