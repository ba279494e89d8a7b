"""Every key of every file is told, with the shelf's words and the defaults as they are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, get_args, get_origin

import pytest

from baitwright.materials.defaults import default
from baitwright.materials.hooks import hooks
from baitwright.materials.liquids import carrier, carriers, strengths
from baitwright.quantities import show
from baitwright.workshop.forms.bottle_tables import BottleFile
from baitwright.workshop.forms.form_things import FormTable
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.readings_file import ReadingsTable
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.recipe_tables import RecipeFile
from baitwright.workshop.typed.reading import Table
from tests.architecture.tree import ROOT

PAGE = (ROOT / "docs" / "files.md").read_text(encoding="utf-8")
FILES: dict[str, type[Table]] = {
    "The recipe file": RecipeFile,
    "The bench file": BenchFile,
    "Readings": ReadingsTable,
}
DEFAULTS = {
    "[room] temperature": ("room_temperature", "C"),
    "[room] humidity": ("room_humidity", "%"),
    "[room] air": ("air_speed", "m/s"),
    "[room] exposure": ("tray_exposure", "%"),
    "[pot] water": ("pot_volume", "l"),
    "[pot] power": ("pot_power", "kW"),
    "[pot] basket": ("basket", ""),
    "lake": ("lake_temperature", "C"),
    "altitude": ("altitude", "m"),
    "paste": ("paste_temperature", "C"),
}


def section(name: str) -> str:
    """The text under a heading."""
    return PAGE.split(f"\n## {name}\n")[1].split("\n## ")[0]


def rows(name: str) -> list[tuple[list[str], list[str]]]:
    """Keys of each row of a section's table, under their heading, and its other cells."""
    found = []
    for line in section(name).splitlines():
        if line.startswith("| `"):
            first, *others = (cell.strip() for cell in line.strip("|").split(" | "))
            found.append((list(keys_of(first)), others))
    return found


def keys_of(cell: str) -> Iterator[str]:
    """The keys of a cell; a heading holds for all of it."""
    heading = ""
    for text in re.findall(r"`([^`]+)`", cell):
        head, _, key = text.rpartition(" ")
        if text.startswith("[") and not head:
            yield text
            continue
        heading = head or heading
        yield f"{heading} {key}".strip()


def keys_in(model: type[Table], heading: str = "") -> Iterator[str]:
    """Every key of a table of a file, as the page writes it, and the tables below it."""
    for name, field in model.model_fields.items():
        path = f"{heading.strip('[]')}.{name}".strip(".")
        below = table_in(field.annotation)
        if below is not None:
            many = get_origin(field.annotation) is tuple
            yield from keys_in(below, f"[[{path}]]" if many else f"[{path}]")
        elif get_origin(field.annotation) is dict:
            yield f"[{path}]"
        else:
            yield f"{heading} {name}".strip()


def table_in(annotation: Any) -> type[Table] | None:
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    return next(filter(None, map(table_in, get_args(annotation))), None)


@pytest.mark.parametrize("name", FILES)
def test_every_key_is_named_and_no_other(name: str) -> None:
    told = [key for keys, _ in rows(name) for key in keys]
    assert len(told) == len(set(told))
    short_forms = {"[bait] core"}
    assert set(told) - short_forms == set(keys_in(FILES[name]))


def test_a_key_that_is_missing_would_be_seen() -> None:
    keys = set(keys_in(BenchFile))
    assert {"[pot] quench", "[[room.then]] after", "[[eggs]] contents", "now"} <= keys
    assert "[base.parts]" in set(keys_in(RecipeFile))


def test_the_page_lists_every_carrier_and_strength() -> None:
    listed = {
        what: re.findall(r"`([^`]+)`", line)
        for what in ("Carriers", "Strengths")
        for line in PAGE.splitlines()
        if line.startswith(f"{what}: ")
    }
    assert [carrier(name).id for name in listed["Carriers"]] == list(carriers())
    assert tuple(listed["Strengths"]) == strengths()


@pytest.mark.parametrize("key", DEFAULTS)
def test_the_defaults_it_names_are_those_of_the_table(key: str) -> None:
    name, unit = DEFAULTS[key]
    (left_out,) = (others[-1] for keys, others in rows("The bench file") if key in keys)
    assert left_out.rstrip(" |") == show(default(name).value, unit)


def test_the_hooks_it_names_are_those_of_the_table() -> None:
    (takes,) = (others[0] for keys, others in rows("The bench file") if "[hook] size" in keys)
    assert [int(size) for size in re.findall(r"\d+", takes)] == [h.size for h in hooks().values()]


def test_the_store_it_names_is_that_of_the_table() -> None:
    (left_out,) = (
        others[-1] for keys, others in rows("The bench file") if "[store] fridge" in keys
    )
    names = ("fridge_temperature", "ambient_temperature", "freezer_temperature")
    figures = [show(default(name).value, "C").removesuffix(" °C") for name in names]
    assert re.findall(r"-?\d+", left_out) == figures


@pytest.mark.parametrize("kind", FORMS)
def test_the_page_names_every_key_of_a_record(kind: str) -> None:
    (row,) = re.findall(rf"^\| {kind} \| [^|]* \| ([^|]*) \|$", PAGE, re.MULTILINE)
    told = {re.sub(r"\[1\]", "", key) for key in re.findall(r"`([^`]+)`", row)}
    every = {
        f"{name}.{key}" if below else name
        for name, field in FORMS[kind].table.model_fields.items()
        if name not in FormTable.model_fields
        for below in [table_in(field.annotation)]
        for key in (below.model_fields if below else [""])
    }
    as_in_a_file = {"test": set(keys_below(BottleFile)), "readings": set(keys_below(ReadingsTable))}
    assert told == every - as_in_a_file.get(kind, set())


def keys_below(model: type[Table]) -> Iterator[str]:
    """Every key of a file, and of its tables."""
    for name, field in model.model_fields.items():
        below = table_in(field.annotation)
        yield from [name] if below is None else (f"{name}.{key}" for key in below.model_fields)
