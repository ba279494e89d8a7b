"""`baitwright trial`: how long it takes, who fishes what where, and what a trial said."""

from __future__ import annotations

import click

from baitwright.cli.listing import Listing
from baitwright.cli.place import notebook_option
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError

_json = click.option("--json", "as_json", is_flag=True, help="For programs.")
_seed = click.option(
    "--seed", type=int, default=1, metavar="N", help="Of the order; 1 unless told."
)


@click.group(cls=Listing)
def trial() -> None:
    """Plan a trial before it is started: at the water, or of a recipe at the bench."""


@trial.command("nights")
@click.option("--bites", type=float, metavar="A_NIGHT", help="Of the weaker bait on its rod.")
@click.option("--water", default="", metavar="NAME", help="By the nights at this water only.")
@_json
@notebook_option
def nights(*, bites: float | None, water: str, as_json: bool, notebook: Where) -> None:
    """Tell how many nights true ratios of 1.25 to 3 need, by your own nights unless told."""
    from baitwright.workshop.comparing.trial import nights_by_notebook, nights_needed
    from baitwright.workshop.comparing.trial_json import needed_json
    from baitwright.workshop.comparing.trial_words import needed_text

    if bites is not None:
        made = nights_needed(bites)
    else:
        from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at

        with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
            made = nights_by_notebook(book, water=water)
    click.echo(needed_json(made) if as_json else needed_text(made))


@trial.command("swap")
@click.argument("first")
@click.argument("second")
@click.option("--nights", "many", type=int, default=10, metavar="N", help="10 unless told.")
@_seed
@_json
def swap(first: str, second: str, *, many: int, seed: int, as_json: bool) -> None:
    """Plan two baits on two rods that swap sides."""
    from baitwright.learning.trials import swap_plan

    _tell_plan(
        swap_plan((first, second), nights=many, seed=seed), ("left", "right"), as_json=as_json
    )


@trial.command("square")
@click.argument("baits", nargs=-1, required=True)
@_seed
@_json
def square(baits: tuple[str, ...], *, seed: int, as_json: bool) -> None:
    """Plan three baits or more: each once on every rod and every night."""
    from baitwright.learning.trials import latin_square

    rods = tuple(f"rod {at}" for at in range(1, len(baits) + 1))
    _tell_plan(latin_square(baits, seed=seed), rods, as_json=as_json)


def _tell_plan(rows: tuple[tuple[str, ...], ...], rods: tuple[str, ...], *, as_json: bool) -> None:
    from baitwright.workshop.comparing.trial_json import plan_json
    from baitwright.workshop.comparing.trial_words import plan_text

    click.echo(plan_json(rows, rods=rods) if as_json else plan_text(rows, rods=rods))


@trial.command("rule")
@click.argument("first")
@click.argument("second")
@click.option("--ratio", type=float, default=1.5, metavar="R", help="Looked for; 1.5 unless told.")
@_json
def rule(first: str, second: str, *, ratio: float, as_json: bool) -> None:
    """Set a stopping rule: is FIRST so many times SECOND?"""
    from baitwright.learning.sequential import sequential_plan
    from baitwright.workshop.comparing.trial_json import rule_json
    from baitwright.workshop.comparing.trial_words import rule_text

    plan = sequential_plan(ratio)
    click.echo(rule_json(plan) if as_json else rule_text(plan, (first, second)))


@trial.command("look")
@click.argument("first")
@click.argument("second")
@click.option("--ratio", type=float, default=1.5, metavar="R", help="As in the rule.")
@click.option("--since", default="", metavar="DAY", help="Its first day; all nights unless told.")
@_json
@notebook_option
def look(
    first: str, second: str, *, ratio: float, since: str, as_json: bool, notebook: Where
) -> None:
    """Tell where a trial with a stopping rule stands."""
    from baitwright.workshop.comparing.trial import looked_at
    from baitwright.workshop.comparing.trial_json import looked_json
    from baitwright.workshop.comparing.trial_words import looked_text
    from baitwright.workshop.opening.notebook_care import Use, clock_with_zone, open_at
    from baitwright.workshop.typed.typed_days import any_day

    day = any_day(since, "since").isoformat() if since else ""
    with open_at(notebook, Use.LOOK, clock=clock_with_zone) as book:
        made = looked_at(book, first, second, ratio=ratio, since=day)
    click.echo(looked_json(made) if as_json else looked_text(made, (first, second)))


@trial.command("recipe")
@click.argument("factors", nargs=-1, required=True, metavar="NAME=LOW:HIGH...")
@click.option("--half", is_flag=True, help="Half of the batches; each effect then has an alias.")
@click.option(
    "--read",
    "readings",
    multiple=True,
    metavar="NUMBER",
    help="The reading of run 1, 2, ... in turn; a run made twice as 1.7,1.8.",
)
@_seed
@_json
def recipe(
    factors: tuple[str, ...], *, half: bool, readings: tuple[str, ...], seed: int, as_json: bool
) -> None:
    """Try two levels of each thing, such as: hardener="5 %:8 %" boil="90 s:110 s"."""
    from baitwright.workshop.comparing.trial import tried
    from baitwright.workshop.comparing.trial_json import tried_json
    from baitwright.workshop.comparing.trial_words import tried_text

    levels: dict[str, tuple[str, str]] = {}
    for told in factors:
        name, _, both = told.partition("=")
        low, colon, high = both.partition(":")
        if not (name and low and colon and high) or name in levels:
            raise InputError(
                "factor", told, "a name with two levels, once, such as boil=90 s:110 s"
            )
        levels[name.strip()] = (low.strip(), high.strip())
    made = tried(levels, tuple(map(_numbers, readings)), half=half, seed=seed)
    click.echo(tried_json(made) if as_json else tried_text(made))


def _numbers(text: str) -> tuple[float, ...]:
    from math import isfinite

    try:
        found = tuple(float(one) for one in text.split(","))
    except ValueError:
        found = ()
    if not found or not all(map(isfinite, found)):
        raise InputError("read", text, "a number such as 12.5, or several such as 12.5,12.8")
    return found


@trial.command("gauge")
@click.argument("rows", nargs=-1, required=True)
@click.option("--wanted", default="", metavar="AMOUNT", help="What each should have been.")
@_json
def gauge(rows: tuple[str, ...], *, wanted: str, as_json: bool) -> None:
    """Tell how far syringe, scale or calliper repeat themselves.

    A row for each thing with its repeated readings: "1.02 g, 1.03 g". Hands are parted by /.
    """
    from baitwright.workshop.comparing.repeatability import repeated
    from baitwright.workshop.comparing.trial_json import repeated_json
    from baitwright.workshop.comparing.trial_words import repeated_text

    made = repeated(rows, wanted=wanted)
    click.echo(repeated_json(made) if as_json else repeated_text(made))
