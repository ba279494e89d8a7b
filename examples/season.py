"""A season in Python, as cells: plan, change one thing, draw, record, learn."""

# %% [markdown]
# # A season in Python
#
# From a plan to what three batches taught, cell by cell. Run it as it is (`python
# examples/season.py`), or step through its cells in an editor that knows `# %%`. Maker, recipe
# and readings are invented.

# %%
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from baitwright import PlanRequest, plan, prior_factors
from baitwright.sheets.explain import headlines, in_short
from baitwright.sheets.wording import stated
from baitwright.terms.records import BatchRecord, Reading
from baitwright.uncertainty.bands import band_of
from baitwright.workshop.plans.figures import plan_figures
from baitwright.workshop.readings.record_batch import scored
from baitwright.workshop.recipe_files.bench_file import read_bench
from baitwright.workshop.recipe_files.recipe_file import read_recipe

EXAMPLES = Path(__file__).parent
MORNING = datetime(2026, 11, 26, 8, 0)

# %% [markdown]
# ## Plan
#
# A request is recipe, bench and factors, and nothing else: the same request gives the same
# plan, to the last bit. What the bench file leaves open is a default, marked as one.

# %%
recipe = read_recipe(EXAMPLES / "copper-wafter.toml")
bench = read_bench(EXAMPLES / "bench-three-large-eggs.toml", now=MORNING)
request = PlanRequest(recipe, bench, prior_factors())
made = plan(request)

for quantity in headlines(made):
    print(f"{quantity.label}: {stated(quantity)}")

# %% [markdown]
# Every number is a `Quantity`: draws with a unit, a source, and what it was made from. It says
# why it is what it is, and a band is asked of it.

# %%
print(*in_short(made.mix.dry_mix), sep="\n")
dry_mix = band_of(made.mix.dry_mix)
print(f"{1000 * dry_mix.low80:.0f} g to {1000 * dry_mix.high80:.0f} g in four cases of five")

# %% [markdown]
# ## Change one thing
#
# Everything is frozen; a change is a new recipe. Inside, all is SI: 14 mm are 0.014 m. The
# draws are the same, so that what differs comes of the change and not of chance.

# %%
smaller = replace(recipe, bait=replace(recipe.bait, diameter=0.014))
other = plan(replace(request, recipe=smaller))
for name, one in (("15 mm", made), ("14 mm", other)):
    lift = band_of(one.water.dried)
    low, middle, high = (1000 * gram for gram in (lift.low80, lift.median, lift.high80))
    print(f"{name}: lift {middle:+.2f} g ({low:+.2f} to {high:+.2f})")

# %% [markdown]
# ## Draw
#
# A figure is a drawing and the tables that tell the same without it.

# %%
for picture in plan_figures(made):
    print(picture.name, f"{len(picture.svg) // 1000} kB:", picture.title)

# %% [markdown]
# ## Record, and learn
#
# Three batches of a kitchen whose dry mix goes a little further than the tables say. Each is
# held against the plan that was made for it; what it teaches goes into the factors of the next.
# Nothing is overwritten: every set is dated, and lists the batches it learned from.

# %%
season = (
    # the tub's difference in kg, twenty baits fresh and after 8 h in kg, baits
    (0.282, 0.0338, 0.0294, 264),
    (0.287, 0.0335, 0.0290, 267),
    (0.279, 0.0341, 0.0297, 259),
)
KEYS = ("tub_used", "twenty_fresh", "twenty_at_8h", "baits_made")
COUNTS = (1, 20, 20, 1)

widths = []
for week, weighed in enumerate(season):
    day = MORNING + timedelta(weeks=week)
    asked = replace(request, bench=replace(bench, now=day, leaving=day + timedelta(hours=33)))
    readings = tuple(map(Reading, KEYS, weighed, COUNTS))
    told = scored(asked, BatchRecord(recipe.name, day, readings), now=day)
    inside = sum(0 < one.inside <= 80 for one in told.lesson.scores)
    tub = next(one.before for one in told.changes if one.label == "tub before less tub after")
    widths.append(tub.high80 - tub.low80)
    print(
        f"{day:%d %b}: {inside} of {len(told.lesson.scores)} inside their bands; "
        f"the tub was to lose within {1000 * widths[-1]:.0f} g"
    )
    request = replace(request, factors=told.factors)

# %% [markdown]
# What is left after some batches is mostly how batches differ among themselves, and no number
# of them takes that away.
