"""The JSON API: what its document says is what it does, whatever is thrown at it."""

from __future__ import annotations

import json
import math
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis import GenerationMode
from schemathesis.config import SchemathesisConfig

from baitwright.materials.factors import prior_factors
from baitwright.notebook.store import open_notebook
from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, token_of
from baitwright.workshop.factors.factors_kept import keep_factors
from tests.web.conftest import HOST, Served, house_at

EXAMPLES = Path(__file__).parents[2] / "examples"
LOOPBACK = ("127.0.0.1", 50_000)


def told(name: str) -> dict[str, Any]:
    return tomllib.loads((EXAMPLES / name).read_text(encoding="utf-8"))


RECIPE, BENCH = told("copper-wafter.toml"), told("bench-three-large-eggs.toml")
ASKED = {"recipe": RECIPE, "bench": {**BENCH, "leaving": "tomorrow 17:00"}}


def test_a_plan_is_what_the_command_prints(client: TestClient) -> None:
    found = client.post("/api/plan", json=ASKED)
    assert found.status_code == 200
    assert found.json()["stages"]["boil"]["seconds"]["median"] == 90.0


def test_a_plan_goes_by_the_notebooks_own_factors_unless_told(
    client: TestClient, place: Path
) -> None:
    """Dry mix per egg 20 % above the table, sure; only the table's where that is asked for."""
    now = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
    own = replace(prior_factors().find("dry_mix_per_egg"), mu=math.log(1.2), kappa=20.0, batches=9)
    factors = prior_factors().with_factors([own], name="mine", made_on=now)
    book = open_notebook(place, now=now)
    keep_factors(book, factors, now=now)
    book.close()
    plain, mine = (
        client.post("/api/plan", json={**ASKED, **more}).json()["stages"]["mix"]["per_egg"]
        for more in ({"factors": "table"}, {})
    )
    assert mine["median"] == pytest.approx(1.2 * plain["median"], rel=0.02)


def test_a_doubtful_night_is_told_to_programs(client: TestClient) -> None:
    rod = {"bites": 1, "hours": "12 h"}
    night = {"record": {"water": "Reed", "rod": [rod]}}
    (doubt,) = client.post("/api/records/night", json=night).json()["doubtful"]
    assert not doubt["counted"]


def test_an_unknown_key_is_refused_by_name(client: TestClient) -> None:
    asked = {**ASKED, "bench": {**BENCH, "moon": "full"}}
    found = client.post("/api/plan", json=asked)
    assert found.status_code == 422
    assert found.json()["detail"]["field"] == "bench.moon"


def test_what_a_field_takes_is_told(client: TestClient) -> None:
    asked = {**ASKED, "recipe": {**RECIPE, "bait": {**RECIPE["bait"], "diameter": "15"}}}
    detail = client.post("/api/plan", json=asked).json()["detail"]
    assert detail["field"] == "recipe.bait.diameter"
    assert "15 mm" in detail["accepted"]
    assert detail["field"] in detail["message"]


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_a_number_that_is_none_is_refused(client: TestClient, number: str) -> None:
    for path in ("/api/plan", "/api/levels", "/api/records/night"):
        body = f'{{"draws": {number}, "drops_per_ml": {number}, "record": {{"bites": {number}}}}}'
        found = client.post(path, content=body, headers={"content-type": "application/json"})
        assert found.status_code == 422
        assert set(found.json()["detail"]) == {"field", "accepted", "message"}


@pytest.mark.parametrize(
    "body", ["", "{", "[]", '"\\ud800"', "{" * 2000, '{"recipe": ' * 2000, "9" * 5000]
)
def test_what_is_no_request_is_refused(client: TestClient, body: str) -> None:
    found = client.post("/api/plan", content=body, headers={"content-type": "application/json"})
    assert found.status_code in (400, 422)


def test_half_a_letter_is_kept_out_of_the_notebook(client: TestClient) -> None:
    body = '{"record": {"water": "Long \\ud800pool"}}'
    found = client.post(
        "/api/records/night", content=body, headers={"content-type": "application/json"}
    )
    assert found.status_code == 422


def test_levels_are_answered(client: TestClient) -> None:
    asked = {"levels": ["Malt: 0.8 ml per egg of 50 ml"], "eggs": "171 g in the bowl"}
    found = client.post("/api/levels", json=asked).json()
    assert found["levels"][0]["fill"]["mark_ml"] == pytest.approx(2.6)


def test_a_batch_is_planned_once_and_read_again(client: TestClient) -> None:
    asked = {**ASKED, "once": "one filling-in"}
    first, again = (client.post("/api/batches", json=asked) for _ in range(2))
    assert first.status_code == again.status_code == 201
    assert first.json() == again.json()
    name = first.json()["name"]
    listed = client.get("/api/batches").json()["batches"]
    assert [one["name"] for one in listed] == [name]
    assert client.get(f"/api/batches/{name}").json()["about"] == "Copper wafter"
    (kept,) = client.get("/api/recipes").json()["recipes"]
    assert tomllib.loads(kept["toml"]) == RECIPE


