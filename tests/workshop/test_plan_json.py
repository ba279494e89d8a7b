"""A plan as data: whole, rounded, true to its schema, and enough to plan the same again."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from baitwright import __version__
from baitwright.batch.plan import PlanRequest, plan
from baitwright.batch.prove import ASKED
from baitwright.materials.factors import prior_factors
from baitwright.quantities import from_si
from baitwright.sources import sources
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import PerBait, PerBatch, Quantity
from baitwright.uncertainty.bands import band_of
from baitwright.workshop.plans.plan_json import MAKER, plan_as_json, request_from_json
from baitwright.workshop.recipe_files.bench_file import bench_from
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.told.plain import DIGITS, plain
from tests.workshop.shelf import NOW, PAIRS, SCHEMAS, path, planned


def written(recipe: str, bench: str) -> dict[str, Any]:
    """The plan of two examples, through a JSON text; a number JSON does not know is refused."""
    data: dict[str, Any] = json.loads(
        json.dumps(plan_as_json(planned(recipe, bench)), allow_nan=False)
    )
    return data


def quantities_in(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict) and "median" in node:
        yield node
        return
    if isinstance(node, dict | list):
        for part in node.values() if isinstance(node, dict) else node:
            yield from quantities_in(part)


def numeric(quantities: Iterator[Quantity]) -> list[Quantity]:
    return [one for one in quantities if isinstance(one.value, int | float | PerBatch | PerBait)]


@pytest.mark.parametrize(("recipe", "bench"), PAIRS)
def test_planning_the_request_again_gives_the_same_data(recipe: str, bench: str) -> None:
    data = written(recipe, bench)
    request = request_from_json(data)
    assert request == planned(recipe, bench).request
    assert json.loads(json.dumps(plan_as_json(plan(request)))) == data


@pytest.mark.parametrize(("recipe", "bench"), PAIRS)
def test_the_data_fit_the_published_schema(recipe: str, bench: str) -> None:
    schema = json.loads((SCHEMAS / "plan.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema).validate(written(recipe, bench))


def test_the_published_schema_refuses_a_quantity_that_lacks_a_band() -> None:
    schema = json.loads((SCHEMAS / "plan.schema.json").read_text(encoding="utf-8"))
    data = written(*PAIRS[0])
    del data["stages"]["rolled"]["bait"]["water"]["band80"]
    assert not Draft202012Validator(schema).is_valid(data)


def test_every_number_of_the_plan_is_in_the_data() -> None:
    made = planned(*PAIRS[0])
    asked = {reading.name for reading in made.prove}
    elsewhere = {one.predicted.label for one in made.readings if one.name not in asked}
    wanted = {(one.name, one.label) for one in numeric(made.quantities())}
    told = {(one["name"], one["label"]) for one in quantities_in(written(*PAIRS[0]))}
    assert {pair for pair in wanted - told if pair[1] not in elsewhere} == set()
    assert len(told) > 50


def test_a_quantity_is_told_in_the_unit_it_is_shown_in() -> None:
    quantity = planned(*PAIRS[0]).rolled.pinch
    told, band = plain(quantity), band_of(quantity)
    assert told["unit"] == "g"
    assert told["draws"] == band.draws
    assert told["band80"] == pytest.approx(
        [from_si(band.low80, "g"), from_si(band.high80, "g")], rel=10.0 ** (1 - DIGITS)
    )
    assert told["band95"][0] < told["band50"][0] < told["median"] < told["band50"][1]


def test_numbers_carry_six_digits() -> None:
    def bare(node: Any) -> Iterator[float]:
        if isinstance(node, float):
            yield node
        elif isinstance(node, dict | list):
            for part in node.values() if isinstance(node, dict) else node:
                yield from bare(part)

    data = written(*PAIRS[0])
    numbers = [number for part in ("stages", "day", "prove") for number in bare(data[part])]
    assert len(numbers) > 300
    assert all(number == float(f"{number:.6g}") for number in numbers)


def test_what_never_comes_to_pass_is_said_and_not_written_as_infinity() -> None:
    text = '[[eggs]]\ncount = 1\ngrade = "EU L"\n[room]\ntemperature = "5 C"\nhumidity = "100 %"'
    bench = bench_from(tomllib.loads(text), where="bench.toml", now=NOW)
    made = plan(PlanRequest(read_recipe(path("copper-wafter")), bench, prior_factors()))
    ready = plan_as_json(made)["stages"]["dry"]["ready"]
    assert ready["never"] is True
    assert ready["median"] is None
    assert ready["band95"] == [None, None]
    assert "never" not in plan_as_json(made)["stages"]["dry"]["mass"]


def test_times_steps_cautions_and_sources_are_told() -> None:
    data = written(*PAIRS[0])
    assert data["program"] == {"name": "baitwright", "version": __version__}
    assert data["request"]["bench"]["leaving"] == "2026-11-27T17:00:00"
    assert data["day"]["steps"][-1]["end"] == "2026-11-27T17:00:00"
    assert not data["day"]["late"]
    assert [one["name"] for one in data["prove"]] == list(ASKED)
    assert all(caution["text"] and caution["checked_on"] for caution in data["cautions"])
    assert "eggs" in data["allergens"]["contains"]
    for entry in data["sources"]:
        known = sources().get(entry["key"])
        assert entry["citation"] == (known.citation if known else "What the maker states.")
        assert known or entry["key"] == MAKER


@pytest.mark.parametrize(
    ("spoil", "field"),
    [
        (lambda data: data.pop("request"), "request"),
        (lambda data: data.update(request=3), "request"),
        (lambda data: data["request"].pop("bench"), "request.bench"),
        (lambda data: data["request"]["recipe"]["bait"].update(kind="eel"), "request.recipe.bait"),
        (lambda data: data["request"]["bench"].update(now="soon"), "request.bench.now"),
    ],
)
def test_data_without_a_whole_request_are_refused(spoil: Any, field: str) -> None:
    data = written(*PAIRS[0])
    spoil(data)
    with pytest.raises(InputError) as caught:
        request_from_json(data)
    assert caught.value.field.startswith(field)
