"""A sweep: every design once, told as its own plan tells it, the same whoever works it out."""

from __future__ import annotations

import csv
import math
import os
import pty
import re
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from itertools import product
from pathlib import Path
from typing import Any

import gsw
import numpy as np
import pytest
from pyarrow import csv as arrow_csv
from pyarrow import parquet

from baitwright.batch.in_lake import in_lake
from baitwright.batch.plan import BatchPlan, plan
from baitwright.batch.to_tray import to_tray
from baitwright.quantities import Kind, from_si
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import band_of
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.sweeps import rows
from baitwright.workshop.sweeps.axis import axis
from baitwright.workshop.sweeps.designs import Sweep, in_water
from baitwright.workshop.sweeps.outcomes import GROUPS, OUTCOMES, columns
from baitwright.workshop.sweeps.parts import Told, begin, designs_each
from baitwright.workshop.sweeps.rows import header, rows_of
from baitwright.workshop.sweeps.sweep_file import read_sweep
from tests.workshop.shelf import EXAMPLES, NOW, RECIPES
from tests.workshop.sweeping import (
    DESIGNS,
    REFUSED,
    SMALL,
    command,
    command_that_heeds,
    laid_out,
    worked_out,
)

LENGTHS = axis(Kind.LENGTH, "6 mm", "40 mm", example="12 mm to 20 mm by 1 mm", about="Sizes.")
WARMTHS = axis(Kind.TEMPERATURE, "0 C", "35 C", example="4 C to 8 C by 2 C", about="Lakes.")


@pytest.mark.parametrize(
    ("told", "values"),
    [
        ("14 mm", [14.0]),
        (["1.4 cm", "14 mm", "12 mm"], [12.0, 14.0]),
        ("12 mm to 20 mm by 0.5 mm", np.linspace(12.0, 20.0, 17)),
        (["12 mm to 13 mm by 1 mm", "13 mm", "16 mm"], [12.0, 13.0, 16.0]),
    ],
)
def test_an_axis_is_read_as_typed(told: object, values: Any) -> None:
    assert [1e3 * one for one in LENGTHS.read(told)] == pytest.approx(list(values), abs=1e-9)


def test_a_step_of_temperature_is_a_difference() -> None:
    celsius = [one - 273.15 for one in WARMTHS.read("4 C to 10 C by 2 C")]
    assert celsius == pytest.approx([4.0, 6.0, 8.0, 10.0])
    fahrenheit = WARMTHS.read("41 F to 59 F by 9 F")  # 5, 10 and 15 C, by definition of the scale
    assert [one - 273.15 for one in fahrenheit] == pytest.approx([5.0, 10.0, 15.0])


@pytest.mark.parametrize(
    "told",
    [
        *("14", 14, "5 mm", "20 mm to 12 mm by 1 mm", "12 mm to 15 mm by 2 mm"),
        *([], ["14 mm", "none"], "12 mm to 15 mm", "12 mm to 15 mm by 0 mm"),
        "12 mm to 15 mm by 1 g",
    ],
)
def test_an_axis_that_is_none_is_refused(told: object) -> None:
    with pytest.raises(InputError, match="12 mm to 20 mm by 1 mm"):
        LENGTHS.read(told)


def sweep_of(folder: Path, text: str = SMALL) -> Sweep:
    return read_sweep(laid_out(folder, text), factors_path=None, now=NOW).sweep


def test_every_design_comes_once_and_waters_change_first(tmp_path: Path) -> None:
    sweep = sweep_of(tmp_path)
    every = [sweep.design(number) for number in range(len(sweep))]
    told = [(one.mix, one.size, one.core, one.level, one.water) for one in every]
    axes = (sweep.mixes, sweep.sizes, sweep.cores, sweep.levels, sweep.waters)
    assert told == list(product(*axes))
    assert len(told) == DESIGNS


def test_the_example_has_five_thousand() -> None:
    read = read_sweep(EXAMPLES / "sweep.toml", factors_path=None, now=NOW)
    assert len(read.sweep) == 5_000


def test_what_is_left_out_is_as_in_recipe_and_bench(tmp_path: Path) -> None:
    text = SMALL.partition("sizes")[0]
    sweep = sweep_of(tmp_path, text)
    recipe = read_recipe(tmp_path / "copper-wafter.toml")
    request = sweep.request(sweep.design(0))
    assert len(sweep) == 1
    assert request.recipe == replace(recipe, free_bait=None)
    assert request.bench == replace(sweep.bench, cores=())


