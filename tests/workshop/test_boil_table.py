"""A table of seconds asked for: lists as typed, defaults about the recipe, files, refusals."""

from __future__ import annotations

import json
from pathlib import Path

import pypdf
import pytest

from baitwright.batch.boil_table import BoilTable
from baitwright.terms.errors import InputError
from baitwright.workshop.stages.boil_table import shown, table_as_json, table_of_seconds, write_page
from tests.workshop.shelf import NOW, path

WAFTER, BENCH = path("copper-wafter"), path("bench-three-large-eggs")


def tabled(
    recipe: Path = WAFTER, bench: Path | None = BENCH, *, sizes: str = "", cores: str = ""
) -> BoilTable:
    return table_of_seconds(
        recipe, bench, sizes=sizes, cores=cores, factors_path=None, clock=lambda: NOW
    )


def test_left_alone_it_lies_about_the_recipes_own() -> None:
    made = tabled()
    assert made.asked.sizes == pytest.approx(tuple(1e-3 * mm for mm in range(12, 19)))
    assert made.asked.cores == pytest.approx((0.0, 0.008, 0.009))


def test_without_a_bench_the_cores_sold_about_the_recipes_own() -> None:
    made = tabled(bench=None)
    assert made.asked.cores == pytest.approx((0.0, 0.007, 0.008, 0.009, 0.010, 0.011))
    assert tabled(path("chalk-sinker"), None).asked.cores == pytest.approx((0.0, 0.008, 0.010))


@pytest.mark.parametrize(
    "typed", ["14 mm, 15.5 mm", "15,5 mm, 14 mm", "14mm;15.5mm", "1.4 cm , 15.5 mm,14 mm"]
)
def test_lists_as_people_type_them(typed: str) -> None:
    assert tabled(sizes=typed, cores="none").asked.sizes == pytest.approx((0.014, 0.0155))


@pytest.mark.parametrize(
    ("sizes", "cores", "field", "got"),
    [
        ("15", "none", "sizes", "15"),
        ("none", "none", "sizes", "none"),
        ("15 mm, ", "none", "sizes", ""),
        ("15 mm", "big", "cores", "big"),
        ("15 g", "none", "sizes", "15 g"),
        ("2 mm", "none", "sizes", 2.0),
    ],
)
def test_a_list_that_cannot_be_read_is_named(
    sizes: str, cores: str, field: str, got: object
) -> None:
    with pytest.raises(InputError) as caught:
        tabled(sizes=sizes, cores=cores)
    assert (caught.value.field, caught.value.got) == (field, got)


def test_a_pot_that_cannot_be_names_its_file(tmp_path: Path) -> None:
    bench = tmp_path / "bench.toml"
    bench.write_text('baits_wanted = 30\npressure = "990 hPa"\naltitude = "200 m"\n')
    with pytest.raises(InputError) as caught:
        tabled(bench=bench, sizes="15 mm", cores="none")
    assert (caught.value.where, caught.value.field) == (str(bench), "pressure")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("", 'boils_at = "-3 C"'),
        ("", 'boils_at = "104 C"'),
        ("", 'boils_at = "98"'),
        ("", 'quench = "snow"'),
        ("", 'salt = "-5 g"'),
    ],
)
def test_the_pots_own_fields_are_refused_by_name(tmp_path: Path, old: str, new: str) -> None:
    bench = tmp_path / "bench.toml"
    bench.write_text(f"baits_wanted = 30\n[pot]\n{old}{new}\n")
    with pytest.raises(InputError) as caught:
        tabled(bench=bench, sizes="15 mm", cores="none")
    assert caught.value.field == f"pot.{new.partition(' ')[0]}"
    assert caught.value.where == str(bench)


def test_the_text_says_what_it_holds_for() -> None:
    made = tabled(sizes="11 mm, 15 mm", cores="none, 9 mm, 12.5 mm")
    text = shown(made)
    assert max(map(len, text.splitlines())) <= 100
    for words in ("no core", "12.5 mm", "boiling at", "25* baits", "Cut one open", "- no room"):
        assert words in " ".join(text.split())
    cell = made.cell(0.015, 0.009)
    assert cell is not None
    assert f"/ {float(cell.advised.value):.0f}" in text
    assert "safe" not in text.lower()


def test_many_cores_stand_under_one_another() -> None:
    text = shown(tabled(sizes="20 mm", cores="none, 4 mm, 5 mm, 6 mm, 7 mm, 8 mm, 9 mm, 10 mm"))
    assert max(map(len, text.splitlines())) <= 100
    assert text.count("bait ") >= 2


def test_the_data_holds_every_cell() -> None:
    made = tabled(sizes="15 mm, 16 mm", cores="none, 9 mm")
    data = json.loads(json.dumps(table_as_json(made), allow_nan=False))
    assert len(data["cells"]) == len(made.cells) == 4
    assert {"diameter_mm", "core_mm", "set_s", "boil_s", "thin"} == set(data["cells"][0])
    assert all(cell["boil_s"] % 5 == 0 for cell in data["cells"])


def test_the_page_is_one_and_the_same_bytes(tmp_path: Path) -> None:
    made = tabled(sizes="15 mm, 16 mm", cores="none, 9 mm")
    first, second = (write_page(made, tmp_path / f"{name}.pdf") for name in ("one", "two"))
    assert first.read_bytes() == second.read_bytes()
    (page,) = pypdf.PdfReader(first).pages
    text = page.extract_text()
    cell = made.cell(0.016, 0.009)
    assert cell is not None
    for words in (
        made.recipe.name,
        "no core",
        "16 mm",
        f"{float(cell.advised.value):.0f}",
        "timer",
    ):
        assert words in text


def test_a_large_table_stays_on_one_page(tmp_path: Path) -> None:
    sizes = ", ".join(f"{mm} mm" for mm in range(10, 34))
    made = tabled(sizes=sizes, cores="none, 6 mm, 8 mm")
    (page,) = pypdf.PdfReader(write_page(made, tmp_path / "large.pdf")).pages
    assert "33 mm" in page.extract_text()


def test_a_page_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    made = tabled(sizes="15 mm", cores="none")
    (tmp_path / "page.pdf").mkdir()
    with pytest.raises(InputError, match="pdf"):
        write_page(made, tmp_path / "page.pdf")
