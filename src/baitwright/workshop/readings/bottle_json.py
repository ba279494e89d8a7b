"""What a bottle test says, for programs."""

from __future__ import annotations

from typing import Any

from baitwright.learning.bottle import Proved, Shares, TrayLift
from baitwright.learning.soaking import SoakLesson
from baitwright.quantities import from_si
from baitwright.terms.band import Band
from baitwright.workshop.readings.bottle_test import Bottled
from baitwright.workshop.readings.record_words import proposals_as_json


def bottle_as_json(tested: Bottled) -> dict[str, Any]:
    """What the text says; lifts in g."""
    lesson = tested.lesson
    return {
        "plan": tested.test.plan_name,
        "made_on": tested.test.made_on.isoformat() if tested.test.made_on else None,
        "proved": [_proof_as_json(one) for one in lesson.proved],
        "before": _tray_as_json(lesson.before),
        "after": _tray_as_json(lesson.after),
        "correction_g": from_si(lesson.correction, "g"),
        "effective_draws": lesson.effective,
        "bounds_only": lesson.bounds_only,
        "core_and_paste_told_apart": lesson.told_apart,
        "soaked": None if lesson.soaked is None else _soaked_as_json(lesson.soaked),
        "proposals": proposals_as_json(lesson.proposals),
        "tells_little": [
            {"key": one.key, "about": one.about, "share": one.share, "words": one.words}
            for one in lesson.tells_little
        ],
        "changes": [
            {
                "label": change.label,
                "unit": change.shown,
                "before": _ends(change.before),
                "after": _ends(change.after),
            }
            for change in tested.changes
        ],
        "factors": {
            "name": tested.factors.name,
            "written": None if tested.written is None else str(tested.written),
        },
        "learned_already": tested.again,
    }


def _proof_as_json(one: Proved) -> dict[str, Any]:
    return {
        "on_rig": one.look.on_rig,
        "after_h": from_si(one.look.after, "h"),
        "good": one.words,
        "tested": one.proof.tested,
        "bad": one.proof.bad,
        "tray": one.proof.tray,
        "most_bad_in_tray": one.proof.in_tray,
        "most_bad_share": one.proof.all_such,
        "more_to_test": one.proof.more,
    }


def _tray_as_json(tray: TrayLift) -> dict[str, Any]:
    return {
        "lift_g": _ends(tray.lift),
        "lift_at_depth_g": None if tray.at_depth is None else _ends(tray.at_depth),
        "alone": _shares_as_json(tray.alone),
        "on_rig": _shares_as_json(tray.on_rig),
    }


def _soaked_as_json(soaked: SoakLesson) -> dict[str, Any]:
    return {
        "gained": [
            {
                "after_h": from_si(one.soaked.after, "h"),
                "count": one.soaked.count,
                "share": one.soaked.gain,
                "planned": _ends(one.expected, ""),
            }
            for one in soaked.gained
        ],
        "factor_before": _ends(soaked.before, ""),
        "factor_after": _ends(soaked.after, ""),
        "effective_draws": soaked.effective,
    }


def _shares_as_json(shares: Shares) -> dict[str, float]:
    return {"floats": shares.floats, "hangs": shares.hangs, "sinks": shares.sinks}


def _ends(band: Band, unit: str = "g") -> dict[str, Any]:
    return {
        "median": from_si(band.median, unit),
        "band80": [from_si(band.low80, unit), from_si(band.high80, unit)],
        "band95": [from_si(band.low95, unit), from_si(band.high95, unit)],
    }
