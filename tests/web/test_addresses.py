"""What this machine is called, found on it alone."""

from __future__ import annotations

import socket
from ipaddress import ip_address
from typing import Any

import pytest

from baitwright.terms.errors import InputError
from baitwright.web.addresses import checked_name, hosts_of, own_addresses, own_names


def test_every_address_is_this_machines_and_of_a_house() -> None:
    for one in own_addresses():
        assert not ip_address(one).is_global
        assert not ip_address(one).is_loopback
        with socket.create_server((one, 0)):  # only an own address can be listened on
            pass


def test_nobody_is_asked_for_them(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*told: Any, **more: Any) -> Any:
        raise AssertionError("another machine was asked")

    for asks in ("getaddrinfo", "gethostbyname", "gethostbyname_ex", "gethostbyaddr", "getfqdn"):
        monkeypatch.setattr(socket, asks, refuse)
    for sends in ("send", "sendto", "sendall"):
        monkeypatch.setattr(socket.socket, sends, refuse)
    own_addresses()
    assert own_names()


def test_addresses_of_the_wide_world_are_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    told = ("8.8.8.8", "192.168.1.20", "127.0.0.1", "0.0.0.0", "224.0.0.1", "10.0.0.3")
    monkeypatch.setattr("baitwright.web.addresses._by_interface", lambda: iter(told))
    monkeypatch.setattr("baitwright.web.addresses._by_route", lambda: iter(()))
    assert own_addresses() == ("10.0.0.3", "192.168.1.20")


def test_a_machine_has_its_name_with_and_without_its_network(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(socket, "gethostname", lambda: "Hob.kitchen.example")
    assert own_names() == ("hob.kitchen.example", "hob.local")
    monkeypatch.setattr(socket, "gethostname", lambda: "no name")
    assert own_names() == ()


@pytest.mark.parametrize(
    "told", ["", "shop.local:80", "a b", "-a", "http://shop", "*", "a..b", "x" * 64]
)
def test_what_is_no_name_is_refused(told: str) -> None:
    with pytest.raises(InputError, match=r"shop\.local"):
        checked_name(told)


def test_names_are_told_with_their_port() -> None:
    assert checked_name(" Shop.Local ") == "shop.local"
    assert hosts_of(("a", "b"), 8451) == ("a:8451", "b:8451")
    assert hosts_of(("a",), 443, scheme="https") == ("a:443", "a")
    assert hosts_of(("a",), 443) == ("a:443",)
