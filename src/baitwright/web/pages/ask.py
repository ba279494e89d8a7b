"""What else the workshop answers: levels, the pot, keeping, the lake, the rig, the bottle."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from baitwright.web.files import download, paper_of, pdf_download
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.language import language_of
from baitwright.web.questions import Question, add_all
from baitwright.web.render import page
from baitwright.web.turns import IN_TURN
from baitwright.web.words import Words

if TYPE_CHECKING:
    from baitwright.workshop.days.question_day import DayQuestion, TripQuestion
    from baitwright.workshop.levels import question_tables as tables
    from baitwright.workshop.mending.mend_question import MendQuestion

pages = APIRouter(include_in_schema=False)


@pages.get("/more")
def more(request: Request) -> HTMLResponse:
    """Every door of the workshop."""
    return page(request, "more.html")


def _batches(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.batches.kept_plan import planned_batches

    if not house.notebook.is_there:
        return {"choose": (), "field": "batch"}
    with house.notebook.looking() as book:
        return {"choose": planned_batches(book), "field": "batch"}


def _tests(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.batches.kept_plan import kept_tests

    if not house.notebook.is_there:
        return {"choose": (), "field": "test"}
    with house.notebook.looking() as book:
        return {"choose": [(name, "") for name in kept_tests(book)], "field": "test"}


def _levels(house: House, told: tables.LevelsTable) -> Mapping[str, Any]:
    from baitwright.workshop.levels.levels_asked import answered

    return {"levels": answered(told)}


@pages.get("/levels/chart.pdf", dependencies=[IN_TURN])
def levels_chart(request: Request, house: InHouse, paper: str = "a4") -> Response:
    """The levels that were asked, as a chart for the wall, in the words of the page's language."""
    from baitwright.workshop.forms.told_fields import told_by
    from baitwright.workshop.levels.levels_asked import found_for
    from baitwright.workshop.levels.levels_chart import write_chart
    from baitwright.workshop.levels.levels_said import Said
    from baitwright.workshop.levels.question_tables import LevelsTable
    from baitwright.workshop.typed.reading import parse

    size, table = paper_of(paper), LevelsTable
    pairs = [pair for pair in request.query_params.multi_items() if pair[0] != "paper"]
    found = found_for(parse(told_by(table, pairs), table, where=""))
    words = Words(language_of(request))
    say = Said(words.language, words.word, words.figure)
    return pdf_download(
        "levels.pdf", lambda path: write_chart(path, found, paper=size, now=house.now, say=say)
    )


@pages.get("/ask/day.ics", dependencies=[IN_TURN])
def day_file(request: Request, house: InHouse) -> Response:
    """The day that was asked, for a calendar; taken in again, its events move."""
    from baitwright.workshop.days.question_day import DayQuestion as Asked
    from baitwright.workshop.days.several_asked import day_asked_calendar
    from baitwright.workshop.forms.told_fields import told_by
    from baitwright.workshop.typed.reading import parse

    told = parse(told_by(Asked, request.query_params.multi_items()), Asked, where="")
    with house.notebook.looking() as book:
        made = day_asked_calendar(book, told, now=house.now)
    return download(made, "day.ics", "text/calendar")


def _plan(house: House, batch: str) -> Any:
    from baitwright.workshop.batches.kept_plan import kept_plan

    with house.notebook.looking() as book:
        return kept_plan(book, batch)