def quantities(made: BatchPlan) -> dict[str, Quantity]:
    """Where a plan has what a sweep tells."""
    places = {one.place: one.cautious for one in made.keep.places}
    return {
        "dry_mix": made.mix.dry_mix,
        "baits": made.rolled.baits,
        "boil": made.boil.seconds,
        "tray": made.dry.time,
        "diameter": made.dry.diameter,
        "mass": made.dry.mass,
        "water_activity": made.dry.activity,
        "lift": made.water.dried,
        "lift_on_rig": made.water.rig,
        "as_wanted": made.water.wish,
        "lift_after_night": made.soak.curve[-1].lift,
        "lasts": made.soak.lasts,
        "recast": made.soak.recast,
        **{name: places[name] for name in ("fridge", "ambient", "freezer")},
    }


def told_by(made: BatchPlan) -> list[float]:
    """The same in the columns of a sweep, each in the unit that the plan shows it in."""
    found, told = quantities(made), []
    for one in (outcome for group in GROUPS for outcome in OUTCOMES[group]):
        quantity, band = found[one.name], band_of(found[one.name])
        assert one.unit.replace("percent", "%") == quantity.shown, one.name
        parts = ("median", "low80", "high80") if one.is_band else ("median",)
        for part in parts:
            value = getattr(band, part)
            told.append(from_si(value, quantity.shown) if quantity.shown else value)
    return told


@pytest.mark.parametrize("recipe", RECIPES)
def test_each_row_tells_what_the_plan_of_its_design_tells_to_the_last_bit(
    tmp_path: Path, recipe: str
) -> None:
    text = SMALL.replace("copper-wafter", recipe).replace('["making", "lift"]', str([*GROUPS]))
    text = re.sub("sizes.*\ncores.*\n", 'levels = "100 % to 150 % by 50 %"\n', text)
    shutil.copy(EXAMPLES / f"{recipe}.toml", tmp_path)
    sweep = sweep_of(tmp_path, text)
    at = range(3, 5)  # a water with salt, and the first one of the next level
    for number, row in zip(at, rows_of(sweep, at), strict=True):
        made = plan(sweep.request(sweep.design(number)))
        assert row[len(rows.AXES) : -1] == told_by(made)
        assert row[0] == number
        assert row[-1] == ""


def test_salt_lifts_by_the_density_of_the_water(tmp_path: Path) -> None:
    """Archimedes, with the water's density by TEOS-10 (gsw, another program)."""
    text = SMALL.replace('"4 C to 12 C by 4 C"', '"10 C"')
    sweep = sweep_of(tmp_path, text)
    fresh, salt = (sweep.design(number).water for number in range(2))
    made = to_tray(sweep.request(sweep.design(0)))
    lifts = [in_lake(made, in_water(sweep.bench, one)).water.dried for one in (fresh, salt)]
    more = unwrap(lifts[1].value) - unwrap(lifts[0].value)
    denser = gsw.rho(5.0, 10.0, 0.0) - gsw.rho(0.0, 10.0, 0.0)  # g/kg, C, dbar [kg/m3]
    volume = math.pi / 6.0 * unwrap(made.dried.diameter.value) ** 3
    # Salt by weight and absolute salinity are the same here to within 1 % of either.
    assert more == pytest.approx(denser * volume, rel=0.01)


