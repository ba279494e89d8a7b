"""What a purge would destroy, and what became of it, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from baitwright.notebook.people import PERSON
from baitwright.sheets.wording import count_of
from baitwright.workshop.copies.exports_noted import NOT_THERE
from baitwright.workshop.copies.losses import Loss
from baitwright.workshop.copies.purge import PURGED


def loss_text(loss: Loss) -> str:
    """What will be lost for good, what it reaches, and what it does not."""
    stays = [f"  {'! ' if is_minded else ''}stays: {text}" for is_minded, text in what_stays(loss)]
    if loss.named_in and loss.kind == PERSON and not loss.words:
        hint = f"words there can be overwritten by {loss.name}: --overwrite SURNAME or others"
        stays.append(f"  {hint}")
    goes = (f"  {line}" for line in what_goes(loss))
    return "\n".join((f"purge of {_named(loss)}: lost for good", *goes, *stays))


def purged_text(loss: Loss, left: Mapping[Path, str]) -> str:
    """What was purged, and every file that could not be done."""
    lines = [f"{_named(loss)}: purged"]
    lines += [f"  ! not reached: {path}. {why}" for path, why in left.items()]
    return "\n".join(lines)


def what_goes(loss: Loss) -> Iterator[str]:
    """What a purge destroys, and in which files; those it does not find are named too."""
    what = "what is known of them" if loss.kind == PERSON else count_of(loss.versions, "version")
    yield f"{what if loss.versions else 'nothing, it was emptied before'}"
    yield from (f"overwritten in {one.where}: {one.text}" for one in loss.changed)
    yield from (f"the plan of batch {plan}, with its whole recipe" for plan in loss.plans)
    yield from (f"their question {name}" for name in loss.asked.questions)
    yield from (f"every answer to {name}" for name in loss.asked.answers)
    for copy in loss.asked.copies:
        if copy.is_ours:
            yield f"the answer in {copy.path}, which will be deleted"
        elif copy.is_there:
            yield f"not in {copy.path}, which is no longer what was written"
        else:
            yield f"not in {copy.path}, which is {NOT_THERE}"
    yield from (f"in the copy {path}" for path in loss.copies)
    for one in loss.exports:
        if one.is_begun_only:
            yield f"halves of the export {one.path}, which was never finished"
        elif one.is_same:
            yield f"the export {one.path}, which will be deleted"
        elif one.is_there:
            yield f"not in {one.path}, which is no longer what was exported"
        else:
            yield f"not in the export {one.path}, which is {NOT_THERE}"
    yield from (f"on the pages in {folder}" for folder in loss.pages)


def what_stays(loss: Loss) -> Iterator[tuple[bool, str]]:
    """What a purge leaves, each with whether it is to be minded."""
    word = "code" if loss.kind == PERSON else "name"
    yield False, f"the {word}, and that there was something"
    for kind, name in loss.named_in:
        then = "; purge or rewrite that too" if kind in PURGED else ", which stays whole"
        yield True, f"in the own words of {kind} {name}{then}"
    if loss.plans:
        yield False, "what its batches take and took, in their records and the shelf's book"
    yield from ((True, f"the file {path}; delete it yourself") for path in loss.files)
    if loss.is_shared:
        yield True, "copies, pages and exports with others of the shop; each purges theirs"
    yield False, "whatever you copied, printed or sent elsewhere"


def _named(loss: Loss) -> str:
    return loss.name if loss.kind == PERSON else f"{loss.kind} {loss.name}"
