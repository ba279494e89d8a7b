"""Planning keeps a core busy for a second: a few plan at once, and the others wait for their turn.

They wait before they are given a thread, so that whoever writes or only looks finds one free.
"""

from __future__ import annotations

from collections.abc import AsyncIterator

from fastapi import Depends, Request
from starlette.requests import ClientDisconnect

from baitwright.web.in_house import InHouse


async def _in_turn(request: Request, house: InHouse) -> AsyncIterator[None]:
    async with house.planners:
        if request.method == "GET" and await request.is_disconnected():
            raise ClientDisconnect  # whoever types has typed on and asks anew
        yield


IN_TURN = Depends(_in_turn, scope="function")
"""The dependency of every page that plans; the turn ends before the answer is sent."""
