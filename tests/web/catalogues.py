"""The catalogues of the web workshop: words gathered from its pages, merged, compiled.

`python make.py words` writes them anew; a new word waits in `pages.po` for its translation.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from io import BytesIO
from pathlib import Path
from pkgutil import walk_packages

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

import baitwright.web
import baitwright.workshop
from baitwright.web.language import DOMAIN, ENGLISH, LANGUAGES, LOCALE
from baitwright.web.render import ROOMS, templates
from baitwright.web.words import DAY, MONTHS, WEEKDAYS
from tests.web.core_words import arguments, of_core

WEB = Path(baitwright.web.__file__).parent
SPOKEN = {
    "Deed": (0, 1, "about", "caution"),
    "_deed": (0, 1, "about"),
    "Question": (0, "about"),
    "Done": (1,),
    "Asked": (1, 2),
    "HTTPException": (1,),
}
"""Which arguments of a call a page tells: by place or by name."""
PAGES, ROWS, CORE = ROOMS_SAID = ("pages", "forms", "core")
"""Where a text is said: the first are all translated; of the others one may wait, in English."""
OTHERS = (
    *("recipe", "photo", "month", "order", "all", "together"),
    *("bait", "baits", "egg", "eggs"),
    *("the tables alone", "common practice", "remembered"),
    *("Delimiter", "Decimals", "Days", "month-first", "day-first"),
    *("comma", "semicolon", "tab", "point"),
)
PREDICTED = (
    *("egg in the bowl by weight", "tub before less tub after", "twenty fresh baits"),
    *("twenty baits after 8 h", "one dried bait", "rise of the scale under a tared cup"),
)
"""What readings of a plan are called."""
BESIDES = (DAY, *WEEKDAYS, *MONTHS, *(name for _, name in ROOMS), "at least", "price unknown")
SECONDS = ("%(number)s seconds", "%(number)s minutes")


def of_templates() -> Iterator[str]:
    """What stands in `_()` in the templates."""
    made = templates(ENGLISH)
    for path in sorted((WEB / "templates").glob("*.html")):
        for _, _, said in made.extract_translations(path.read_text("utf-8")):  # type: ignore[attr-defined]
            if isinstance(said, str):  # a name that is only known on its page is gathered below
                yield said


def of_pages() -> Iterator[str]:
    """What modules of the web room hand to a page."""
    for path in sorted(WEB.rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        for call in ast.walk(tree):
            if isinstance(call, ast.Call) and isinstance(call.func, ast.Name):
                yield from _said(call, SPOKEN.get(call.func.id, ()), tree)
    yield from (*BESIDES, *SECONDS)


def _said(call: ast.Call, places: tuple[int | str, ...], tree: ast.Module) -> Iterator[str]:
    for found in arguments(call, places):
        if isinstance(found, ast.Name):  # a text that got a name for being long
            yield from _texts_named(found.id, tree)
        else:
            yield from _texts(found)


def _texts(found: ast.expr) -> Iterator[str]:
    if isinstance(found, ast.IfExp):
        yield from _texts(found.body)
        yield from _texts(found.orelse)
    elif isinstance(found, ast.Constant) and isinstance(found.value, str) and found.value:
        yield found.value


def _texts_named(name: str, tree: ast.Module) -> Iterator[str]:
    for one in ast.walk(tree):
        if isinstance(one, ast.Assign) and [ast.unparse(each) for each in one.targets] == [name]:
            yield from _texts(one.value)


def of_forms() -> Iterator[str]:
    """Labels, sentences and choices of every form, and the states and kinds of what is kept."""
    from baitwright.notebook.people import PERSON
    from baitwright.workshop.forms.asked_fields import Group, asked
    from baitwright.workshop.forms.forms import FORMS
    from baitwright.workshop.plans.asked_plan import plan_form
    from baitwright.workshop.plans.plan_told import PlanTold
    from baitwright.workshop.typed.reading import Table

    for module in walk_packages(baitwright.workshop.__path__, "baitwright.workshop."):
        import_module(module.name)

    def within(group: Group) -> Iterator[str]:
        yield from (group.title.removesuffix(" 1"), group.about)
        for one in group.fields:
            yield from (one.label, one.about, *filter(str.islower, one.choices))
        for inner in group.groups:
            yield from within(inner)

    for table in sorted(_below(Table), key=lambda one: f"{one.__module__} {one.__name__}"):
        if table.__module__.startswith("baitwright."):
            yield from within(asked(table, {}))
    yield from within(plan_form(PlanTold()).whole)
    for kind in (*FORMS, PERSON):
        yield from (kind, kind.capitalize())
    yield from of_enums()


def _below(kind: type) -> set[type]:
    return {kind}.union(*map(_below, kind.__subclasses__())) - {object}


def of_enums() -> Iterator[str]:
    """What tags of the pages say."""
    from baitwright.advice.grades import Grade
    from baitwright.batch.prove import HOW
    from baitwright.learning.next_reading import HOW_CUT_OPEN, RESULTS
    from baitwright.ledger.movements import Reason
    from baitwright.ledger.trace import Stop
    from baitwright.materials.factors import LEARNED_DEFAULTS, factor_priors, label_of_factor
    from baitwright.terms.evidence import Evidence
    from baitwright.terms.notes import Weight
    from baitwright.terms.quantity import Origin
    from baitwright.workshop.batches import batch_hours
    from baitwright.workshop.batches.bags import Kept
    from baitwright.workshop.batches.batch_things import THINGS
    from baitwright.workshop.batches.lots_beside import CHECKS
    from baitwright.workshop.copies.purge import PURGED
    from baitwright.workshop.costs.price_words import PER
    from baitwright.workshop.levels.dose_quick import BOWL, SHELL
    from baitwright.workshop.levels.levels_footing import FOOTINGS
    from baitwright.workshop.levels.levels_said import words_of_charts
    from baitwright.workshop.tables import table_headings
    from baitwright.workshop.traces import orders

    yield from (*words_of_charts(), *FOOTINGS)
    kinds = (
        Grade,
        Reason,
        Stop,
        Evidence,
        Origin,
        Kept,
        batch_hours.State,
        orders.State,
        orders.Where,
    )
    for kind in kinds:
        yield from (str(one.value) for one in kind)
    for one in Weight:
        yield one.value.capitalize()
    for ours in table_headings.Ours:
        yield ours.value.capitalize()
    for thing in THINGS:
        yield from (thing.value, thing.touches)
    yield from (*(one.label for one in factor_priors().values()), *RESULTS)
    yield from (*map(label_of_factor, LEARNED_DEFAULTS), *HOW.values(), HOW_CUT_OPEN, *PREDICTED)
    yield from (*PURGED, *PER.values(), *CHECKS.values(), BOWL, SHELL, *OTHERS)


def path_of(language: str) -> Path:
    """The catalogue that is read and written by hand."""
    return LOCALE / language / "LC_MESSAGES" / f"{DOMAIN}.po"


def read(language: str) -> Catalog:
    """A catalogue as it stands."""
    with path_of(language).open("rb") as file:
        return read_po(file, locale=language, charset="utf-8")


@cache
def gathered() -> dict[str, str]:
    """Every text of the pages, with the room it is said in."""
    said = dict.fromkeys(of_core(), CORE)
    said |= dict.fromkeys(filter(None, of_forms()), ROWS)
    return said | dict.fromkeys((*of_templates(), *of_pages()), PAGES)


def merged(language: str) -> Catalog:
    """The catalogue with every text there is, and none that is said no more."""
    before = read(language) if path_of(language).exists() else Catalog()
    made = Catalog(locale=language, project="Baitwright", fuzzy=False, header_comment="#")
    made.mime_headers  # noqa: B018 - the plural's rule is that of the language
    for said, room in sorted(
        gathered().items(), key=lambda one: (ROOMS_SAID.index(one[1]), one[0])
    ):
        kept = before.get(said)
        flags = ("python-format",) if "%(" in said else ()
        made.add(said, kept.string if kept else "", flags=flags, auto_comments=(room,))
    return made


def compiled(catalogue: Catalog) -> bytes:
    """As the program reads it."""
    into = BytesIO()
    write_mo(into, catalogue)
    return into.getvalue()


def write() -> int:
    """Write every catalogue anew; how many texts wait for their translation."""
    waiting = 0
    for language in LANGUAGES:
        if language == ENGLISH:
            continue
        made, path = merged(language), path_of(language)
        with path.open("wb") as file:
            write_po(file, made, width=100, omit_header=False)
        path.with_suffix(".mo").write_bytes(compiled(made))
        untold = [str(one.id) for one in made if one.id and not one.string]
        print(f"{path.name} ({language}): {len(made)} texts, {len(untold)} wait for their words")
        waiting += len(untold)
    return waiting


if __name__ == "__main__":
    sys.exit(bool(write()))
