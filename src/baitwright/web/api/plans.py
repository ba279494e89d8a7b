"""Plans and levels, asked with what a file holds and kept nowhere."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Annotated, Any, Literal

from fastapi import APIRouter
from fastapi.responses import Response
from pydantic import BaseModel, Field

from baitwright.web.api.answers import SENDS, SOUND, said
from baitwright.web.asking import own_sheets, rules_held, wall_clock, with_own_factors
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.turns import IN_TURN
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.recipe_tables import RecipeFile
from baitwright.workshop.typed.reading import Table

if TYPE_CHECKING:
    from baitwright.batch.batch_plan import PlanRequest

asks = APIRouter(dependencies=SOUND, responses=SENDS)
_MOST_DRAWS = 4096
_Words = Annotated[str, Field(max_length=200)]
_Several = Annotated[tuple[_Words, ...], Field(max_length=20)]


class PlanAsked(Table):
    """A recipe and a bench, with the fields of their files."""

    recipe: RecipeFile
    bench: BenchFile
    draws: Annotated[int | None, Field(ge=32, le=_MOST_DRAWS)] = None
    factors: Annotated[
        Literal["own", "table"],
        Field(
            description="Your own factors as the notebook accepted them last, the table's where "
            "there are none; or the table's alone."
        ),
    ] = "own"


class WhyAsked(PlanAsked):
    """A number of a plan, by its name or label; the headlines where none is named."""

    number: _Words = ""


class PlanAnswer(BaseModel):
    """A plan, as `plan --json` prints it; docs/schema/plan.schema.json tells all of it."""

    program: dict[str, Any]
    request: dict[str, Any]
    stages: dict[str, Any]
    day: dict[str, Any]
    cautions: list[Any]
    cautions_country: str
    water_rules: dict[str, Any] | None = None
    allergens: dict[str, Any]
    prove: list[Any]
    notes: list[Any]
    sources: list[Any]


class WhyAnswer(BaseModel):
    """Numbers opened, each with its inputs below it."""

    explained: list[dict[str, Any]]
    names: list[str] | None = None


class LevelsAsked(Table):
    """Levels for the eggs in the bowl, as `baitwright levels` takes them."""

    levels: Annotated[tuple[_Words, ...], Field(min_length=1, max_length=20)]
    eggs: _Words
    dry_mix: _Words | None = None
    carriers: _Several = ()
    strengths: _Several = ()
    use: Literal["hookbait", "free bait"] = "hookbait"
    syringes: _Words | None = None
    drops_per_ml: float | None = None


class LevelsAnswer(BaseModel):
    """Every level answered, as `levels --json` prints it."""

    eggs: dict[str, Any]
    dry_mix_per_egg: dict[str, Any]
    use: str
    levels: list[dict[str, Any]]
    all_liquids_ml: float
    all_liquids_of_paste: float
    carriers: list[dict[str, Any]]
    of_most_usual: list[float]
    of_most_usual_together: float
    asks: list[str]


@asks.post("/plan", dependencies=[IN_TURN], responses={200: {"model": PlanAnswer}})
def plan(asked: PlanAsked, house: InHouse) -> Response:
    """Plan a batch."""
    from baitwright.workshop.plans.show_plan import document

    made = _made(asked, house)
    return said(document(made, rules_held(house, made)))


@asks.post("/plan/why", dependencies=[IN_TURN], responses={200: {"model": WhyAnswer}})
def why(asked: WhyAsked, house: InHouse) -> Response:
    """Open the numbers of a plan."""
    from baitwright.workshop.plans.opened import opened_as_json

    return said(opened_as_json(_made(asked, house), asked.number))


@asks.post("/levels", responses={200: {"model": LevelsAnswer}})
def levels(asked: LevelsAsked) -> Response:
    """How much of each level for these eggs."""
    from baitwright.workshop.levels.levels import levels as answer
    from baitwright.workshop.levels.levels_json import levels_as_json
    from baitwright.workshop.levels.levels_request import Asked, understand

    found = answer(understand(Asked(**dict(asked))))
    return said(json.dumps(levels_as_json(found), allow_nan=False))


def _made(asked: PlanAsked, house: House) -> Any:
    from baitwright.workshop.plans.worked_out import worked_out

    return worked_out(request_asked(asked, house))


def request_asked(asked: PlanAsked, house: House) -> PlanRequest:
    """What is asked of a plan, at this minute, with the factors that were asked for."""
    from baitwright.workshop.plans.liquid_sheets import by_sheets
    from baitwright.workshop.plans.plan_told import asked_as

    now = wall_clock(house)
    told = asked_as(asked.recipe, asked.bench, now=now, batches=asked.draws)
    request = by_sheets(own_sheets(house))(told)
    return request if asked.factors == "table" else with_own_factors(request, house)
