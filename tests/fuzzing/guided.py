"""Fuzzing guided by coverage: ``python -m tests.fuzzing.guided TARGET --seconds 60``.

``all`` tries every target in turn in one process. Inputs that reach something new are kept in
``build/fuzz``; an input that is a fault is kept in ``build/fuzz/faults`` with what came of it, one
for each place in the code, and the run goes on. With ``--keep`` the smallest inputs that reach all
that was reached go into ``tests/corpus``. atheris (with libFuzzer) runs on Linux only.
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
import traceback
from collections import Counter
from hashlib import sha256
from pathlib import Path

import atheris

SOURCE = Path(__file__).resolve().parents[2] / "src"
NO_READERS = ("physics", "batch", "uncertainty", "learning", "schedule", "sheets", "cli")
"""Floors that are told by numbers alone: to follow them takes long and finds nothing."""
LEFT_OUT = [
    ".".join(path.relative_to(SOURCE).with_suffix("").parts).removesuffix(".__init__")
    for floor in NO_READERS
    for path in (SOURCE / "baitwright" / floor).rglob("*.py")
]
with atheris.instrument_imports(include=["baitwright"], exclude=LEFT_OUT):
    from tests.fuzzing.target import CORPUS, ROOT, Target, is_read
    from tests.fuzzing.targets import TARGETS

FOUND = ROOT / "build" / "fuzz"
ALL = "all"
LONGEST = 4096
"""Bytes of an input: what goes wrong beyond has a shorter cause, or a test of its own."""
SLOWEST = 20
"""Seconds for one input, on a machine that is shared: longer is a fault."""
KEPT, KEPT_BYTES = 8, 300
"""Inputs of a target that the repository keeps at most, and bytes of each."""


class Faults:
    """What went wrong, the first input of each kind."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._seen = folder, set[str]()
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)

    def hold(self, target: Target, data: bytes) -> None:
        """Try an input, and note it where anything but a refusal comes of it."""
        try:
            is_read(target, data)
        except Exception as error:
            last = traceback.extract_tb(error.__traceback__)[-1]
            kind = f"{target.name} {type(error).__name__} {Path(last.filename).name}-{last.lineno}"
            if kind not in self._seen:
                self._seen.add(kind)
                (self._folder / f"{kind}.input").write_bytes(data)
                told = "".join(traceback.format_exception(error))
                (self._folder / f"{kind}.txt").write_text(told, encoding="utf-8")
                print(f"FAULT {kind}", flush=True)


def begin(name: str) -> Path:
    """The folder of inputs of a target, with those to begin with."""
    folder = FOUND / name
    folder.mkdir(parents=True, exist_ok=True)
    chosen = list(TARGETS.values())
    for at, target in enumerate(chosen):
        if name in (target.name, ALL):
            for number, seed in enumerate(target.every_seed()):
                head = bytes([at]) if name == ALL else b""
                (folder / f"seed-{at}-{number}").write_bytes(head + seed)
    return folder


def run(name: str, seconds: int) -> None:
    """Try one target, or all; ends the process."""
    folder, faults = begin(name), Faults(FOUND / "faults" / name)
    every = list(TARGETS.values())

    def takes(data: bytes) -> None:
        if name != ALL:
            faults.hold(TARGETS[name], data)
        elif data:
            faults.hold(every[data[0] % len(every)], data[1:])

    longest = max(LONGEST, *(path.stat().st_size for path in folder.iterdir()))
    words = FOUND / f"{name}.words"
    words.write_text(dictionary(name), encoding="ascii")
    arguments = [sys.argv[0], str(folder), f"-max_total_time={seconds}", f"-max_len={longest}"]
    arguments += [f"-timeout={SLOWEST}", f"-artifact_prefix={FOUND / 'faults' / name}/"]
    arguments += [f"-dict={words}", "-print_final_stats=1", "-rss_limit_mb=2048"]
    atheris.Setup(arguments, takes)
    atheris.Fuzz()


def dictionary(name: str) -> str:
    """The words of a target as libFuzzer takes them."""
    words = (word for one in TARGETS.values() if name in (one.name, ALL) for word in one.words)
    return "".join(f'"{_escaped(word)}"\n' for word in sorted(set(words)))


def _escaped(word: str) -> str:
    return "".join(f"\\x{byte:02x}" for byte in word.encode())


def keep() -> None:
    """Put the fewest inputs that reach what all of them reach into the corpus."""
    merged = FOUND / "merged"
    shutil.rmtree(merged, ignore_errors=True)
    merged.mkdir(parents=True)
    command = [sys.executable, "-m", "tests.fuzzing.guided", ALL, "--merge", str(merged)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    every, known = list(TARGETS.values()), {path.name for path in CORPUS.glob("*/*")}
    kept = Counter(path.parent.name for path in CORPUS.glob("*/*"))
    for data in sorted((path.read_bytes() for path in merged.iterdir()), key=len):
        target, told = every[data[0] % len(every)], data[1:]
        name = sha256(told).hexdigest()[:12]
        if len(told) > KEPT_BYTES or told in target.seeds or name in known:
            continue
        if kept[target.name] < KEPT:
            kept[target.name] += 1
            (CORPUS / target.name).mkdir(parents=True, exist_ok=True)
            (CORPUS / target.name / name).write_bytes(told)


def merge(into: str) -> None:
    """The fewest inputs that reach what all of them reach; ends the process."""
    every, faults = list(TARGETS.values()), Faults(FOUND / "faults" / "merging")

    def takes(data: bytes) -> None:
        if data:
            faults.hold(every[data[0] % len(every)], data[1:])

    atheris.Setup([sys.argv[0], "-merge=1", into, str(FOUND / ALL)], takes)
    atheris.Fuzz()


def main() -> None:
    """Try what is named."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("name", choices=[ALL, *TARGETS])
    parser.add_argument("--seconds", type=int, default=30)
    parser.add_argument("--keep", action="store_true", help="of what all have found")
    parser.add_argument("--merge", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.merge:
        merge(asked.merge)
    elif asked.keep:
        keep()
    else:
        run(asked.name, asked.seconds)


if __name__ == "__main__":
    main()
