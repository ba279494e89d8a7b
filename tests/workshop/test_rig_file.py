"""The rig of a bench file: what is read, what is refused, and options that win over it."""

from __future__ import annotations

import tomllib

import pytest

from baitwright.recipe.rig import LINK_DIAMETER, MARGIN, Hole, Link, Piece, Rig, every_size
from baitwright.terms.errors import InputError
from baitwright.workshop.plans.plan_json import plan_as_json, request_from_json
from baitwright.workshop.recipe_files.bench_file import bench_from
from baitwright.workshop.recipe_files.rig_table import RigTable, rig_from
from baitwright.workshop.typed.reading import parse
from tests.workshop.shelf import NOW, planned

EGGS = '[[eggs]]\ncount = 1\ngrade = "EU L"\n'


def rig(text: str) -> Rig:
    made = bench_from(tomllib.loads(f"{EGGS}[rig]\n{text}"), where="bench.toml", now=NOW).rig
    assert made is not None
    return made


def test_a_rig_of_which_everything_is_said() -> None:
    made = rig(
        'link = "braid 20 cm 0.4 mm"\nparts = ["bait stop", "tie"]\nhole = "2 mm"\nsealed = true\n'
        'depth = "3.5 m"\nsalinity = "0.2 %"\ncurrent = "0.1 m/s"\nmargin = "0.05 g"\n'
        'carry = "0.5 g"\nslowest = "0.05 m/s"\nfastest = "0.1 m/s"\n'
        'shot = ["BB", "2 x No 4", "0.05 g"]\nmetal = "tungsten"\n'
    )
    assert made.link == Link("braid", 0.2, pytest.approx(0.4e-3))
    assert made.parts == ("bait-stop", "tie")
    assert made.hole == Hole(0.002, sealed=True)
    assert (made.depth, made.current) == (3.5, 0.1)
    assert made.salinity == pytest.approx(0.002)
    assert made.margin == pytest.approx(0.05e-3)
    assert made.putty == pytest.approx(0.5e-3)
    assert (made.slowest, made.fastest) == (0.05, 0.1)
    assert [(one.name, one.count) for one in made.stock] == [
        ("BB", None),
        ("No 4", 2),
        ("0.05 g", None),
    ]
    assert {one.metal for one in made.stock} == {"tungsten"}


def test_nothing_said_is_a_bare_rig_and_no_table_is_none() -> None:
    assert rig("") == Rig(margin=MARGIN, stock=every_size("tin"))
    assert bench_from(tomllib.loads(EGGS), where="bench.toml", now=NOW).rig is None


def test_lists_may_be_written_with_commas() -> None:
    assert rig('parts = "bait stop, tie"').parts == ("bait-stop", "tie")
    assert [one.name for one in rig('shot = "BB, 0,05 g; SSG"').stock] == ["BB", "0,05 g", "SSG"]
    assert rig('link = "fluorocarbon 15 cm"').link == Link("fluorocarbon", 0.15, LINK_DIAMETER)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('lenght = "1 m"', "rig.lenght: got '1 m', but it takes a key known there: link, parts"),
        ('link = "rope 15 cm"', "rig.link: got 'rope'"),
        ("link = 3", "rig.link: got 3, but it takes material, length"),
        ('link = "braid 9 m"', "up to 3 m of up to 2 mm"),
        ('parts = ["anchor"]', "rig.parts: got 'anchor'"),
        ("parts = [1]", 'rig.parts: got [1], but it takes a list such as ["bait stop"'),
        ('hole = "30 mm"', "rig.hole: got '30 mm', but it takes a length such as 2 mm"),
        ("sealed = true", "rig.sealed: got True, but it takes a hole to seal"),
        ('sealed = "yes"', "rig.sealed: got 'yes', but it takes true or false"),
        ('depth = "3.5"', "rig.depth: got '3.5'"),
        ('depth = "300 m"', "from 0 m to 100 m"),
        ('salinity = "9 %"', "rig.salinity: got '9 %'"),
        ('current = "-1 m/s"', "rig.current: got '-1 m/s'"),
        ('margin = "2 g"', "rig.margin: got '2 g'"),
        ('carry = "80 g"', "rig.carry: got '80 g'"),
        ('slowest = "0 m/s"', "rig.slowest: got '0 m/s'"),
        ('fastest = "2 m/s"', "rig.fastest: got '2 m/s'"),
        ('slowest = "0.2 m/s"\nfastest = "0.1 m/s"', "rig.slowest: got '0.2 m/s'"),
        ('shot = ["BX"]', "rig.shot: got 'BX'"),
        ('shot = ["0 x BB"]', "at least one of each"),
        ('metal = "cheese"', "rig.metal: got 'cheese'"),
    ],
)
def test_what_cannot_be_is_said_by_name(line: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        rig(line)
    assert said in str(refused.value)
    assert str(refused.value).startswith("bench.toml: ")


def test_a_box_without_end_is_refused() -> None:
    box = [f"0.{grams} g" for grams in range(100, 125)]
    with pytest.raises(InputError, match=r"rig\.shot: got 25, but it takes at most 24 kinds"):
        rig(f"shot = {box}")


FILED = Rig(
    link=Link("braid", 0.2),
    hole=Hole(0.002),
    depth=3.5,
    stock=(Piece("BB", 0.4e-3, "tungsten"),),
)


def over(**typed: object) -> Rig:
    return rig_from(parse(typed, RigTable, where=""), FILED)


def test_what_is_typed_wins_and_the_rest_stays() -> None:
    assert over() == FILED
    made = over(depth="1 m", link="fluorocarbon 10 cm")
    assert (made.depth, made.link) == (1.0, Link("fluorocarbon", 0.1))
    assert (made.hole, made.stock) == (FILED.hole, FILED.stock)
    assert over(depth="0 m").depth == 0.0


def test_a_seal_alone_closes_the_hole_of_the_file() -> None:
    assert over(sealed=True).hole == Hole(0.002, sealed=True)
    assert over(hole="1 mm").hole == Hole(0.001)


def test_new_shot_is_of_the_old_metal_and_a_new_metal_is_of_the_old_box() -> None:
    (tin,) = over(metal="tin").stock
    assert (tin.name, tin.metal) == ("BB", "tin")
    (new,) = over(shot="No 8").stock
    assert (new.name, new.metal) == ("No 8", "tungsten")


def test_a_rig_goes_through_the_data_of_a_plan() -> None:
    made = planned("copper-wafter", "bench-rig")
    again = request_from_json(plan_as_json(made))
    assert again.bench.rig == made.request.bench.rig
    assert again == made.request
