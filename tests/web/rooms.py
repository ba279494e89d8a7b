"""The demonstration workshop for tests, filled once, and a page for every door of the rooms."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from urllib.parse import quote

from baitwright.notebook.store import open_notebook
from baitwright.workshop.batches.batch_list import last_batches
from baitwright.workshop.forms.forms import form_of
from baitwright.workshop.forms.read_records import records
from baitwright.workshop.mending.mend_page import demo_mishap
from baitwright.workshop.season.demonstration import begin
from baitwright.workshop.wishes.design_shown import demo_wishes


@dataclass(frozen=True)
class Shown:
    """Where the demonstration is, and the names that its doors are asked with."""

    place: Path
    made: str
    planned: str
    night: str
    test: str
    bagged: str
    question: str
    complaint: str


@cache
def _season() -> tuple[TemporaryDirectory[str], Path]:
    """A demonstration that is filled once and copied for whoever wants one."""
    folder = TemporaryDirectory()
    place = Path(folder.name) / "notebook.sqlite"
    begin(place, now=datetime.now().astimezone())
    return folder, place


def filled(place: Path) -> Shown:
    """A demonstration, and what its things are called."""
    _, season = _season()
    copyfile(season, place)
    now = datetime.now().astimezone()
    book = open_notebook(place, now=now)
    try:
        newest_last = reversed(last_batches(book))
        batches = {str((one.body or {})["state"]): one.name for one in newest_last}
        made = [one.name for one in last_batches(book) if (one.body or {})["state"] == "made"]
        kinds = ("night", "test", "question")
        night, test, question = (records(book, form_of(kind))[-1].name for kind in kinds)
        complaint = records(book, form_of("complaint"))[0].name
    finally:
        book.close()
    return Shown(place, made[0], batches["planned"], night, test, made[-1], question, complaint)


DOORS: Mapping[str, str] = {
    "/": "/",
    "/batches": "/batches?words=copper",
    "/batches/{name:batch}": "/batches/{made}",
    "/batches/{name:batch}/same": "/batches/{made}/same",
    "/batches/{name:batch}/bag": "/batches/{made}/bag",
    "/batches/{name:batch}/made": "/batches/{planned}/made",
    "/batches/{name:batch}/measured": "/batches/{made}/measured",
    "/batches/{name:batch}/cancel": "/batches/{planned}/cancel",
    "/batches/{name:batch}/undo": "/batches/{made}/undo",
    "/mix": "/mix?start=recipe:Copper wafter&hold=protein at least 24 % of the paste&carp=yes",
    "/mix/why": "/mix/why?start=demo&number=paste_holds/protein of the paste",
    "/recipes": "/recipes",
    "/recipes/one": "/recipes/one?name=Copper wafter",
    "/recipes/version": "/recipes/version?name=Copper wafter&number=2",
    "/recipes/version.toml": "/recipes/version.toml?name=Copper wafter&number=2",
    "/recipes/compare": "/recipes/compare?name=Copper wafter&was=1&now=2",
    "/recipes/keep": "/recipes/keep?name=Copper wafter",
    "/recipes/back": "/recipes/back?name=Copper wafter",
    "/recipes/away": "/recipes/away?name=Copper wafter",
    "/shelf": "/shelf",
    "/shelf/item": "/shelf/item?name=Eggs",
    "/shelf/shelf.csv": "/shelf/shelf.csv",
    "/shelf/in": "/shelf/in?item=Eggs",
    "/shelf/out": "/shelf/out?item=Eggs",
    "/shelf/count": "/shelf/count",
    "/shelf/quarantine": "/shelf/quarantine",
    "/shelf/release": "/shelf/release",
    "/shelf/quarantine/undo": "/shelf/quarantine/undo",
    "/shelf/shelf.pdf": "/shelf/shelf.pdf",
    "/shelf/undo": "/shelf/undo",
    "/shelf/table": "/shelf/table",
    "/shelf/foods": "/shelf/foods",
    "/shelf/mix": "/shelf/mix",
    "/prices": "/prices",
    "/prices/one": "/prices/one?item=Eggs",
    "/prices/before": "/prices/before?item=wafters, bag of 20",
    "/prices/prices.csv": "/prices/prices.csv",
    "/orders": "/orders",
    "/orders/one": "/orders/one?name=1",
    "/orders/slip": "/orders/slip?name=1",
    "/orders/takings": "/orders/takings",
    "/orders/takings.csv": "/orders/takings.csv",
    "/orders/pack": "/orders/pack",
    "/orders/kit": "/orders/kit",
    "/orders/join": "/orders/join",
    "/orders/part": "/orders/part",
    "/orders/new": "/orders/new",
    "/orders/cancel": "/orders/cancel?name=2",
    "/orders/again": "/orders/again?name=2",
    "/orders/kit-before": "/orders/kit-before?name=box",
    "/orders/send": "/orders/send?name=2",
    "/orders/back": "/orders/back?name=1",
    "/notebook": "/notebook?words=reedpool",
    "/notebook/{kind}": "/notebook/night",
    "/notebook/{kind}/one": "/notebook/night/one?name={night}",
    "/notebook/{kind}/new": "/notebook/liquid/new",
    "/notebook/{kind}/change": "/notebook/night/change?name={night}",
    "/notebook/{kind}/undo": "/notebook/night/undo?name={night}",
    "/notebook/{kind}/away": "/notebook/night/away?name={night}",
    "/notebook/{kind}/attach": "/notebook/night/attach?name={night}",
    "/notebook/{kind}/detach": "/notebook/night/detach?name={night}",
    "/trace": "/trace?name={made}",
    "/cost": "/cost?batch={made}&bags=4&each=30",
    "/cost/cost.pdf": "/cost/cost.pdf?batch={made}",
    "/labels": "/labels?name={bagged}",
    "/labels/labels.pdf": "/labels/labels.pdf?name={bagged}",
    "/care": "/care",
    "/care/import": "/care/import",
    "/care/purge": "/care/purge?kind=night&name={night}",
    "/more": "/more",
    "/cautions": "/cautions?country=GB",
    "/cautions/blend": "/cautions/blend?part[1].part=60 %25 Clove: oral 2737 mg/kg",
    "/cautions/pack": "/cautions/pack?stated=150 g&weighed=151 g, 149 g",
    "/cautions/premises.pdf": "/cautions/premises.pdf?paper=a5",
    "/water": "/water?water=Long Reedpool&rods=3&night=yes",
    "/levels": "/levels?eggs=3 x EU L&level[1].level=0.8 ml per egg of 50 ml&level[1].name=Malt",
    "/levels/chart.pdf": "/levels/chart.pdf?eggs=3 x EU L&level[1].level=1 g per kg paste&paper=a5",
    "/ask": "/ask?words=malt",
    "/ask/one": "/ask/one?name={question}",
    "/ask/new": "/ask/new?template=usual",
    "/ask/again": "/ask/again?name={question}",
    "/ask/sheet{ending}": "/ask/sheet.txt?name={question}",
    "/ask/copy": "/ask/copy?recipes=Copper wafter&hide=liver powder&answers={question}",
    "/ask/copy.html": "/ask/copy.html?recipes=Copper wafter&hide=liver powder",
    "/ask/held.json": "/ask/held.json?person=person 2",
    "/ask/boil": "/ask/boil?batch={made}",
    "/ask/keep": "/ask/keep?batch={made}",
    "/ask/trip": "/ask/trip?batch={planned}&rods=3&nights=2",
    "/ask/day": "/ask/day?trays=2&asleep=23:00 to 6:00",
    "/ask/day.ics": "/ask/day.ics?trays=2&asleep=23:00 to 6:00",
    "/ask/soak": "/ask/soak?batch={made}&hours=12&at=6 C",
    "/ask/balance": "/ask/balance?batch={made}",
    "/ask/score": "/ask/score?batch={made}",
    "/ask/bottle": "/ask/bottle?test={test}",
    "/ask/why": "/ask/why?batch={made}&symptom=too strong",
    "/complaints": "/complaints?closed=yes",
    "/complaints/one": "/complaints/one?name={complaint}",
    "/complaints/answer": "/complaints/answer?name={complaint}",
    "/complaints/looked": "/complaints/looked?name={complaint}",
    "/complaints/close": "/complaints/close?name={complaint}",
    "/complaints/keep": "/complaints/keep?bag={bagged}/1",
    "/complaints/free": "/complaints/free?bag={bagged}/1",
    "/mix/design": "/mix/design?prices=fish meal, 65 %25 protein&wishes={wishes}",
    "/mix/match": "/mix/match?recipe=Copper wafter&kilos=5 kg",
    "/mix/winter": "/mix/winter?recipe=Copper wafter&keep=level",
    "/mix/mend": "/mix/mend?without=liver-powder&mix={mix}",
    "/learning": "/learning",
    "/learning/accept": "/learning/accept",
    "/learning/before": "/learning/before",
    "/notebook/compare": "/notebook/compare?bait[1].name=Copper wafter baits",
    "/batches/steady": "/batches/steady?recipe=Copper wafter",
    "/notebook/year": "/notebook/year",
    "/notebook/year.pdf": "/notebook/year.pdf",
    "/notebook/trial": "/notebook/trial",
    "/notebook/trial/swap": "/notebook/trial/swap?first=Malt&second=Plum&nights=4",
    "/notebook/trial/square": "/notebook/trial/square?baits=Malt%0APlum%0AFennel",
    "/notebook/trial/look": "/notebook/trial/look?first=Copper wafter baits&second=Plum",
}
"""A page for every door that is opened with GET."""
UPLOADED = (
    *("/shelf/table/look", "/shelf/foods/look", "/shelf/food"),
    *("/care/import/look", "/care/restore", "/notebook/{kind}/file"),
)
"""Doors that are reached with a file or a copy; `test_care` and `test_tables` go there."""


def asked(door: str, shown: Shown) -> str:
    """A door's page in a demonstration."""
    names = asdict(shown)
    mix = demo_mishap()["mix"]
    return DOORS[door].format(**names, wishes=quote(demo_wishes()), mix=quote(mix))
