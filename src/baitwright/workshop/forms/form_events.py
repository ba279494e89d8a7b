"""What happened, as a record: tests, readings, nights at the water, questions, complaints."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from pydantic import Field

from baitwright.advice.faults_tables import symptoms
from baitwright.quantities import Kind
from baitwright.workshop.forms.bottle_tables import BottleFile
from baitwright.workshop.forms.form_fields import notes, on_day, person_code, tally
from baitwright.workshop.forms.form_things import FormTable
from baitwright.workshop.forms.readings_file import ReadingsTable
from baitwright.workshop.typed.fields import measured
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text, yes_or_no

SYMPTOMS = tuple(one.label for one in symptoms().values())
STATES = ("open", "answered", "closed")
"""How far a complaint is."""
_BATCH = text(about="Which batch.", example="2026-11-27/1")
_TODAY = "today unless told."


class TestTable(FormTable, BottleFile):
    """A bottle test, kept."""

    batch: Annotated[str, _BATCH] = ""
    day: Annotated[date | None, on_day(about=f"When it was done; {_TODAY}")] = None


class BatchReadingsTable(FormTable, ReadingsTable):
    """Readings of a batch, kept."""

    batch: Annotated[str, _BATCH] = ""
    day: Annotated[date | None, on_day(about=f"When they were taken; {_TODAY}")] = None


class RodTable(Table):
    """One rod of a night."""

    position: Annotated[str, text(about="Where it fished.", example="left, 40 m, silt")] = ""
    bag: Annotated[
        str, text(about="The bag or batch its baits came from.", example="2026-11-27/1/2")
    ] = ""
    bait: Annotated[str, text(about="What it fished, in words.", example="15 mm wafter")] = ""
    baits: Annotated[int | None, tally("Baits used on it.", example=4)] = None
    hours: Annotated[
        float | None,
        measured(Kind.DURATION, "0 h", "400 h", example="11 h", about="How long it fished."),
    ] = None
    bites: Annotated[int | None, tally("Bites on it; none counts.", example=1)] = None
    fish: Annotated[int | None, tally("Of these, landed.", example=1)] = None
    lost: Annotated[int | None, tally("Of these, lost.", example=0)] = None


class NightTable(FormTable):
    """A night or a day at the water; one without a bite counts as much as any."""

    water: Annotated[str, text(about="Which water.", example="Long Reedpool")]
    day: Annotated[date | None, on_day(about=f"When it began; {_TODAY}")] = None
    rod_hours: Annotated[
        float | None,
        measured(Kind.DURATION, "0 h", "2000 h", example="33 h", about="Hours of all rods."),
    ] = None
    bites: Annotated[int | None, tally("Of all rods; none counts.", example=1)] = None
    fish: Annotated[int | None, tally("Of these, landed.", example=1)] = None
    lost: Annotated[int | None, tally("Of these, lost.", example=0)] = None
    blanks: Annotated[int | None, tally("Rods without a bite.", example=2)] = None
    weather: Annotated[str, text(about="In a few words.", example="overcast, light west")] = ""
    water_temperature: Annotated[
        float | None,
        measured(Kind.TEMPERATURE, "-1 C", "40 C", example="6 C", about="Of the water."),
    ] = None
    owner: Annotated[str, person_code(about="Whose water it is.")] = ""
    companion: Annotated[str, person_code(about="Who was along.")] = ""
    rod: tuple[RodTable, ...] = Field((), description="The rods, one by one.")


class ComplaintTable(FormTable):
    """What somebody complained of, what was found, and what they were answered."""

    what: Annotated[str, notes(about="What is wrong.", example="mould on three baits")]
    bag: Annotated[str, text(about="Of which bag or batch.", example="2026-11-27/1/2")] = ""
    noticed: Annotated[str, one_of(SYMPTOMS, about="What it comes nearest to.")] = ""
    harm: Annotated[
        bool, yes_or_no(about="Whether somebody may have fallen ill or reacted to it.")
    ] = False
    customer: Annotated[str, person_code(about="Whose complaint.")] = ""
    sample: Annotated[
        str, notes(about="What the bag kept back showed.", example="no mould, smells right")
    ] = ""
    answer: Annotated[
        str, notes(about="What they were answered.", example="a new bag goes out")
    ] = ""
    done: Annotated[str, notes(about="What was done.", example="bag replaced")] = ""
    state: Annotated[str, one_of(STATES, about="Whether it is settled.")] = "open"
    day: Annotated[date | None, on_day(about=f"When it came; {_TODAY}")] = None


class PersonTable(Table):
    """Somebody; this alone is kept where it can be erased, and so it mentions no files."""

    name: Annotated[str, text(about="Their name.", example="A. Example")]
    role: Annotated[
        str, one_of(("customer", "owner of a water", "companion", "other"), about="Who it is.")
    ] = ""
    address: Annotated[str, notes(about="Where they live.", example="1 Example Lane")] = ""
    phone: Annotated[str, text(about="Their number.", example="01632 960000")] = ""
    mail: Annotated[str, text(about="Their mail.", example="someone@example.org")] = ""
    remark: Annotated[str, notes(about="Anything worth keeping.", example="pays in cash")] = ""
