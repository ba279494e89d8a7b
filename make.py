"""Everything one does with this tree, on any system: `python make.py run`, `python make.py test`.

Needs Python 3.11 or newer and nothing else: it makes `.venv` from the locked requirements, then
works there.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
import venv
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN, SUFFIX = (VENV / "Scripts", ".exe") if os.name == "nt" else (VENV / "bin", "")
REQUIREMENTS = ROOT / "requirements"
SCRATCH = 8 << 30
"""Bytes of memory that must be free for the tests' notebooks to lie there."""
DEMO = ["examples/copper-wafter.toml", "examples/bench-three-large-eggs.toml"]

CHECKS = [
    ["ruff", "format", "--check", "."],
    ["ruff", "check", "."],
    ["mypy"],
    ["lint-imports"],
    # What pages show is run by `test`: it takes a minute.
    ["pytest", "-q", "tests/docs", "--ignore=tests/docs/test_shown.py"],
]


def call(program: str, *arguments: str) -> int:
    """Run one of the environment's programs from the root of the tree and return its exit code."""
    command = [f"{BIN / program}{SUFFIX}", *arguments]
    return subprocess.run(command, cwd=ROOT, check=False).returncode


def demand(exit_code: int) -> None:
    """Stop here when a step did not succeed."""
    if exit_code:
        sys.exit(exit_code)


def fingerprint(lock: str) -> str:
    """What an environment is made from: lock, declaration, place and interpreter."""
    made_from = [
        (REQUIREMENTS / lock).read_bytes(),
        (ROOT / "pyproject.toml").read_bytes(),
    ]
    made_from.append(f"{ROOT} {sys.version}".encode())
    return hashlib.sha256(b"\0".join(made_from)).hexdigest()


def fresh(lock: str) -> bool:
    """Whether the environment already holds this lock."""
    stamp = VENV / f"made-from-{lock}"
    return stamp.exists() and stamp.read_text() == fingerprint(lock)


def setup(lock: str = "dev.txt") -> None:
    """Make `.venv` hold the locked requirements and this package, unless it does already."""
    if fresh(lock) or (lock == "run.txt" and fresh("dev.txt")):
        return
    print(f"setting up .venv from requirements/{lock}", flush=True)
    for stamp in VENV.glob("made-from-*"):
        stamp.unlink()
    try:
        venv.EnvBuilder(with_pip=True, symlinks=os.name != "nt").create(VENV)
    except (subprocess.CalledProcessError, ImportError):
        sys.exit("Python's venv is not complete here; on Debian: apt-get install python3-venv")
    pip = ["python", "-m", "pip", "install", "-qq", "--disable-pip-version-check"]
    demand(call(*pip, "--require-hashes", "-r", f"requirements/{lock}"))
    demand(call(*pip, "--no-deps", "--no-build-isolation", "-e", "."))
    (VENV / f"made-from-{lock}").write_text(fingerprint(lock))


def run() -> int:
    """Plan the demo batch into build/demo."""
    setup("run.txt")
    demand(call("baitwright", "plan", *DEMO, "--out", "build/demo"))
    program = (BIN / "baitwright").relative_to(ROOT)
    print(f"\nAll that this wrote is in build/demo. The program is {program}: go on with")
    print(f"docs/tutorial.md, or look round in an invented season by {program} open --demo")
    return 0


def test(*more: str) -> int:
    """Run the tests on two cores."""
    setup()
    with scratch():
        # A worker waits a quarter of its time, for a browser, a server or a disk: three for two
        # cores. Whole stretches of files to each: what a file's tests share is made once.
        return call("pytest", "-n", "3", "--dist", "worksteal", *more)


@contextmanager
def scratch() -> Iterator[None]:
    """A folder for the tests' notebooks, in memory where there is much: no wait for the disk."""
    memory = Path("/dev/shm")
    roomy = memory.is_dir() and shutil.disk_usage(memory).free > SCRATCH
    with tempfile.TemporaryDirectory(dir=memory if roomy else None, prefix="baitwright-") as folder:
        Path(folder).chmod(0o755)  # the tests' database server is somebody else
        os.environ["TMPDIR"] = folder
        yield


def check() -> int:
    """Format, lint, types, floors, documents: all of them, then say which failed."""
    setup()
    failed = []
    for command in CHECKS:
        print("->", *command, flush=True)
        if call(*command):
            failed.append(command[0])
    print("check failed: " + ", ".join(failed) if failed else "check passed", flush=True)
    return 1 if failed else 0


def bench(*more: str) -> int:
    """Time ours and the peers on the same work."""
    setup()
    return call("python", "benchmarks/run.py", *more)


def mutants() -> int:
    """Change what has just been changed once more, and see whether its tests notice."""
    setup()
    return call("python", "-m", "tests.changed")


def fuzz(*more: str) -> int:
    """Hostile input to everything that reads, for half a minute."""
    setup()
    return call("python", "-m", "tests.fuzzing.both", *more)


def nightly(*parts: str) -> int:
    """Run the long checks, or only the named parts, and write their figures to docs/quality.md."""
    setup()
    return call("python", "-m", "tests.nightly", *parts)


def docs() -> int:
    """Build the documents into build/site; a warning or a lost link fails."""
    setup()
    return call("python", "docs/site/build.py")


def words() -> int:
    """Gather the words of the web workshop and compile its catalogues."""
    setup()
    return call("python", "-m", "tests.web.catalogues")


def lock() -> int:
    """Choose the requirements anew: the newest that fit, with their hashes and no host."""
    setup()
    options = "--universal --generate-hashes --fork-strategy fewest --upgrade"
    options += " --quiet --no-header --no-annotate"
    compile_ = ["uv", "pip", "compile", "pyproject.toml", *options.split()]
    demand(call(*compile_, "--group", "build", "-o", "requirements/run.txt"))
    return call(*compile_, "--group", "dev", "-o", "requirements/dev.txt")


JOBS = (run, test, check, docs, bench, mutants, fuzz, nightly, words, lock, setup)
COMMANDS = {job.__name__: job for job in JOBS}


def main(arguments: list[str]) -> int:
    """Do the named job."""
    if sys.version_info < (3, 11):  # noqa: UP036 - the one line an older Python should read
        sys.exit(f"Baitwright needs Python 3.11 or newer, and this is {sys.version.split()[0]}")
    if not arguments or arguments[0] not in COMMANDS:
        for name, job in COMMANDS.items():
            print(f"{name:8}{job.__doc__}")
        return 2
    return COMMANDS[arguments[0]](*arguments[1:]) or 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
