"""Served for real to the network: encrypted, by its own names alone, and telling no secret."""

from __future__ import annotations

import os
import re
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx2
import pytest

from baitwright.web.addresses import own_addresses
from baitwright.web.guard import TOKEN, token_of
from baitwright.web.server import Door, Network, Opened, listening, opened_at
from baitwright.web.told_at_door import told_at_door
from baitwright.workshop.keys.passphrase import keep_passphrase
from baitwright.workshop.opening.standing import Standing
from tests.architecture.tree import ROOT
from tests.web.network import HTML, PASSPHRASE, served_on_lan

ON_NETWORK = pytest.mark.skipif(not own_addresses(), reason="this machine is on no network")
LOUD = """
import logging, sys
from pathlib import Path
import uvicorn
from starlette.routing import Route
logging.basicConfig(level=1)
from baitwright.web.server import Door, Network, opened_at
from baitwright.workshop.opening.standing import Standing

def fault(request):
    raise RuntimeError("inner words")

opened = opened_at(Standing(Path(sys.argv[1])), Door(0, network=Network(is_tls=True)))
config = opened.server
config.app.router.routes.insert(0, Route("/fault", fault))
for name in ("uvicorn", "uvicorn.error", "uvicorn.access", "uvicorn.asgi", "asyncio"):
    logging.getLogger(name).setLevel(1)
print("AT", opened.addresses[0], flush=True)
uvicorn.Server(config).run(sockets=list(opened.sockets))
"""


def trusting(root: bytes) -> ssl.SSLContext:
    """What trusts this root and nothing else, as strictly as can be told."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.load_verify_locations(cadata=root)
    context.verify_flags |= ssl.VERIFY_X509_STRICT
    return context


@contextmanager
def device(opened: Opened, address: str) -> Iterator[httpx2.Client]:
    """A device that trusts the workshop's root, where there is one."""
    assert opened.house.lan is not None
    root = opened.house.lan.root
    how = trusting(root) if root is not None else False
    with httpx2.Client(base_url=address, headers=HTML, verify=how) as made:
        yield made


@pytest.fixture
def kept(place: Path) -> Path:
    keep_passphrase(place, PASSPHRASE)
    return place


@ON_NETWORK
def test_a_device_that_trusts_the_root_signs_in_over_tls(kept: Path) -> None:
    with served_on_lan(kept, is_tls=True) as opened:
        for address in opened.addresses[:2]:
            assert address.startswith("https://")
            with device(opened, address) as phone:
                assert phone.get("/").headers["location"] == "/sign-in?to=/"
                assert "not encrypted" not in phone.get("/sign-in").text
                found = phone.post("/sign-in", data={"passphrase": PASSPHRASE})
                assert found.status_code == 303
                assert "secure" in found.headers["set-cookie"].lower()
                assert phone.get("/").status_code == 200


@ON_NETWORK
def test_nobody_else_trusts_it_and_nothing_older_is_spoken(kept: Path) -> None:
    with served_on_lan(kept, is_tls=True) as opened:
        with pytest.raises(httpx2.ConnectError, match="CERTIFICATE_VERIFY_FAILED"):
            httpx2.get(opened.addresses[0], verify=ssl.create_default_context())
        with pytest.raises(httpx2.HTTPError):
            httpx2.get(opened.addresses[0].replace("https", "http"))
        how = opened.server
        how.load()
        assert how.ssl is not None
        assert how.ssl.minimum_version >= ssl.TLSVersion.TLSv1_2


@ON_NETWORK
def test_the_root_is_handed_out_as_it_is(kept: Path) -> None:
    with served_on_lan(kept, is_tls=True) as opened, device(opened, opened.addresses[1]) as phone:
        found = phone.get("/certificate.crt")
        assert opened.house.lan is not None
        assert found.content == opened.house.lan.root
        assert found.headers["content-type"] == "application/x-x509-ca-cert"


@ON_NETWORK
@pytest.mark.parametrize("is_tls", [False, True])
def test_origin_has_to_be_ours_with_its_scheme(kept: Path, *, is_tls: bool) -> None:
    right, wrong = ("https", "http") if is_tls else ("http", "https")
    told = {"passphrase": PASSPHRASE}
    with served_on_lan(kept, is_tls=is_tls) as opened:
        host = opened.addresses[1].rstrip("/").partition("://")[2]
        with device(opened, opened.addresses[1]) as phone:
            for origin in (f"{wrong}://{host}", f"{right}://{host.partition(':')[0]}", "null"):
                found = phone.post("/sign-in", data=told, headers={"origin": origin})
                assert found.status_code == 403
            told_right = {"origin": f"{right}://{host}"}
            assert phone.post("/sign-in", data=told, headers=told_right).status_code == 303


@ON_NETWORK
def test_only_its_own_names_are_answered(kept: Path) -> None:
    with served_on_lan(kept) as opened:
        port = opened.addresses[0].rstrip("/").rpartition(":")[2]
        with device(opened, opened.addresses[1]) as phone:
            for host in ("rebound.example", f"rebound.example:{port}", "shop.local", "192.0.2.254"):
                assert phone.get("/sign-in", headers={"host": host}).status_code == 400
            for host in (f"shop.local:{port}", f"SHOP.local:{port}", f"localhost:{port}"):
                assert phone.get("/sign-in", headers={"host": host}).status_code == 200


