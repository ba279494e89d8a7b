"""The web workshop served on this machine, and shown in the browser."""

from __future__ import annotations

import socket
import webbrowser
from dataclasses import dataclass
from typing import Any

import uvicorn

from baitwright.terms.errors import InputError
from baitwright.web.app import make_app
from baitwright.web.house import House
from baitwright.workshop.door_key import door_key
from baitwright.workshop.standing import Standing

LOOPBACK = "127.0.0.1"
USUAL_PORT = 8451
LONGEST_HEAD = 65_536
"""Bytes of a request's head: an address may hold two whole plans, and the page before it too."""
_TRIED = 20
"""Ports after the usual one that are tried where it is taken."""


@dataclass(frozen=True, slots=True)
class Door:
    """How the workshop is to be reached.

    Parameters
    ----------
    port: to listen on; the usual one, or the next that is free, unless told.
    shows: whether the browser is to be opened.
    """

    port: int | None = None
    shows: bool = True


class _Server(uvicorn.Server):
    """Says where it is, and shows it, once it listens."""

    def __init__(self, config: uvicorn.Config, address: str, *, shows: bool) -> None:
        super().__init__(config)
        self._address, self._shows = address, shows

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to listen."""
        await super().startup(sockets)
        print(f"the workshop is open: {self._address}   (Ctrl-C closes it)", flush=True)
        if self._shows:
            webbrowser.open(self._address)


def serve(notebook: Standing, door: Door, *, is_demo: bool = False) -> None:
    """Serve the workshop until Ctrl-C.

    Raises
    ------
    InputError: the port is taken.
    """
    taken = listening(door.port)
    port = taken.getsockname()[1]
    names = (f"{name}:{port}" for name in (LOOPBACK, "localhost", "[::1]"))
    house = House(notebook, door_key(notebook.place), tuple(names), is_demo=is_demo)
    quiet: dict[str, Any] = {"log_level": "warning", "access_log": False}
    longest: dict[str, Any] = {"h11_max_incomplete_event_size": LONGEST_HEAD}
    config = uvicorn.Config(make_app(house), server_header=False, **quiet, **longest)
    server = _Server(config, f"http://{LOOPBACK}:{port}/", shows=door.shows)
    server.run(sockets=[taken])


def listening(port: int | None) -> socket.socket:
    """A socket on this machine's own address; 0 is any free port.

    Raises
    ------
    InputError: the port is taken, or all that were tried.
    """
    tried = range(USUAL_PORT, USUAL_PORT + _TRIED) if port is None else (port,)
    for one in tried:
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            made.bind((LOOPBACK, one))
        except OSError:
            made.close()
            continue
        return made
    accepted = "a port that no other program listens on"
    raise InputError("port", port or f"{tried[0]} to {tried[-1]}", accepted)
