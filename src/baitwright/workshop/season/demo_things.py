"""What the demonstration knows of its liquids, its corks and its water; all of it invented."""

from __future__ import annotations

from baitwright.workshop.season.demo_data import INVENTED, RULES, SHEETS, WATER
from baitwright.workshop.season.demo_writer import Season, on_day


def told_of_things(one: Season) -> None:
    """Write down the sheets of two liquids, a core, and the rules of the water."""
    at = one.ago(58)
    for name, told in SHEETS.items():
        sheet = {"supplier": "Withybed Supplies", "data_sheet": on_day(at, -90).isoformat()}
        one.write("liquid", {**sheet, **told, "remark": INVENTED}, name=name, at=at)
    cork = {"lot": "C-9", "diameter": "9 mm", "weighed": {"count": 20, "weight": "1.7 g"}}
    one.write("core", {**cork, "remark": INVENTED}, name="cork-ball 9 mm", at=at)
    rules = {**RULES, "checked": on_day(at, 0).isoformat(), "remark": INVENTED}
    one.write("water", rules, name=WATER, at=at)
