"""What a record says, for people and for programs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from baitwright import __version__
from baitwright.learning.propose import Lesson, Proposal
from baitwright.learning.score import Score
from baitwright.quantities import from_si, show, tidy
from baitwright.terms.band import Band
from baitwright.workshop.readings.changed_bands import Change
from baitwright.workshop.readings.record_batch import Recorded


def record_text(recorded: Recorded) -> str:
    """Scores, proposals, what is not told, and what the next plan will change."""
    lesson = recorded.lesson
    lines = [f"{recorded.record.plan_name}: predicted and weighed", *_scores(lesson)]
    if recorded.planned_by != __version__:
        lines.append(
            f"  Planned by version {recorded.planned_by} and worked out again by {__version__}: "
            "the bands may differ from those printed then."
        )
    lines.append("")
    if lesson.proposals:
        lines.append("Your factors, proposed")
        lines += [f"  {proposal.words}" for proposal in lesson.proposals]
    else:
        lines.append("No factor moves.")
    lines += [f"  {one.words}" for one in lesson.tells_little]
    if recorded.changes:
        lines += ["", "The same batch planned with these factors"]
        lines += [f"  {change_words(change)}" for change in recorded.changes]
    if recorded.written is not None:
        lines += ["", f"Accepted: {recorded.written}. Plan with it: --factors {recorded.written}"]
    elif recorded.again:
        lines += ["", "These factors have learned from this batch already: it is not kept twice."]
    elif lesson.proposals:
        lines += ["", "Nothing is kept yet: --accept FILE keeps these factors as a new file."]
    return "\n".join(lines)


def _scores(lesson: Lesson) -> Iterator[str]:
    for score in lesson.scores:
        yield f"  {score.label}: {score.words}"
        if score.inside == 0:
            yield "    Outside the band of 19 in 20: weigh again if you can before you accept."
    yield "  {} of {} inside the band that should hold four of five.".format(*inside_of(lesson))


def inside_of(lesson: Lesson) -> tuple[int, int]:
    """How many readings fell inside the band that should hold four of five, and of how many."""
    predicted = [score for score in lesson.scores if not score.band.is_known]
    return sum(score.inside in (50, 80) for score in predicted), len(predicted)


def change_words(change: Change) -> str:
    """What one number was predicted as and now is, in one line."""
    before, after = (band_words(one, change.shown) for one in (change.before, change.after))
    return f"{change.label}: {before} becomes {after} ({width_words(change)})"


def width_words(change: Change) -> str:
    """How much narrower or wider the new band is."""
    by = tidy(100.0 * abs(1.0 - change.width), 2)
    return f"{by} % {'narrower' if change.width < 1.0 else 'wider'}"


def band_words(band: Band, shown: str) -> str:
    """The band of 8 in 10 from end to end."""
    return f"{show(band.low80, shown)} to {show(band.high80, shown)}"


def record_as_json(recorded: Recorded) -> dict[str, Any]:
    """The same for programs; numbers in the unit named beside them."""
    record, lesson = recorded.record, recorded.lesson
    return {
        "plan": record.plan_name,
        "planned_by": recorded.planned_by,
        "made_on": record.made_on.isoformat() if record.made_on else None,
        "remark": record.remark,
        "scores": [_score(score) for score in lesson.scores],
        "proposals": proposals_as_json(lesson.proposals),
        "tells_little": [
            {"key": one.key, "about": one.about, "share": one.share, "words": one.words}
            for one in lesson.tells_little
        ],
        "changes": [
            {
                "label": change.label,
                "unit": change.shown,
                "before": _ends(change.before, change.shown),
                "after": _ends(change.after, change.shown),
            }
            for change in recorded.changes
        ],
        "factors": {"name": recorded.factors.name, "written": _path(recorded)},
        "learned_already": recorded.again,
    }


def _score(score: Score) -> dict[str, Any]:
    return {
        "label": score.label,
        "unit": score.shown,
        "reading": from_si(score.reading, score.shown),
        "predicted": _ends(score.band, score.shown),
        "inside": score.inside,
        "percentile": score.percentile,
        "verdict": score.verdict,
        "words": score.words,
    }


def proposals_as_json(proposals: Sequence[Proposal]) -> list[dict[str, Any]]:
    """Factors before and after, for programs."""
    return [_proposal(proposal) for proposal in proposals]


def _proposal(proposal: Proposal) -> dict[str, Any]:
    return {
        "key": proposal.after.key,
        "about": proposal.after.about,
        "before": proposal.before.median,
        "after": proposal.after.median,
        "scale_before": proposal.before.scale,
        "scale_after": proposal.after.scale,
        "batches": proposal.after.batches,
        "share": proposal.share,
        "words": proposal.words,
    }


def _ends(band: Band, shown: str) -> dict[str, Any]:
    return {
        "median": from_si(band.median, shown),
        "band80": [from_si(band.low80, shown), from_si(band.high80, shown)],
    }


def _path(recorded: Recorded) -> str | None:
    return None if recorded.written is None else str(recorded.written)