@ON_NETWORK
@pytest.mark.parametrize("is_tls", [False, True])
def test_every_answer_is_tied_down_on_the_network_too(kept: Path, *, is_tls: bool) -> None:
    paths = ("/", "/sign-in", "/static/house.css", "/nothing", "/api/openapi.json")
    with (
        served_on_lan(kept, is_tls=is_tls) as opened,
        device(opened, opened.addresses[1]) as phone,
    ):
        for path in paths:
            told = phone.get(path).headers
            assert "default-src 'none'" in told["content-security-policy"]
            assert "strict-transport-security" not in told
            assert "server" not in told


@ON_NETWORK
def test_a_forged_address_is_not_believed(kept: Path) -> None:
    with served_on_lan(kept) as opened, device(opened, opened.addresses[0]) as here:
        for at in range(6):
            told = {"x-forwarded-for": f"198.51.100.{at}"}
            found = here.post("/sign-in", data={"passphrase": "wrong"}, headers=told)
        assert found.status_code == 429


@ON_NETWORK
def test_a_closed_and_opened_workshop_knows_its_devices(kept: Path) -> None:
    with served_on_lan(kept, is_tls=True) as opened, device(opened, opened.addresses[1]) as phone:
        phone.post("/sign-in", data={"passphrase": PASSPHRASE})
        port, held = int(opened.addresses[0].rstrip("/").rpartition(":")[2]), phone.cookies
        token, print_before = token_of(opened.house), opened.certificate
    with served_on_lan(kept, is_tls=True, port=port) as opened:
        assert opened.certificate == print_before
        with device(opened, opened.addresses[1]) as phone:
            phone.cookies = held
            assert phone.get("/").status_code == 200
            assert phone.post("/sign-out", data={TOKEN: token}).status_code == 303
            assert phone.get("/").status_code == 303


def test_without_lan_only_this_machine_is_listened_to(place: Path) -> None:
    opened = opened_at(Standing(place), Door(0))
    try:
        assert [one.getsockname()[0] for one in opened.sockets] == ["127.0.0.1"]
        assert opened.house.lan is None
        assert all(
            one.startswith(("127.0.0.1:", "localhost:", "[::1]:")) for one in opened.house.hosts
        )
    finally:
        opened.house.notebook.close()
        opened.sockets[0].close()


@ON_NETWORK
def test_a_port_that_is_taken_on_one_address_is_not_shared(kept: Path) -> None:
    from baitwright.terms.errors import InputError

    with listening(0) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(InputError, match="no other program listens on"):
            opened_at(Standing(kept), Door(port, network=Network()))


@ON_NETWORK
def test_the_terminal_tells_what_can_be_trusted(kept: Path) -> None:
    with served_on_lan(kept, is_tls=True) as opened:
        told = told_at_door(opened.addresses[1:], opened.certificate)
        assert opened.certificate is not None
        assert opened.certificate.fingerprint in told
        assert opened.certificate.root_fingerprint in told
        assert f"{opened.addresses[1]}certificate.crt" in told
        assert "https://shop.local:" in told
    told = told_at_door(("http://192.0.2.2:8451/",), None)
    assert "others on the network can read along" in told
    assert PASSPHRASE not in told


def address_told(log: Path, process: subprocess.Popen[bytes]) -> str:
    """Where a workshop says that it listens, once it does."""
    while process.poll() is None:
        told = re.search(r"^AT (\S+)$", log.read_text(encoding="utf-8"), re.MULTILINE)
        if told:
            return told[1]
        time.sleep(0.02)
    pytest.fail(log.read_text(encoding="utf-8"))


@ON_NETWORK
def test_no_secret_is_logged_however_loud(kept: Path) -> None:
    """Passphrase, wrong tries, session and token, with every logger at its loudest."""
    command = [sys.executable, "-X", "dev", "-c", LOUD, str(kept)]
    environment = {**os.environ, "PYTHONASYNCIODEBUG": "1", "PYTHONWARNINGS": "default"}
    log = kept.parent / "heard.txt"  # a pipe that nobody empties would hold the workshop up
    with log.open("w") as heard:
        process = subprocess.Popen(
            command, cwd=ROOT, env=environment, stdout=heard, stderr=subprocess.STDOUT
        )
    try:
        address = address_told(log, process)
        how = ssl.create_default_context(cafile=kept.parent / "door.certificate")
        # One that tells everything is slow: it may take a minute.
        with httpx2.Client(base_url=address, headers=HTML, verify=how, timeout=60.0) as phone:
            phone.post("/sign-in", data={"passphrase": "a wrong try of words"})
            assert phone.post("/sign-in", data={"passphrase": PASSPHRASE}).status_code == 303
            (session,) = phone.cookies.values()
            page = phone.get("/")
            assert phone.get("/fault").status_code == 500
            token = page.text.partition(f'name="{TOKEN}" value="')[2].partition('"')[0]
            assert len(token) == 64
            phone.post("/sign-out", data={TOKEN: token})
    finally:
        process.terminate()
        process.wait()
    told = log.read_text(encoding="utf-8")
    assert "inner words" in told  # the terminal is told of the fault, so the log was heard
    assert "ASGI" in told
    for secret in (PASSPHRASE, PASSPHRASE.replace(" ", "+"), "a wrong try", "wrong+try"):
        assert secret not in told
    assert session not in told
    assert token not in told
    assert (kept.parent / "door.key").read_bytes().hex() not in told
