"""The levels answer for programs: numbers with their unit in the name, nothing rounded."""

from __future__ import annotations

from typing import Any

from baitwright.materials.tools import Draw
from baitwright.quantities import from_si
from baitwright.recipe.levels import Measure
from baitwright.workshop.levels.bases import Alike, Basis
from baitwright.workshop.levels.level_advice import much_carrier, of_other_makers
from baitwright.workshop.levels.level_lines import COVERAGE
from baitwright.workshop.levels.levels import Answer, Levels
from baitwright.workshop.levels.levels_back import asks_back
from baitwright.workshop.levels.levels_grades import GradeRow, by_grade
from baitwright.workshop.levels.levels_together import together
from baitwright.workshop.typed.unstated import CARRIER, SHOWN


def levels_as_json(found: Levels) -> dict[str, Any]:
    """Everything the text says, and the doses for 1 to 12 eggs."""
    bowl, bridges, several = found.bowl, found.bridges, together(found)
    known = bridges.low.dry_mix == bridges.high.dry_mix
    return {
        "eggs": {
            "count": bowl.count,
            "counted": bowl.counted,
            "volume_ml": from_si(bowl.volume.value, "ml"),
            "volume_standard_error_ml": from_si(bowl.volume.u, "ml"),
            "mass_g": from_si(bowl.mass, "g"),
        },
        "dry_mix_per_egg": {
            "low_g": from_si(bridges.low.dry_mix, "g"),
            "high_g": from_si(bridges.high.dry_mix, "g"),
            "evidence": "measured" if known else "practice",
        },
        "use": found.use,
        "levels": [_answer(answer, found) for answer in found.answers],
        "all_liquids_ml": from_si(found.liquids, "ml"),
        "all_liquids_of_paste": found.share,
        "carriers": [
            {"carrier": row.id, "at_most_ml": from_si(volume, "ml")}
            for row, volume in several.carriers
        ],
        "of_most_usual": [share for _, share in several.filled],
        "of_most_usual_together": several.sum,
        "asks": list(asks_back(found)),
    }


def _answer(answer: Answer, found: Levels) -> dict[str, Any]:
    liquid, dose = answer.liquid, answer.dose
    unit = SHOWN[liquid.level.measure]
    return {
        "name": liquid.name,
        "level": liquid.level.text,
        "carrier": answer.carrier.id,
        "carrier_stated": answer.carrier.id != CARRIER,
        "strength": liquid.strength,
        "strength_stated": not liquid.strength_assumed,
        "unit": unit,
        "dose": {
            "low": _in(dose.low, unit),
            "middle": _in(dose.middle, unit),
            "high": _in(dose.high, unit),
            "volume_ml": from_si(dose.volume, "ml"),
            "mass_g": from_si(dose.mass, "g"),
        },
        "fill": _fill(dose.fill),
        "blend": None
        if dose.blend is None
        else {"carrier_parts": dose.blend.carrier_parts, **(_fill(dose.blend.fill) or {})},
        "spoons": None
        if dose.spoons is None
        else {"spoon": dose.spoons.spoon.id, "count": dose.spoons.count},
        "strength_within": COVERAGE * dose.strength.relative,
        "bases": [_basis(basis) for basis in answer.bases],
        "usual_per_egg": _usual(answer),
        "evidence": str(answer.range.evidence),
        "source": answer.range.source,
        "remark": answer.remark,
        "flagged_by_carrier": much_carrier(answer, found),
        "other_makers_ml_per_egg": {
            name: from_si(amount, "ml") for name, amount in of_other_makers(answer, found)
        },
        "table": [
            {"eggs": row.eggs, "dose": _in(row.dose, unit), "fill": _fill(row.fill)}
            for row in answer.table
        ],
        "by_grade": [_graded(row, unit) for row in by_grade(answer, found)],
    }


def _basis(basis: Basis) -> dict[str, Any]:
    return {
        "per": basis.per,
        **_ends(basis),
        "alike": [_ends(one) for one in basis.alike],
    }


def _ends(told: Basis | Alike) -> dict[str, Any]:
    unit = told.unit
    return {"unit": unit, "low": _in(told.low, unit), "high": _in(told.high, unit)}


def _graded(row: GradeRow, unit: str) -> dict[str, Any]:
    return {
        "system": row.system,
        "grade": row.grade,
        "egg_low_ml": from_si(row.egg[0], "ml"),
        "egg_high_ml": from_si(row.egg[1], "ml"),
        "low": _in(row.dose[0], unit),
        "high": _in(row.dose[1], unit),
    }


def _usual(answer: Answer) -> dict[str, Any]:
    """The trade's range; one that it counts in drops stands in ml."""
    unit = "g" if answer.range.unit == "g" else "ml"
    low, high = answer.usual
    return {"unit": unit, "low": from_si(low, unit), "high": from_si(high, unit)}


def _in(value: float, unit: str) -> float:
    """A value in the unit it is shown in; a count of drops stays one."""
    return value if unit == SHOWN[Measure.DROPS] else from_si(value, unit)


def _fill(fill: Draw | None) -> dict[str, Any] | None:
    if fill is None:
        return None
    return {
        "tool": fill.tool.id,
        "mark_ml": from_si(fill.volume, "ml"),
        "error_ml": from_si(fill.total, "ml"),
    }
