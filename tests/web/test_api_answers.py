"""Requests that are right: each answer is what the document tells, and one wrong value breaks none.

What fits a schema by chance is hardly ever what a maker writes, so that random requests are nearly
all refused; these get through.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, token_of
from tests.web.conftest import HOST, house_at
from tests.web.test_api import ASKED, RECIPE

LEVELS = {
    "levels": ["Malt: 0.8 ml per egg of 50 ml", "12 ml per kg dry mix"],
    "eggs": "3 x EU L",
    "carriers": ["propylene glycol"],
    "syringes": "1 ml, 5 ml",
}
NAMED = {"name": "One of ours"}
RECORDS: dict[str, dict[str, Any]] = {
    "ingredient": {**NAMED, "record": {"supplier": "Mill"}},
    "core": {**NAMED, "record": {"supplier": "Turner"}},
    "liquid": {**NAMED, "record": {"supplier": "Still"}},
    "hook": {**NAMED, "record": {"supplier": "Smith"}},
    "tub": {**NAMED, "record": {"base": "Copper"}},
    "blend": {**NAMED, "record": {"lot": "Malt 1"}},
    "test": {"record": {"water": "17 C", "look": [{"on": "alone", "floated": 6, "sank": 1}]}},
    "readings": {"record": {"tub_used": "262 g"}},
    "night": {"record": {"water": "Long Reedpool", "bites": 2, "rod": [{"position": "left"}]}},
    "question": {"record": {"question": "How much malt?"}},
    "template": {**NAMED, "record": {"opening": "Good day."}},
    "complaint": {"record": {"what": "Soft"}},
}
QUESTION = {
    "question": "How much malt?",
    "eggs": "3 x EU L",
    "levels": ["Malt: 12 ml per kg dry mix"],
    "carriers": ["propylene glycol"],
}
GOOD: dict[str, Any] = {
    "POST /plan": ASKED,
    "POST /plan/why": {**ASKED, "number": "pinch"},
    "POST /levels": LEVELS,
    "POST /recipes": {"recipe": RECIPE, "reason": "as it was"},
    "POST /batches": {**ASKED, "once": "one"},
    "POST /answers": {"name": "Malt", "record": QUESTION},
    **{f"POST /records/{kind}": told for kind, told in RECORDS.items()},
}
ODD = st.sampled_from(
    ["", " ", "15", "-1 g", "0 g", "1e308 kg", "1e-308 ml", "15 mm", "101 %", "nan g", "3 x EU L"]
) | st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=2) | st.dictionaries(st.text(max_size=4), inner, max_size=2)
    ),
    max_leaves=4,
)


def places(node: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Where every value of a body stands."""
    inner = node.items() if isinstance(node, dict) else enumerate(node)
    for key, value in inner:
        yield (*way, key)
        if isinstance(value, dict | list):
            yield from places(value, (*way, key))


def changed(body: Any, way: tuple[Any, ...], value: Any) -> Any:
    made = deepcopy(body)
    node = made
    for key in way[:-1]:
        node = node[key]
    node[way[-1]] = value
    return made


@pytest.fixture
def asked(place: Path) -> Iterator[Callable[..., Any]]:
    """Asks one operation, and holds the answer against the document; the answer's status."""
    house = house_at(place, HOST)
    app = make_app(house)
    headers = {HEADER: token_of(house)}
    with TestClient(app, headers=headers, client=("127.0.0.1", 50_000)):
        schema = schemathesis.openapi.from_asgi("/api/openapi.json", app)

        def ask(label: str, **told: Any) -> int:
            method, path = label.split()
            case = schema[path][method].Case(**told)
            return int(case.call_and_validate(headers=headers).status_code)

        yield ask


def test_what_is_right_is_answered_as_the_document_tells(asked: Callable[..., Any]) -> None:
    for label, body in GOOD.items():
        found = asked(label, body=body, media_type="application/json")
        assert found in (200, 201), label
    for path in ("batches", "recipes", "shelf", *(f"records/{kind}" for kind in RECORDS)):
        assert asked(f"GET /{path}") == 200, path
    day = {"name": "Copper wafter"}
    assert asked("GET /recipes/{name}", path_parameters=day) == 200
    malt = {"name": "Malt"}
    assert asked("GET /answers") == 200
    assert asked("GET /answers/{name}", path_parameters=malt, query={"version": 1}) == 200
    assert asked("POST /answers/{name}", path_parameters=malt) == 200
    for kind, told in RECORDS.items():
        if told.get("name"):
            where = {"name": told["name"]}
            assert asked(f"GET /records/{kind}/{{name}}", path_parameters=where) == 200


@pytest.mark.fuzz
def test_one_odd_value_is_refused_or_planned_and_never_breaks(
    asked: Callable[..., Any], sample_size: Callable[[int, int], int]
) -> None:
    answers: Counter[tuple[str, bool]] = Counter()
    for label, body in GOOD.items():
        heavy = label in ("POST /plan", "POST /plan/why", "POST /batches")

        @settings(
            max_examples=sample_size(10 if heavy else 20, 500),
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(way=st.sampled_from(sorted(places(body), key=repr)), value=ODD)
        def hold(way: tuple[Any, ...], value: Any) -> None:
            told = changed(body, way, value)  # noqa: B023  asked at once
            found = asked(label, body=told, media_type="application/json")  # noqa: B023
            assert found in (200, 201, 422)
            answers[label, found < 300] += 1  # noqa: B023

        hold()
    refused = {label for label, was_right in answers if not was_right}
    taken = {label for label, was_right in answers if was_right}
    assert refused == GOOD.keys()
    assert {"POST /plan", "POST /levels", "POST /records/night"} <= taken
