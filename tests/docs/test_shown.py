"""Every command that a page shows is run, and prints what the page says that it prints."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import time
import tomllib
from collections.abc import Iterator
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from fastapi.testclient import TestClient

import make
from baitwright.cli.main import COMMANDS
from baitwright.uncertainty.draws import Draws
from baitwright.web.app import make_app
from baitwright.web.house import House
from baitwright.workshop.season import demonstration
from baitwright.workshop.typed.clock import wall_clock
from tests.architecture.tree import ROOT
from tests.cli.test_commands import run
from tests.docs.shown import Block, Form, blocks, form, mentions, moved, name_of, pages
from tests.notebook.cluster import WANTED, Cluster, programs

SERVER = "postgresql://maker@shop.example/bait"
FEW = (32, 4, Draws().seed)
"""Draws for pages that tell no numbers: what is shown is run, and nobody reads its bands."""
RUN_ELSEWHERE = {
    # what needs more than one machine's desk, and the test that runs it
    "sweep few.toml --scheduler ADDRESS": (
        "tests/workshop/test_sweep.py",
        "test_a_cluster_makes_the_same_table_to_the_last_byte",
    ),
}
TYPING = [page for page in pages() if any(block.commands for block in blocks(page))]


@pytest.fixture(scope="session")
def season(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The demonstration's notebook, once for all pages."""
    place = tmp_path_factory.mktemp("season") / "demonstration.sqlite"
    ahead = 12 - datetime.now(UTC).hour  # noon wherever that is: no batch of today begins yesterday
    os.environ["TZ"] = f"DOC{-ahead:+d}"
    time.tzset()
    demonstration.begin(place, now=wall_clock().astimezone())
    yield place
    del os.environ["TZ"]
    time.tzset()


@pytest.fixture
def folder(season: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where a page's commands are typed; a demonstration that begins is the one made before."""
    desk = tmp_path / "desk"
    shutil.copytree(ROOT / "examples", desk)
    shutil.copytree(ROOT / "examples", desk / "examples")  # for pages that speak from the tree
    book = shutil.copy(season, desk / "notebook.sqlite")
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(book))
    monkeypatch.setattr(demonstration, "begin", lambda place, now: shutil.copy(season, place))
    monkeypatch.chdir(desk)
    return desk


@pytest.fixture(autouse=True)
def doors(monkeypatch: pytest.MonkeyPatch) -> None:
    """`open` shows its first page to one caller and is closed again."""

    def serve(notebook: Any, door: Any, *, is_demo: bool) -> None:
        with TestClient(make_app(House(notebook, b"k" * 32, ("testserver",)))) as caller:
            assert caller.get("/").status_code == 200
        assert door.port is None
        assert isinstance(is_demo, bool)

    monkeypatch.setattr("baitwright.web.server.serve", serve)


@pytest.mark.parametrize("page", TYPING, ids=name_of)
def test_what_a_page_shows_is_what_happens(
    page: Path, folder: Path, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    server = request.getfixturevalue("server") if SERVER in page.read_text("utf-8") else SERVER
    if not any(block.language == "text" and not block.name for block in blocks(page)):
        monkeypatch.setattr(Draws.__init__, "__defaults__", FEW)
    today = wall_clock().date()
    printed, wrong = "", []
    for block in blocks(page):
        text = moved(block.text, today).replace(SERVER, server)
        here = Block(block.language, block.name, text)
        if here.name:
            (folder / here.name).write_text(text, encoding="utf-8")
        elif here.commands:
            told = [typed(command) for command in here.commands]
            printed = "".join(one.output for one in told)
            failed = zip(here.commands, told, strict=True)
            wrong += [f"{line}\n{one.output}" for line, one in failed if one.exit_code]
        elif here.language == "text":
            wrong += [f"not printed: {line}\n{printed}" for line in missing(text, printed)]
    assert not wrong, "\n".join(wrong)


def typed(command: str) -> Result:
    """What comes of a command that is typed."""
    return run(*shlex.split(command, comments=True)[1:])


def missing(wanted: str, printed: str) -> list[str]:
    """Lines that are not printed where they should be."""
    lines = iter([line.rstrip() for line in printed.splitlines()])
    return [
        line
        for line in wanted.splitlines()
        if line.strip() and line.strip() != "..." and line.rstrip() not in lines
    ]


@pytest.fixture
def server(tmp_path: Path) -> Any:
    """A database of the shop."""
    found = programs()
    if found is None:
        said = "no PostgreSQL server here: install Debian's package postgresql"
        (pytest.fail if os.environ.get(WANTED) else pytest.skip)(said)
    made = Cluster(found)
    yield made.place(tmp_path).url
    made.remove()


@cache
def everything_run() -> set[Form]:
    """The form of each command that the test above has typed."""
    shown = {form(one) for page in TYPING for block in blocks(page) for one in block.commands}
    return shown | set(map(form, RUN_ELSEWHERE))


@pytest.mark.parametrize("page", pages(), ids=name_of)
def test_what_a_sentence_names_is_run_on_some_page(page: Path) -> None:
    run_before = everything_run()
    asked = {code: form(code) for code in mentions(page)}
    assert not [code for code, one in asked.items() if not any(x.covers(one) for x in run_before)]


def test_every_command_of_the_program_is_on_some_page() -> None:
    assert {one.words[0] for one in everything_run()} == set(COMMANDS)


def test_what_is_run_elsewhere_has_its_test_there() -> None:
    for path, name in RUN_ELSEWHERE.values():
        assert f"def {name}(" in (ROOT / path).read_text(encoding="utf-8")


def test_a_command_that_is_not_there_would_be_seen() -> None:
    with pytest.raises(ValueError, match="no option --flavour"):
        form("baitwright plan RECIPE --flavour malt")
    with pytest.raises(ValueError, match="no such command"):
        form("baitwright bake")
    assert missing("one\n...\nthree\n", "one\ntwo\nthree\n") == []
    assert missing("three\none\n", "one\ntwo\nthree\n") == ["one"]
    assert moved("2026-11-28/B1", date(2027, 1, 1)) == "2027-01-01/B1"


def test_what_is_no_command_of_ours_stands_in_the_tree() -> None:
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    others = []
    for page in pages():
        text = page.read_text(encoding="utf-8")
        others += re.findall(r"^(?:py|python|python3|make|pip) .+$", text, re.MULTILINE)
        for extra in re.findall(r"baitwright\[(\w+)\]", text):
            assert extra in extras["optional-dependencies"], extra
    jobs = {line.split("#")[0].split()[-1] for line in others if line.startswith("make ")}
    assert jobs <= make.COMMANDS.keys()