def test_a_recipe_is_kept_and_its_like_makes_no_version(client: TestClient) -> None:
    first = client.post("/api/recipes", json={"recipe": RECIPE}).json()
    again = client.post("/api/recipes", json={"recipe": RECIPE}).json()
    changed = {**RECIPE, "base": {**RECIPE["base"], "sieve": "1 mm"}}
    assert (first["version"], first["is_new"]) == (1, True)
    assert (again["version"], again["is_new"]) == (1, False)
    if client.post("/api/recipes", json={"recipe": changed}).status_code == 201:
        assert len(client.get("/api/recipes/Copper wafter").json()["recipes"]) == 2


def test_a_record_is_written_corrected_and_read(client: TestClient) -> None:
    night = {"water": "Long Reedpool", "bites": 2}
    made = client.post("/api/records/night", json={"record": night})
    assert made.status_code == 201
    name = made.json()["name"]
    asked = {"name": name, "version": 1, "record": {**night, "bites": 3}}
    assert client.post("/api/records/night", json=asked).json()["version"] == 2
    assert client.post("/api/records/night", json=asked).status_code == 422
    found = client.get(f"/api/records/night/{name}").json()
    assert found["body"]["bites"] == 3
    assert [one["name"] for one in client.get("/api/records/night").json()["records"]] == [name]


def test_shelf_and_traces_are_told(client: TestClient) -> None:
    client.post("/api/batches", json=ASKED)
    assert client.get("/api/shelf").json() == {"items": []}
    nobody = client.get("/api/trace", params={"name": "Mill S1"})
    assert nobody.json()["detail"]["field"] == "trace"


def test_a_path_is_not_read_for_a_program(client: TestClient) -> None:
    asked = {"record": {"water": "Long Reedpool", "files": ["/etc/hostname"]}}
    found = client.post("/api/records/night", json=asked)
    assert found.status_code == 422
    assert found.json()["detail"]["field"] == "files"


def test_writing_needs_the_token_that_this_machine_is_told(place: Path) -> None:
    app = make_app(house_at(place, HOST))
    with TestClient(app, client=LOOPBACK) as here:
        asked = {"record": {"water": "Long Reedpool"}}
        assert here.post("/api/records/night", json=asked).status_code == 403
        other = here.post("/api/records/night", json=asked, headers={HEADER: b"gu\xe9ssed"})
        assert other.status_code == 403
        key = here.get("/api/token").json()
        told = {key["header"]: key["token"]}
        assert here.post("/api/records/night", json=asked, headers=told).status_code == 201
    with TestClient(app, client=("192.0.2.7", 50_000)) as elsewhere:
        assert elsewhere.get("/api/token").status_code == 403


def test_a_live_workshop_tells_its_document(live: Served) -> None:
    from urllib.request import urlopen

    with urlopen(f"{live.address}/api/openapi.json") as answer:
        document = json.load(answer)
    assert "/plan" in document["paths"]
    assert document["servers"] == [{"url": "/api"}]
    # Two tables of one name would be told by the modules they stand in.
    assert not [name for name in document["components"]["schemas"] if "__" in name]


@pytest.fixture
def thrown(place: Path, sample_size: Callable[[int, int], int]) -> Iterator[Any]:
    """The document of an API over a notebook with a batch, how much is thrown, and as whom."""
    house = house_at(place, HOST)
    app = make_app(house)
    with TestClient(app, headers={HEADER: token_of(house)}) as client:
        client.post("/api/batches", json=ASKED)
        client.post("/api/records/night", json={"record": {"water": "Long Reedpool"}})
        config = SchemathesisConfig.from_dict(
            {
                # What a maker writes has a grammar that no schema tells: some of what fits the
                # schema is refused, by name.
                "checks": {
                    "positive_data_acceptance": {"expected-statuses": ["2xx", "400", "403", "422"]}
                },
            }
        )
        schema = schemathesis.openapi.from_asgi("/api/openapi.json", app, config=config)
        yield schema, sample_size, {HEADER: token_of(house)}


@pytest.mark.fuzz
@pytest.mark.parametrize("mode", list(GenerationMode), ids=lambda one: one.value)
def test_whatever_is_thrown_at_it_has_a_documented_answer(thrown: Any, mode: Any) -> None:
    schema, sample_size, headers = thrown
    how = settings(
        max_examples=sample_size(3, 400),
        deadline=None,
        derandomize=True,
        database=None,
        phases=(Phase.explicit, Phase.generate),
        suppress_health_check=list(HealthCheck),
    )
    tried: Counter[str] = Counter()
    every = [one.ok() for one in schema.get_all_operations()]
    # What fits none of a schema takes long to find: the small sample leaves out four of five.
    chosen = every[:: sample_size(5, 1)] if mode is GenerationMode.NEGATIVE else every
    for operation in chosen:
        takes = (operation.path_parameters, operation.query, operation.body)
        if mode is GenerationMode.NEGATIVE and not any(map(len, takes)):
            continue  # nothing is asked, so nothing can be asked wrongly

        def hold(case: Any) -> None:
            tried[case.operation.label] += 1
            case.call_and_validate(headers=headers)

        how(given(case=operation.as_strategy(generation_mode=mode, headers=headers))(hold))()
    assert len(every) >= 30
    assert len(tried) >= 0.8 * len(chosen)
    assert min(tried.values()) > 1 or mode is GenerationMode.POSITIVE