def test_what_cannot_be_planned_has_its_error_and_stops_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sweep = sweep_of(tmp_path)
    first = list(rows_of(sweep, range(8)))
    assert [bool(row[-1]) for row in first] == [False] * 4 + [True] * 4
    path = tmp_path / "copper-wafter.toml"
    path.write_text(path.read_text().replace('"15 mm"', '"10 mm"'))
    with pytest.raises(InputError) as refused:
        read_recipe(path)
    assert f"{path}: {first[4][-1]}" == str(refused.value)
    monkeypatch.setattr(rows, "outcomes", lambda *_: 1 / 0)
    (row,) = rows_of(sweep, range(1))
    assert row[-1] == "our fault, not yours: ZeroDivisionError: division by zero"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the small sweep, and its table as one worker made it."""
    made = tmp_path_factory.mktemp("sweep")
    done = worked_out(laid_out(made), made / "one.csv", "--workers", "1")
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""  # no bar where nobody looks
    assert done.stdout == (
        f"{DESIGNS} designs, of which {REFUSED} could not be planned: their column error says "
        f"why\nwritten: {made / 'one.csv'}\n"
    )
    return made


@pytest.fixture(scope="module")
def whole(folder: Path) -> bytes:
    return (folder / "one.csv").read_bytes()


def test_the_table_is_csv_as_rfc_4180_has_it(folder: Path, whole: bytes) -> None:
    """RFC 4180, 2: CRLF ends each line, the header has as many fields as every other line."""
    assert whole.count(b"\r\n") == whole.count(b"\n") == DESIGNS + 1
    with (folder / "one.csv").open(encoding="utf-8-sig", newline="") as file:
        names, *lines = csv.reader(file)
    sweep = read_sweep(folder / "sweep.toml", factors_path=None, now=NOW).sweep
    assert tuple(names) == (*rows.AXES, *columns(("making", "lift")), "error") == header(sweep)
    told = [[str(cell) for cell in row] for row in rows_of(sweep, range(DESIGNS))]
    assert lines == told  # of another process, and made in one go


def test_two_workers_make_the_same_table_to_the_last_byte(folder: Path, whole: bytes) -> None:
    done = worked_out(folder / "sweep.toml", folder / "two.csv", "--workers", "2")
    assert done.returncode == 0, done.stderr
    assert (folder / "two.csv").read_bytes() == whole
    assert not list(folder.glob("*.parts"))


@pytest.fixture(scope="module")
def cluster(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A scheduler with two workers, each a process of its own; its address."""
    from distributed import LocalCluster

    made: Any = LocalCluster(  # type: ignore[no-untyped-call]
        n_workers=2,
        threads_per_worker=1,
        processes=True,
        dashboard_address=None,
        local_directory=str(tmp_path_factory.mktemp("cluster")),
    )
    with made:
        yield made.scheduler_address


def test_a_cluster_makes_the_same_table_to_the_last_byte(
    folder: Path, whole: bytes, cluster: str
) -> None:
    done = worked_out(folder / "sweep.toml", folder / "many.csv", "--scheduler", cluster)
    assert done.returncode == 0, done.stderr
    assert (folder / "many.csv").read_bytes() == whole


def test_where_no_scheduler_is_that_is_told(folder: Path) -> None:
    nowhere = ("--scheduler", "tcp://127.0.0.1:9")
    done = worked_out(folder / "sweep.toml", folder / "none.csv", *nowhere)
    shutil.rmtree(folder / "none.csv.parts")
    assert done.returncode == 2
    assert "scheduler: got 'tcp://127.0.0.1:9', but it takes the address of" in done.stderr


def test_parquet_holds_the_same_numbers(folder: Path, whole: bytes) -> None:
    done = worked_out(folder / "sweep.toml", folder / "one.parquet", "--workers", "2")
    assert done.returncode == 0, done.stderr
    table = parquet.read_table(folder / "one.parquet")
    same = arrow_csv.read_csv(
        folder / "one.csv",
        convert_options=arrow_csv.ConvertOptions(
            column_types=table.schema, strings_can_be_null=True, null_values=[""]
        ),
    )
    assert table.num_rows == DESIGNS
    assert same.equals(table)


def test_a_begun_table_is_not_gone_on_with_as_another(folder: Path, tmp_path: Path) -> None:
    path, out = laid_out(tmp_path), tmp_path / "table.csv"
    parts = begun(path, out)
    assert parts.count > 1
    bench = tmp_path / "bench-three-large-eggs.toml"
    bench.write_text(bench.read_text().replace('"6 C"', '"7 C"'))
    done = worked_out(path, out)
    assert done.returncode == 2
    assert "sweep: got 'changed: bench'" in done.stderr
    assert str(out) in done.stderr
    assert not out.exists()


def test_another_program_does_not_go_on(tmp_path: Path) -> None:
    out = tmp_path / "table.csv"
    told = Told("baitwright 1, numpy 2", {}, 10, 5, "")
    begin(out, told)
    with pytest.raises(InputError, match=r"changed: program \(baitwright 1, numpy 2\)"):
        begin(out, replace(told, program="baitwright 1, numpy 3"))


def begun(path: Path, out: Path) -> Any:
    from baitwright.workshop.sweeps.sweep import begin_sweep

    return begin_sweep(path, out, factors_path=None, clock=lambda: NOW).parts


def test_no_number_hangs_on_the_clock(tmp_path: Path) -> None:
    path = laid_out(tmp_path)
    told = [
        list(rows_of(read_sweep(path, factors_path=None, now=now).sweep, range(1)))
        for now in (NOW, datetime(2031, 5, 4, 3, 2))
    ]
    assert told[0] == told[1]


