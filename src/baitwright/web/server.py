"""The web workshop served on this machine, and shown in the browser."""

from __future__ import annotations

import socket
import webbrowser
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import uvicorn

from baitwright.terms.errors import InputError
from baitwright.web.addresses import HERE, LOOPBACK, hosts_of, own_addresses, own_names
from baitwright.web.app import make_app
from baitwright.web.house import House
from baitwright.web.lan import Lan
from baitwright.web.once import Once
from baitwright.workshop.keys.door_key import door_key
from baitwright.workshop.keys.door_marks import DoorMarks
from baitwright.workshop.keys.sessions import Sessions
from baitwright.workshop.opening.standing import Standing
from baitwright.workshop.told.extras import need_extra

if TYPE_CHECKING:
    from baitwright.workshop.keys.certificate import Certificate

USUAL_PORT = 8451
LONGEST_HEAD = 65_536
"""Bytes of a request's head: an address may hold two whole plans, and the page before it too."""
_TRIED = 20
"""Ports after the usual one that are tried where it is taken."""


@dataclass(frozen=True, slots=True)
class Network:
    """How other devices reach the workshop.

    Parameters
    ----------
    names: what this machine is called besides.
    is_tls: whether nobody on the way is to read along.
    """

    names: tuple[str, ...] = ()
    is_tls: bool = False


@dataclass(frozen=True, slots=True)
class Door:
    """How the workshop is to be reached.

    Parameters
    ----------
    port: to listen on; the usual one, or the next that is free, unless told.
    shows: whether the browser is to be opened.
    network: how other devices reach it; not at all unless told.
    """

    port: int | None = None
    shows: bool = True
    network: Network | None = None


@dataclass(frozen=True, slots=True)
class Opened:
    """A workshop with its sockets, ready to be served.

    Parameters
    ----------
    house: the workshop.
    sockets: that listen.
    addresses: where it is found, this machine's own first.
    certificate: what it is encrypted with, if it is.
    """

    house: House
    sockets: tuple[socket.socket, ...]
    addresses: tuple[str, ...]
    certificate: Certificate | None = None

    @property
    def server(self) -> uvicorn.Config:
        """How it is served: nothing is logged of what is asked, and no word of another server of
        who asks is believed.
        """
        quiet: dict[str, Any] = {"log_level": "warning", "access_log": False, "ws": "none"}
        quiet["h11_max_incomplete_event_size"] = LONGEST_HEAD
        if self.certificate is not None:
            quiet |= {
                "ssl_certfile": self.certificate.chain,
                "ssl_keyfile": self.certificate.key,
            }
        app = make_app(self.house)
        return uvicorn.Config(app, server_header=False, proxy_headers=False, **quiet)


class _Server(uvicorn.Server):
    """Says where it is, and shows it, once it listens."""

    def __init__(self, opened: Opened, *, shows: bool) -> None:
        super().__init__(opened.server)
        self._opened, self._shows = opened, shows

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to listen."""
        await super().startup(sockets)
        own, *others = self._opened.addresses
        print(f"the workshop is open: {own}   (Ctrl-C closes it)", flush=True)
        if others:
            from baitwright.web.told_at_door import told_at_door

            print(told_at_door(others, self._opened.certificate), flush=True)
        if self._shows:
            webbrowser.open(own)


def serve(notebook: Standing, door: Door, *, is_demo: bool = False) -> None:
    """Serve the workshop until Ctrl-C.

    Raises
    ------
    InputError: the port is taken, or there is no network.
    """
    opened = opened_at(notebook, door, is_demo=is_demo)
    _Server(opened, shows=door.shows).run(sockets=list(opened.sockets))


def opened_at(notebook: Standing, door: Door, *, is_demo: bool = False) -> Opened:
    """A workshop on its sockets.

    Raises
    ------
    InputError: the port is taken, or there is no network.
    """
    if door.network is None:
        taken = listening(door.port)
        port = taken.getsockname()[1]
        once = Once(DoorMarks(notebook.place))
        hosts = hosts_of(HERE, port)
        house = House(notebook, door_key(notebook.place), hosts, is_demo=is_demo, once=once)
        return Opened(house, (taken,), (f"http://{LOOPBACK}:{port}/",))
    own = own_addresses()
    if not own:
        hint = "Is it connected? Addresses that the whole world reaches are not opened."
        raise InputError("lan", None, "a machine with an address on a network of yours", hint=hint)
    sockets = listening_at(door.port, (LOOPBACK, *own))
    return _on_network(notebook, door.network, own=own, sockets=sockets, is_demo=is_demo)


def _on_network(
    notebook: Standing,
    network: Network,
    *,
    own: Sequence[str],
    sockets: tuple[socket.socket, ...],
    is_demo: bool,
) -> Opened:
    place, port = notebook.place, sockets[0].getsockname()[1]
    names = (*HERE, *own, *own_names(), *network.names)
    scheme, made = "http", None
    if network.is_tls:
        need_extra("lan", "cryptography")
        from baitwright.workshop.keys.certificate import certificate

        scheme, made = "https", certificate(place, names, now=notebook.clock())
    lan = Lan(place, Sessions(place, clock=notebook.clock), root=made.root if made else None)
    hosts = hosts_of(names, port, scheme=scheme)
    once = Once(DoorMarks(place))
    house = House(notebook, door_key(place), hosts, is_demo=is_demo, lan=lan, once=once)
    told = (LOOPBACK, *own, *network.names)
    return Opened(house, sockets, tuple(f"{scheme}://{one}:{port}/" for one in told), made)


def listening(port: int | None) -> socket.socket:
    """A socket on this machine's own address; 0 is any free port.

    Raises
    ------
    InputError: the port is taken, or all that were tried.
    """
    return listening_at(port, (LOOPBACK,))[0]


def listening_at(port: int | None, addresses: Sequence[str]) -> tuple[socket.socket, ...]:
    """Sockets of one port on several addresses; 0 is any free port of the first.

    Raises
    ------
    InputError: the port is taken on one of them, or all that were tried.
    """
    tried = range(USUAL_PORT, USUAL_PORT + _TRIED) if port is None else (port,)
    for one in tried:
        made: list[socket.socket] = []
        try:
            for address in addresses:
                number = made[0].getsockname()[1] if made else one
                made.append(socket.create_server((address, number)))
        except OSError:
            for taken in made:
                taken.close()
            continue
        return tuple(made)
    accepted = "a port that no other program listens on"
    raise InputError("port", port or f"{tried[0]} to {tried[-1]}", accepted)
