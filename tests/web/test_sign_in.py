"""From another device: nothing without a session, and a session only for the passphrase."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from baitwright.web.app import make_app
from baitwright.web.attempts import FIRST_WAIT, FREE
from baitwright.web.guard import TOKEN, token_of
from baitwright.web.paths import own_path
from baitwright.workshop.keys.passphrase import keep_passphrase
from tests.web.network import HTML, PASSPHRASE, Clock, house_on_lan


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def device(place: Path, clock: Clock) -> Iterator[TestClient]:
    """Another device, which nobody has signed in."""
    house = house_on_lan(place, clock)
    with TestClient(make_app(house), headers=HTML, follow_redirects=False) as made:
        yield made


def sign_in(device: TestClient, told: str = PASSPHRASE, **more: str) -> int:
    return device.post("/sign-in", data={"passphrase": told, **more}).status_code


def is_in(device: TestClient) -> bool:
    return device.get("/").status_code == 200


@pytest.mark.parametrize(
    "path", ["/", "/plan", "/nothing", "/sign-in/", "//", "/static", "/%73tatic"]
)
def test_every_page_asks_to_sign_in_first(device: TestClient, path: str) -> None:
    found = device.get(path)
    assert found.status_code == 303
    assert found.headers["location"].startswith("/sign-in?to=/")
    assert not found.content


def test_this_machine_has_to_sign_in_too(place: Path) -> None:
    app = make_app(house_on_lan(place))
    own = TestClient(app, headers=HTML, follow_redirects=False, client=("127.0.0.1", 50_000))
    assert own.get("/").headers["location"] == "/sign-in?to=/"


def test_a_program_and_a_script_are_told(device: TestClient) -> None:
    for path in ("/api/openapi.json", "/"):
        found = device.get(path, headers={"accept": "*/*"})
        assert found.status_code == 401
        assert found.json() == {"detail": "Sign in first."}


def test_what_is_sent_without_a_session_changes_nothing(device: TestClient, place: Path) -> None:
    token = token_of(device.app.state.house)  # type: ignore[attr-defined]
    found = device.post("/sign-out", data={TOKEN: token})
    assert found.status_code == 401
    assert "Nothing was written" in found.text
    assert not place.exists()


def test_static_files_and_the_sign_in_page_are_there_for_all(device: TestClient) -> None:
    assert device.get("/static/house.css").status_code == 200
    found = device.get("/sign-in?to=/plan")
    assert found.status_code == 200
    assert 'value="/plan"' in found.text
    assert token_of(device.app.state.house) not in found.text  # type: ignore[attr-defined]


@pytest.mark.parametrize("path", ["/static/../app.py", "/static/%2e%2e/guard.py", "/static/none"])
def test_static_files_lead_nowhere_else(device: TestClient, path: str) -> None:
    found = device.get(path)
    assert found.status_code in (303, 404)
    assert len(found.text) < 40


def test_the_passphrase_lets_in_and_leads_on(device: TestClient) -> None:
    found = device.post("/sign-in", data={"passphrase": PASSPHRASE, "to": "/plan?of=reed"})
    assert found.status_code == 303
    assert found.headers["location"] == "/plan?of=reed"
    assert is_in(device)
    assert device.get("/sign-in").headers["location"] == "/"
    assert device.get("/nothing").status_code == 404


@pytest.mark.parametrize("told", ["", "reed copper hob", PASSPHRASE.upper(), "x" * 3_000, "\x00"])
def test_a_wrong_one_is_told_nothing(device: TestClient, told: str) -> None:
    found = device.post("/sign-in", data={"passphrase": told})
    assert found.status_code == 401
    assert "That did not open the door" in found.text
    assert not told or told not in found.text
    assert "set-cookie" not in found.headers
    assert not is_in(device)


def test_more_than_a_passphrase_is_not_read(device: TestClient) -> None:
    found = device.post("/sign-in", data={"passphrase": "x" * 5_000})
    assert found.status_code == 413
    assert found.text == "That is more than one page may send."


@pytest.mark.parametrize(
    ("root", "name"), [(None, "baitwright-session"), (b"-", "__Host-baitwright")]
)
def test_the_cookie_is_tied_down(place: Path, root: bytes | None, name: str) -> None:
    app, scheme = make_app(house_on_lan(place, root=root)), "http" if root is None else "https"
    device = TestClient(app, base_url=f"{scheme}://testserver", follow_redirects=False)
    told = device.post("/sign-in", data={"passphrase": PASSPHRASE}).headers["set-cookie"]
    assert told.startswith(f"{name}=")
    parts = set(told.lower().split("; ")[1:])
    assert parts >= {"httponly", "samesite=strict", "path=/", f"max-age={30 * 86_400}"}
    assert ("secure" in parts) == (root is not None)
    assert not any(part.startswith("domain") for part in parts)


def test_a_session_lasts_thirty_days(device: TestClient, clock: Clock) -> None:
    assert sign_in(device) == 303
    clock.passed += timedelta(days=30, seconds=-1)
    assert is_in(device)
    clock.passed += timedelta(seconds=1)
    assert not is_in(device)


def test_signing_out_ends_a_session_for_good(device: TestClient) -> None:
    sign_in(device)
    held = dict(device.cookies)
    token = re.search(rf'name="{TOKEN}" value="(\w+)"', device.get("/").text)
    assert token is not None
    assert device.post("/sign-out").status_code == 403
    assert device.post("/sign-out", data={TOKEN: token[1]}).headers["location"] == "/sign-in"
    assert not device.cookies
    device.cookies.update(held)
    assert not is_in(device)


def test_every_sign_in_is_a_session_of_its_own(device: TestClient) -> None:
    sign_in(device)
    first = dict(device.cookies)
    device.cookies.clear()
    sign_in(device)
    assert dict(device.cookies) != first
    assert is_in(device)
    device.cookies.clear()
    device.cookies.update(first)
    assert is_in(device)


def test_a_restart_signs_nobody_out(device: TestClient, place: Path, clock: Clock) -> None:
    sign_in(device)
    app = make_app(house_on_lan(place, clock, is_new=False))
    again = TestClient(app, headers=HTML, follow_redirects=False)
    assert not is_in(again)
    again.cookies.update(dict(device.cookies))
    assert is_in(again)


def test_another_passphrase_signs_every_device_out(device: TestClient, place: Path) -> None:
    sign_in(device)
    keep_passphrase(place, "another set of words")
    assert not is_in(device)
    assert sign_in(device) == 401
    assert sign_in(device, "another set of words") == 303


def test_wrong_tries_wait_longer_and_longer(device: TestClient, clock: Clock) -> None:
    assert [sign_in(device, "wrong") for _ in range(FREE)] == [401] * FREE
    found = device.post("/sign-in", data={"passphrase": PASSPHRASE})
    assert found.status_code == 429
    assert found.headers["retry-after"] == "30"
    assert "Wait 30 seconds" in found.text
    clock.passed += timedelta(seconds=FIRST_WAIT)
    assert sign_in(device, "wrong") == 401
    clock.passed += timedelta(seconds=FIRST_WAIT)
    assert sign_in(device) == 429
    clock.passed += timedelta(seconds=FIRST_WAIT)
    assert sign_in(device) == 303


def test_another_address_does_not_wait_with_it(device: TestClient) -> None:
    for _ in range(FREE):
        sign_in(device, "wrong")
    other = TestClient(device.app, client=("192.0.2.7", 50_000), follow_redirects=False)
    told = {"x-forwarded-for": "192.0.2.99"}
    assert device.post("/sign-in", data={"passphrase": "wrong"}, headers=told).status_code == 429
    assert sign_in(other) == 303


@pytest.mark.parametrize(
    "to",
    [
        *(
            "http://elsewhere.example/",
            "//elsewhere.example",
            "/\\elsewhere.example",
            "\\\\a.example",
        ),
        *("///elsewhere.example", "javascript:alert(1)", "/\t/elsewhere.example", "elsewhere", ""),
        *("/\r\nset-cookie: a=b", "http:/plan"),
    ],
)
def test_signing_in_leads_to_no_other_place(to: str) -> None:
    assert own_path(to) == "/"


def test_without_lan_nobody_signs_in(client: TestClient) -> None:
    assert client.get("/").status_code == 200
    assert "Sign out" not in client.get("/").text
    assert client.get("/sign-in").status_code == 404
    assert client.post("/sign-in", data={"passphrase": PASSPHRASE}).status_code == 404
    assert client.get("/certificate.crt").status_code == 404