def test_half_a_part_is_made_again(tmp_path: Path) -> None:
    """What a power cut may leave of a file whose name the disk knew before its content."""
    parts = begin(tmp_path / "table.csv", Told("", {}, 25, 10, ""))
    for at, text in enumerate(("0,a\r\n", "10,b", "")):
        parts.path(at).write_text(text, newline="")
    assert parts.missing() == [1, 2]


@pytest.mark.parametrize(
    ("designs", "waters", "each"), [(32, 4, 12), (5_000, 10, 10), (1_000_000, 7, 105)]
)
def test_a_part_is_whole_turns_of_the_waters(designs: int, waters: int, each: int) -> None:
    assert designs_each(designs, waters) == each


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ('sizes = ["14"]', "sizes: got '14'"),
        ('mixes = ["copper-wafter.toml", "copper-wafter.toml"]', "mixes[2]: got 'Copper'"),
        ('tell = ["weather"]', "tell[1]: got 'weather'"),
        ('levels = "1 % to 1000 % by 0.1 %"', "designs at most"),
    ],
)
def test_a_file_that_cannot_be_used_is_refused(tmp_path: Path, wrong: str, said: str) -> None:
    key = wrong.partition(" ")[0]
    text = "\n".join(one for one in SMALL.splitlines() if not one.startswith(f"{key} "))
    text = text.replace("batches = 8", f"batches = 8\n{wrong}")
    if "at most" in said:
        text = text.replace('"4 C to 12 C by 4 C"', '"4 C to 20 C by 0.1 C"')
        text = text.replace('sizes = ["10 mm"', 'sizes = ["6 mm to 9 mm by 0.1 mm"')
    with pytest.raises(InputError) as refused:
        sweep_of(tmp_path, text)
    assert said in str(refused.value)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ((), "--out FILE"),
        (("--out", "a.csv", "--workers", "2", "--scheduler", "tcp://x:1"), "one of them"),
        (("--out", "a.txt"), "ends in .csv or .parquet"),
    ],
)
def test_what_the_command_cannot_do_is_told(folder: Path, more: tuple[str, ...], said: str) -> None:
    told = command(folder / "sweep.toml", folder / "x.csv")[:5]
    done = subprocess.run([*told, *more], capture_output=True, text=True, check=False, cwd=folder)
    assert done.returncode == 2
    assert said in " ".join(done.stderr.split())


def test_a_table_that_is_there_is_not_written_over(folder: Path, whole: bytes) -> None:
    done = worked_out(folder / "sweep.toml", folder / "one.csv")
    assert done.returncode == 2
    assert "a file that is not there yet" in done.stderr


def test_the_count_says_how_many_and_how_long(folder: Path) -> None:
    told = command(folder / "sweep.toml", folder / "x.csv")[:5]
    done = subprocess.run([*told, "--count"], capture_output=True, text=True, check=True)
    first, each, whole = done.stdout.splitlines()
    assert first == f"{DESIGNS} designs"
    assert re.fullmatch(r"about [\d.]+ ms of one core each, by a few of them", each)
    assert re.search(r"about [\d.]+ \w+ on \d+ cores? of this machine, [\d.]+ \w+ on one", whole)


def test_a_terminal_sees_a_bar_with_the_time_left(folder: Path, tmp_path: Path) -> None:
    here, there = pty.openpty()
    told = command(folder / "sweep.toml", tmp_path / "table.csv", "--workers", "1")
    with subprocess.Popen(told, stdout=subprocess.DEVNULL, stderr=there) as process:
        os.close(there)
        seen = b""
        try:
            while more := os.read(here, 4096):
                seen += more
        except OSError:  # how a terminal ends
            pass
    os.close(here)
    assert process.returncode == 0
    bar = rb"designs +\[#+-+\] +\d+/%d +\d\d:\d\d:\d\d" % DESIGNS
    assert re.search(bar, seen), seen[-500:]


def test_ctrl_c_ends_all_and_keeps_what_is_done(folder: Path, tmp_path: Path, whole: bytes) -> None:
    out = tmp_path / "table.csv"
    told = command_that_heeds(folder / "sweep.toml", out, "--workers", "2")
    with subprocess.Popen(
        told, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as process:
        while not list(tmp_path.glob("table.csv.parts/part-*")):
            time.sleep(0.02)
            assert process.poll() is None
        os.killpg(process.pid, signal.SIGINT)  # as a terminal does, to all of them
        _, said = process.communicate(timeout=60)
    assert process.returncode == 130
    assert not said.strip()
    assert not out.exists()
    again = worked_out(folder / "sweep.toml", out, "--workers", "1")
    assert "going on: " in again.stderr
    assert out.read_bytes() == whole