def _boil(house: House, told: tables.BoilQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.stages.boil_shown import boil_shown

    plan = _plan(house, told.batch)
    return {"parts": boil_shown(plan, sizes=told.sizes, cores=told.cores)}


def _soak(house: House, told: tables.SoakQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.stages.soak_shown import soak_shown

    return {"parts": soak_shown(_plan(house, told.batch), hours=told.hours, at=told.at)}


def _balance(house: House, told: tables.BalanceQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.stages.balance_shown import balance_shown

    return {"parts": balance_shown(_plan(house, told.batch), told.rig())}


def _keep(house: House, told: tables.KeepQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.plans.keep_asked import keeping_shown

    return {"parts": keeping_shown(_plan(house, told.batch))}


def _trip(house: House, told: TripQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.batches.batch_view import batch_view
    from baitwright.workshop.days.trip_asked import trip_asked

    with house.notebook.looking() as book:
        left = batch_view(book, told.batch).left
    answer = trip_asked(_plan(house, told.batch), told, left=left)
    return {"parts": answer.parts, "bags": answer.bags, "batch": told.batch}


def _day(house: House, told: DayQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.days.several_asked import day_asked

    if not house.notebook.is_there:
        return {}
    with house.notebook.looking() as book:
        return {"parts": day_asked(book, told, now=house.now)}


def _score(house: House, told: tables.ScoreQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.batches.kept_plan import kept_readings
    from baitwright.workshop.readings.learning_shown import score_shown
    from baitwright.workshop.readings.record_batch import scored

    with house.notebook.looking() as book:
        request, record = kept_readings(book, told.batch)
    return {"parts": score_shown(scored(request, record, now=house.now))}


def _bottle(house: House, told: tables.BottleQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.batches.kept_plan import kept_test
    from baitwright.workshop.readings.bottle_test import held_against
    from baitwright.workshop.readings.learning_shown import bottle_shown

    with house.notebook.looking() as book:
        request, test = kept_test(book, told.test)
    return {"parts": bottle_shown(held_against(request, test, now=house.now))}


def _baits(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.comparing.compare_shown import baits_fished

    if not house.notebook.is_there:
        return {"baits": ()}
    with house.notebook.looking() as book:
        return {"baits": baits_fished(book)}


def _compare(house: House, told: tables.CompareQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.comparing.compare_shown import baits_fished, compare_shown

    if not house.notebook.is_there:
        return {}
    with house.notebook.looking() as book:
        if not baits_fished(book):
            return {}
        picked = [one.name for one in told.bait]
        return {"parts": compare_shown(book, picked, water=told.water), "picked": picked}


def _recipes(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.comparing.steadiness_shown import recipes_made

    if not house.notebook.is_there:
        return {"choose": (), "field": "recipe"}
    with house.notebook.looking() as book:
        return {"choose": recipes_made(book), "field": "recipe"}


def _steady(house: House, told: tables.SteadyQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.comparing.steadiness_shown import steadiness_shown

    with house.notebook.looking() as book:
        return {"parts": steadiness_shown(book, told)}


def _begin(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.wishes.design_shown import demo_wishes

    return {"demo": demo_wishes()}


def _design(house: House, told: tables.DesignQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.wishes.design_shown import design_shown

    return {"parts": design_shown(told)}


def _begin_mend(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.mending.mend_page import demo_mishap

    return {"demo": demo_mishap()}


def _mend(house: House, told: MendQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.mending.mend_page import mend_shown

    return {"parts": mend_shown(told)}


@cache
def questions() -> dict[str, Question]:
    """What can be asked, by its path."""
    return {**_of_plans(), **_of_the_day(), **_of_work()}


def _of_plans() -> dict[str, Question]:
    from baitwright.workshop.levels import question_tables as tables

    return {
        "/levels": Question(
            "Levels",
            tables.LevelsTable,
            _levels,
            about="How much for these eggs, and the same per egg, per kilogram and per pound.",
            template="levels.html",
            shown=lambda house: {"choose": (), "field": ""},
        ),
        "/ask/boil": Question(
            "In the pot",
            tables.BoilQuestion,
            _boil,
            about="Seconds by size and core, for the paste, the pot and the place of a plan.",
            shown=_batches,
        ),
        "/ask/keep": Question(
            "How long they keep",
            tables.KeepQuestion,
            _keep,
            about="Free water, and how long in room, fridge and freezer.",
            shown=_batches,
        ),
        "/ask/soak": Question(
            "In the lake",
            tables.SoakQuestion,
            _soak,
            about="Water taken up, flavour left, firmness and lift, hour after hour.",
            shown=_batches,
        ),
        "/ask/balance": Question(
            "On the rig",
            tables.BalanceQuestion,
            _balance,
            about="The counterweight, and the bait that would do it. What is told here wins.",
            shown=_batches,
        ),
        "/ask/score": Question(
            "How well it was predicted",
            tables.ScoreQuestion,
            _score,
            about="Each reading beside its band, and what your own factors would become.",
            shown=_batches,
        ),
        "/ask/bottle": Question(
            "What a bottle test proves",
            tables.BottleQuestion,
            _bottle,
            about="A kept test held against the plan of its batch; nothing is kept of it here.",
            shown=_tests,
        ),
    }


def _of_the_day() -> dict[str, Question]:
    from baitwright.workshop.days.question_day import DayQuestion, TripQuestion

    return {
        "/ask/trip": Question(
            "Baits for a trip",
            TripQuestion,
            _trip,
            about="How many to take and to make, by how long one works in the lake.",
            template="trip.html",
            shown=_batches,
        ),
        "/ask/day": Question(
            "Several batches in one day",
            DayQuestion,
            _day,
            about="In turn at hands, pot, trays, fan and freezer, worked back from leaving.",
            template="day.html",
            shown=lambda house: {**_batches(house), "field": "batch[1].name"},
            at_once=True,
        ),
    }


def _of_work() -> dict[str, Question]:
    from baitwright.workshop.levels import question_tables as tables
    from baitwright.workshop.mending.mend_question import MendQuestion

    return {
        "/mix/design": Question(
            "Design a mix",
            tables.DesignQuestion,
            _design,
            about="The mix that does best what you wish, what it leans on, or what clashes.",
            template="design.html",
            shown=_begin,
            place="wishes",
        ),
        "/mix/mend": Question(
            "Mend a mix",
            MendQuestion,
            _mend,
            about="A part is gone or its bag says otherwise: the nearest mix, and how to prove it.",
            template="mend.html",
            shown=_begin_mend,
            place="mix",
        ),
        "/notebook/compare": Question(
            "Baits compared",
            tables.CompareQuestion,
            _compare,
            about="What your nights say of each bait, and what they leave open; blanks count.",
            template="compare.html",
            shown=_baits,
            at_once=True,
        ),
        "/batches/steady": Question(
            "Steady from batch to batch",
            tables.SteadyQuestion,
            _steady,
            about="Weights, diameters and baits per egg, with limits from ten batches on.",
            shown=_recipes,
        ),
    }


_PATHS = (
    "/levels",
    "/ask/boil",
    "/ask/keep",
    "/ask/trip",
    "/ask/day",
    "/ask/soak",
    "/ask/balance",
    "/ask/score",
    "/ask/bottle",
    "/mix/design",
    "/mix/mend",
    "/notebook/compare",
    "/batches/steady",
)
add_all(pages, _PATHS, questions=questions)
