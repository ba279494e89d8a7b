"""What is declared, what is locked, what is written about it, and what ends up in the wheel."""

from __future__ import annotations

import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from baitwright.workshop.recipe_files import demo
from tests.architecture.declared import groups, locked, names, pyproject, run_time
from tests.architecture.tree import PACKAGE, ROOT, tracked_files

LOCKS = ("run.txt", "dev.txt")


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_holds_hashes_and_no_host(lock: str) -> None:
    text = (ROOT / "requirements" / lock).read_text(encoding="utf-8")
    for requirement in re.split(r"\n(?=\S)", text.strip()):
        assert re.fullmatch(
            r"[a-z0-9-]+==[\w.]+( ; [^\n\\]+)? \\(\n    --hash=sha256:[0-9a-f]{64}( \\)?)+",
            requirement,
        ), requirement


def test_the_locks_hold_what_is_declared_and_agree() -> None:
    assert run_time() <= locked("run.txt").keys()
    assert run_time() | groups() <= locked("dev.txt").keys()
    assert locked("run.txt").items() <= locked("dev.txt").items()


def test_the_program_is_installed_without_the_test_oracles() -> None:
    oracles = names(pyproject()["dependency-groups"]["oracle"])
    assert not locked("run.txt").keys() & oracles


def test_the_wheel_holds_the_package_the_demonstration_and_nothing_else(
    tmp_path: Path,
) -> None:
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        inside = {name for name in archive.namelist() if ".dist-info/" not in name}
        metadata = next(name for name in archive.namelist() if name.endswith("/METADATA"))
        text = archive.read(metadata).decode()
        needed = re.findall(r"^Requires-Dist: ([\w-]+)(?!.*; extra ==)", text, re.M)
    source = {
        path.relative_to(PACKAGE.parent).as_posix()
        for path in tracked_files()
        if path.is_relative_to(PACKAGE)
    }
    examples = (demo.RECIPE, demo.SINKER, demo.BENCH, demo.MIX, demo.WISHES)
    demonstration = {f"baitwright/examples/{name}" for name in examples}
    assert inside == source | demonstration
    assert "baitwright/py.typed" in inside
    assert set(needed) == run_time()
