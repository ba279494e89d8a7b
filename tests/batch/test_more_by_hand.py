"""The short formulas of rolling, of a day's hands, of freezing and of outings, on round figures."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from baitwright.batch import bench_time, free_batch, free_water, roll, settle, thaw, trip
from baitwright.terms.quantity import Declared
from tests.batch.by_hand import Row, check, names

BALL = math.pi / 6.0
FUSION = 6010.0 / 0.018015  # J/kg: the molar heat over the molar mass, to four figures
HALF_HOUR = 1800.0
ROWS: list[Row] = [
    (roll.shell_volume, {"diameter": 3.0, "core_diameter": 1.0}, 26.0 * BALL),
    (roll.pinch, {"shell_volume": 2.0, "density": 3.0, "dusting": 0.5}, 4.0),
    (roll.dusting_mix, {"paste": 200.0, "dusting": 0.02}, 4.0),
    (
        roll.baits,
        {"paste": 200.0, "pinch": np.array([[1.0, 3.0]]), "loss": 0.05, "factor": 2.0},
        [[90.0]],
    ),
    (roll.rolled_diameter, {"wanted": 14.0, "factor": 1.5, "scatter": 0.5}, 21.5),
    (
        roll.bait_share,
        {"shell_volume": 2.0, "density": 3.0, "dusting": 0.5, "paste": 100.0},
        0.04,
    ),
    (
        roll.bait_water,
        {"share": 0.1, "egg_water": 20.0, "dry_mix": 50.0, "mix_water": 0.1, "dust": 5.0},
        3.0,
    ),
    (roll.bait_dust, {"shell_volume": 2.0, "density": 3.0, "dusting": 0.5}, 2.0),
    (
        roll.bait_solids,
        {"shell_volume": 2.0, "density": 3.0, "water": 1.0, "liquids": 0.5, "cork": 0.25},
        4.25,
    ),
    (roll.bait_liquid, {"share": 0.1, "dose": 3.0}, 0.3),
    (roll.bait_air, {"shell_volume": 2.0, "air_fraction": 0.1, "cork": 0.5}, 0.15),
    (roll.bait_air, {"shell_volume": 2.0, "air_fraction": 0.1}, 0.2),
    (bench_time.mixer_lots, {"paste": np.array([[0.1], [1.5], [9.0]]), "mixer": 1.0}, 2.0),
    (bench_time.mixer_lots, {"paste": np.array([[2.0]]), "mixer": 1.0}, 2.0),
    (bench_time.mixer_lots, {"paste": np.array([[0.2]]), "mixer": 1.0}, 1.0),
    (bench_time.mixing_in_lots, {"lots": 3.0, "mixing": 20.0}, 60.0),
    (bench_time.hands_on, {"mixing": 20.0, "together": 45.0}, 65.0),
    # 60 baits rolled in 60 min, 20 to a load of 2 min: the last load waits for the last bait
    (
        bench_time.roll_and_boil,
        {"rolling": 60.0, "baits": 60.0, "basket": 20.0, "loads": 3.0, "load": 2.0},
        62.0,
    ),
    # loads of 30 min: after the first 20 min of rolling the pot is never empty
    (
        bench_time.roll_and_boil,
        {"rolling": 60.0, "baits": 60.0, "basket": 20.0, "loads": 3.0, "load": 30.0},
        110.0,
    ),
    # fewer baits than the basket takes: all are rolled before the only load
    (
        bench_time.roll_and_boil,
        {"rolling": 10.0, "baits": 10.0, "basket": 20.0, "loads": 1.0, "load": 2.0},
        12.0,
    ),
    (
        bench_time.trays_filled,
        {"baits": 100.0, "diameter": np.array([0.030]), "holds": 200.0},
        2.0,
    ),
    (bench_time.trays_filled, {"baits": 1.0, "diameter": np.array([0.015]), "holds": 200.0}, 1.0),
    (free_batch.free_raw, {"dry_mix": 1000.0, "coarse": 30.0}, 970.0),
    (free_batch.bagged_mass, {"baits": 10.0, "mass": np.array([[1.0, 3.0]])}, [[20.0]]),
    (
        free_batch.freezer_room,
        {"baits": 6.0, "diameter": np.array([[1.0, 2.0]]), "packing": 0.5},
        [[54.0 * BALL]],
    ),
    (free_batch.pot_time, {"loads": 3.0, "load": 150.0}, 450.0),
    (free_batch.level_in_paste, {"dose": 3.0, "paste": 300.0}, 0.01),
    (free_batch.given_off, {"level": 0.01, "left": 0.25}, 0.0075),
    (free_batch.bait_water_share, {"solids": 2.0, "water": 1.0, "liquids": 1.0}, 0.25),
    # Twelve hours, recast after five: three casts; after four: three; after three, as lift ends: 4
    (
        trip.casts_a_night,
        {"night_time": 12.0, "recast": np.array([[5.0]]), "lasts": np.array([[0.0]])},
        [[3.0]],
    ),
    (
        trip.casts_a_night,
        {"night_time": 12.0, "recast": np.array([[4.0, 12.0]]), "lasts": np.array([[3.0, 0.0]])},
        [[2.5]],
    ),
    (trip.casts_a_night, {"night_time": 12.0, "recast": 99.0, "lasts": 0.0}, 1.0),
    (trip.hookbaits_to_take, {"rods": 3, "nights": 2, "casts": 2.0, "spares": 0.5}, 18.0),
    (trip.hookbaits_to_take, {"rods": 3, "nights": 1, "casts": 1.0, "spares": 0.1}, 4.0),
    (trip.hookbaits_to_make, {"take": 18.0, "wish": 0.9}, 20.0),
    (trip.hookbaits_to_make, {"take": 18.0, "wish": 0.89}, 21.0),
    (trip.baits_a_night, {"take": 18.0, "nights": 4}, 5.0),
    (trip.good_baits, {"baits": 21.0, "wish": 0.89}, 18.0),
    (trip.good_baits, {"baits": 20.0, "wish": 0.9}, 18.0),
    (trip.free_bait_to_take, {"a_night": 1.5, "nights": 3}, 4.5),
    (
        thaw.pack_density,
        {"mass": np.array([[1.0, 3.0]]), "diameter": np.array([[1.0, 2.0]]), "packing": 0.5},
        [[1.0 / (4.5 * BALL)]],
    ),
    (thaw.pack_of_paste_density, {"density": 1200.0, "packing": 0.6}, 720.0),
    (thaw.paste_of_bait, {"dry": 1.0, "water": 0.5}, 1.5),
    (thaw.ice_melts, {"starts": np.array([[268.0, 270.0]]), "freezer": 255.0}, [[269.0]]),
    (thaw.ice_melts, {"starts": np.array([[250.0, 252.0]]), "freezer": 255.0}, [[255.0]]),
    (thaw.thaw_planned, {"time": np.array([[4.0 * HALF_HOUR]] * 10)}, 4.0 * HALF_HOUR),
    (thaw.thaw_planned, {"time": np.array([[4.1 * HALF_HOUR]] * 10)}, 5.0 * HALF_HOUR),
    (free_water.ice_share, {"ice": 0.2, "water": 0.8}, 0.25),
    (free_water.dry_matter, {"solids": 1.0, "liquids": 0.2}, 1.2),
    # 1 kJ/kg of ice is told: at a tray of two, one with a gram in a kilogram is below it
    (free_water.freezes_share, {"ice": np.array([1.0, 10.0]), "mass": np.full(2, 1000.0)}, 0.5),
    (
        settle.settle_time,
        {"depth": 3.0, "speed": np.array([1.5, 0.0, -1.0])},
        [2.0, np.inf, np.inf],
    ),
    (settle.sinking_share, {"speed": np.array([1.0, 0.0, -1.0, 2.0])}, 0.5),
]


@pytest.mark.parametrize(("made", "inputs", "expected"), ROWS, ids=names(ROWS))
def test_by_hand(made: Declared, inputs: dict[str, Any], expected: Any) -> None:
    check(made, inputs, expected)
    assert np.shape(made.function(**inputs)) == np.shape(expected)


def test_ice_of_a_tray_takes_its_heat_by_weight() -> None:
    ice, mass = np.array([[1.0, 3.0], [2.0, 2.0]]), np.array([[9.0, 11.0], [5.0, 15.0]])
    found = thaw.ice_heat.function(ice=ice, mass=mass)
    assert found.shape == (2, 1)
    np.testing.assert_allclose(found, [[0.2 * FUSION], [0.2 * FUSION]], rtol=1e-3)


def test_an_egg_freezes_all_but_what_its_protein_binds() -> None:
    """At 10 C of frost nineteen parts in twenty of it, by Raoult from half a degree."""
    found = thaw.egg_ice_heat.function(water=0.75, protein=0.125, start=263.15)
    assert found == pytest.approx(FUSION * (0.75 - 0.05) * 0.95, rel=1e-3)
    warm = thaw.egg_ice_heat.function(water=0.75, protein=0.125, start=273.0)
    assert warm == pytest.approx(FUSION * 0.7 * (1.0 - 0.5 / 0.6), rel=1e-3)
