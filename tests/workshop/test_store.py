"""Where the baits are put: read from a bench file, and refused by name where it cannot be."""

from __future__ import annotations

import tomllib

import pytest

from baitwright.recipe.bench import Storage
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.bench_file import bench_from
from tests.workshop.shelf import NOW

EGGS = '[[eggs]]\ncount = 3\ngrade = "EU L"\n'


def stored(lines: str) -> Storage:
    data = tomllib.loads(f"{EGGS}[store]\n{lines}")
    return bench_from(data, where="bench.toml", now=NOW).store


def test_a_store_is_read_in_si() -> None:
    store = stored(
        'fridge = "4 C"\nambient = "68 F"\nfreezer = "-20 C"\npacked = true\nkeep_for = "10 d"\n'
    )
    assert store.fridge == pytest.approx(277.15)
    assert store.ambient == pytest.approx(293.15)
    assert store.freezer == pytest.approx(253.15)
    assert store.packed is True
    assert store.keep_for == pytest.approx(10 * 86_400)


def test_a_bench_without_a_store_says_nothing_of_it() -> None:
    assert bench_from(tomllib.loads(EGGS), where="bench.toml", now=NOW).store == Storage()


@pytest.mark.parametrize(
    ("line", "field", "accepted"),
    [
        ('freezer = "5 C"', "store.freezer", "-40 C to -6 C"),
        ('freezer = "-60 C"', "store.freezer", "-40 C to -6 C"),
        ('fridge = "-5 C"', "store.fridge", "-2 C to 15 C"),
        ('fridge = "20 C"', "store.fridge", "-2 C to 15 C"),
        ('fridge = "cold"', "store.fridge", "5 C"),
        ('ambient = "40 C"', "store.ambient", "0 C to 35 C"),
        ('ambient = "nan C"', "store.ambient", "18 C"),
        ('packed = "yes"', "store.packed", "true or false"),
        ('keep_for = "0 d"', "store.keep_for", "1 d to 730 d"),
        ('keep_for = "a while"', "store.keep_for", "7 d"),
        ('cellar = "10 C"', "store.cellar", "fridge"),
    ],
)
def test_what_is_no_store_is_refused(line: str, field: str, accepted: str) -> None:
    with pytest.raises(InputError) as caught:
        stored(line)
    assert field in str(caught.value)
    assert accepted in str(caught.value)
