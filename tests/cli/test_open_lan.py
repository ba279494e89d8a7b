"""`baitwright open --lan`: never without a passphrase, and never with one on the command line."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from baitwright.web.server import Door
from baitwright.workshop.keys.passphrase import is_kept, is_right
from tests.cli.test_commands import run

WORDS, OTHERS = "reed copper hob tray", "another set of words"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "shop" / "notebook.sqlite"


@pytest.fixture
def doors(monkeypatch: pytest.MonkeyPatch) -> list[Door]:
    """The doors that would be opened; none is."""
    opened: list[Door] = []

    def note(notebook: Any, door: Door, *, is_demo: bool) -> None:
        assert not is_demo
        notebook.close()
        opened.append(door)

    monkeypatch.setattr("baitwright.web.server.serve", note)
    return opened


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "words.txt"
    made.write_text(f"{WORDS}\n", encoding="utf-8")
    return made


def opened(place: Path, *more: str) -> Result:
    return run("open", "--quiet", "--notebook", str(place), *more)


def test_without_lan_nothing_is_asked(place: Path, doors: list[Door]) -> None:
    assert opened(place).exit_code == 0
    assert doors[0].network is None
    assert not is_kept(place)


@pytest.mark.parametrize(
    "more", [["--tls"], ["--name", "shop.local"], ["--new-passphrase"], ["--passphrase-file", "x"]]
)
def test_what_is_for_others_needs_lan(place: Path, doors: list[Door], more: list[str]) -> None:
    done = opened(place, *more)
    assert done.exit_code == 2
    assert "--lan" in done.stderr
    assert not doors


def test_a_file_sets_it_once_and_has_to_fit_later(
    place: Path, doors: list[Door], file: Path
) -> None:
    told = ["--lan", "--tls", "--name", "Shop.local", "--passphrase-file", str(file)]
    assert opened(place, *told).exit_code == 0
    assert is_right(place, WORDS)
    assert doors[0].network is not None
    assert doors[0].network.names == ("shop.local",)
    assert doors[0].network.is_tls
    assert opened(place, *told).exit_code == 0
    assert opened(place, "--lan").exit_code == 0  # it is kept, so nothing is asked
    file.write_text(OTHERS, encoding="utf-8")
    done = opened(place, *told)
    assert done.exit_code == 2
    assert "--new-passphrase" in done.stderr
    assert OTHERS not in done.output
    assert opened(place, *told, "--new-passphrase").exit_code == 0
    assert is_right(place, OTHERS)
    assert len(doors) == 4


def test_it_is_asked_for_twice_at_a_terminal(
    place: Path, doors: list[Door], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("baitwright.cli.open._is_terminal", lambda: True)
    done = run(
        *("open", "--lan", "--notebook", str(place)),
        input=f"{WORDS}\n{OTHERS}\n{WORDS}\n{WORDS}\n",
    )
    assert done.exit_code == 0
    assert is_right(place, WORDS)
    assert WORDS not in done.output
    assert len(doors) == 1


def test_without_a_terminal_a_file_is_asked_for(place: Path, doors: list[Door]) -> None:
    done = opened(place, "--lan")
    assert done.exit_code == 2
    assert "--passphrase-file FILE" in done.stderr
    assert not is_kept(place)
    assert not doors


def test_there_is_no_way_to_type_it_on_the_command_line(place: Path, doors: list[Door]) -> None:
    assert opened(place, "--lan", "--passphrase", WORDS).exit_code == 2
    assert not doors


def test_a_name_that_is_none_is_refused(place: Path, doors: list[Door], file: Path) -> None:
    done = opened(place, "--lan", "--passphrase-file", str(file), "--name", "http://shop")
    assert done.exit_code == 2
    assert "shop.local" in done.stderr
    assert not doors


def test_a_missing_extra_is_told_before_anything_is_asked(
    place: Path, doors: list[Door], monkeypatch: pytest.MonkeyPatch
) -> None:
    for library, more in (("cryptography", ["--tls"]), ("argon2", [])):
        monkeypatch.setitem(sys.modules, library, None)
        done = opened(place, "--lan", *more)
        assert done.exit_code == 2
        assert "baitwright[lan]" in done.stderr
        assert library in done.stderr
    assert not doors
    assert not is_kept(place)
