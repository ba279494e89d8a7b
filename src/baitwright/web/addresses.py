"""This machine's own addresses and names, found without asking any other."""

from __future__ import annotations

import re
import socket
import struct
import sys
from collections.abc import Iterable, Iterator
from ipaddress import IPv4Address, ip_address

from baitwright.terms.errors import InputError

LOOPBACK = "127.0.0.1"
HERE = (LOOPBACK, "localhost", "[::1]")
"""What this machine is called by itself."""
_TOWARDS = ("10.255.255.254", "172.31.255.254", "192.168.255.254", "198.51.100.1")
"""Addresses of house networks, and one that is nobody's: none of them is sent anything."""
_ASK_ADDRESS = 0x8915  # SIOCGIFADDR, netdevice(7)
_NAME = re.compile(
    r"(?=.{1,253}$)[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*"
)
_USUAL = {"http": 80, "https": 443}


def own_addresses() -> tuple[str, ...]:
    """The machine's addresses on networks of the house; those of the wide world are left out."""
    every = (ip_address(told) for told in {*_by_interface(), *_by_route()})
    return tuple(str(one) for one in sorted(every) if _is_of_a_house(one))


def own_names() -> tuple[str, ...]:
    """What this machine calls itself, as it is and as neighbours may call it."""
    name = socket.gethostname().lower()
    short = name.partition(".")[0]
    return tuple(one for one in dict.fromkeys((name, f"{short}.local")) if _NAME.fullmatch(one))


def checked_name(told: str) -> str:
    """A name or address that a maker gave this machine.

    Raises
    ------
    InputError: no name.
    """
    name = told.strip().lower()
    if not _NAME.fullmatch(name):
        raise InputError("name", told, "a name of this machine without port, such as shop.local")
    return name


def hosts_of(names: Iterable[str], port: int, *, scheme: str = "http") -> tuple[str, ...]:
    """Names as browsers send them: with their port, and without it where it is the usual one."""
    told = [f"{name}:{port}" for name in names]
    return (*told, *names) if _USUAL[scheme] == port else tuple(told)


def _is_of_a_house(one: object) -> bool:
    return isinstance(one, IPv4Address) and not (
        one.is_global or one.is_loopback or one.is_unspecified or one.is_multicast
    )


def _by_route() -> Iterator[str]:
    """The address that would be sent from; a datagram's socket that is connected sends nothing."""
    for target in _TOWARDS:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as made:
            try:
                made.connect((target, 9))
            except OSError:  # no way there
                continue
            yield made.getsockname()[0]


def _by_interface() -> Iterator[str]:
    """The first address of each interface, asked of the system where it tells it so."""
    if sys.platform != "linux":
        return
    from fcntl import ioctl

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as made:
        for _, name in socket.if_nameindex():
            try:
                told = ioctl(made, _ASK_ADDRESS, struct.pack("256s", name.encode()[:15]))
            except OSError:  # it has none
                continue
            yield socket.inet_ntoa(told[20:24])
