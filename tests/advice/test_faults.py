"""What was done wrong on purpose is found: first or second of the causes, by plan and record."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import pytest

from baitwright.advice.faults import Known, Read, find_fault
from baitwright.advice.faults_found import Speaks
from baitwright.advice.faults_tables import symptom, symptoms
from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.plan import plan
from baitwright.terms.errors import InputError
from baitwright.terms.evidence import Evidence
from tests.advice.kitchen import asked, causes, planned_as, sinker, usual


def in_room(**room: float) -> BatchPlan:
    bench = usual().request.bench
    return plan(asked(bench=replace(bench, room=replace(bench.room, **room))))


def twice_the_eggs() -> BatchPlan:
    bench = usual().request.bench
    eggs = bench.eggs[0]
    assert eggs.shell_mass is not None
    assert eggs.count is not None
    both = replace(eggs, shell_mass=2.0 * eggs.shell_mass, count=2 * eggs.count)
    return plan(asked(bench=replace(bench, eggs=(both,))))


@dataclass(frozen=True)
class Wrong:
    """A symptom, what was done wrong, and how the right cause begins."""

    symptom: str
    cause: str
    speaks: Speaks
    read: Callable[[], tuple[Read, ...]] = tuple
    made: Callable[[], BatchPlan] = usual


def reading(
    name: str, value: Callable[[], float], label: str = ""
) -> Callable[[], tuple[Read, ...]]:
    return lambda: (Read(name, value(), label),)


DONE_WRONG = (
    Wrong(
        "splits off the core",
        "dry mix the eggs took up, more",
        Speaks.READ,
        reading("tub_used", lambda: 1.25 * planned_as("tub_used")),
    ),
    Wrong("soft centre", "time in the pot", Speaks.DONE, reading("boiled", lambda: 60.0)),
    Wrong("cracks", "the room's humidity", Speaks.DIFFERS, made=lambda: in_room(humidity=0.3)),
    Wrong(
        "floats too hard",
        "the cores' density, less",
        Speaks.READ,
        reading("cores", lambda: 0.6 * planned_as("core_mass", "core")),
    ),
    Wrong(
        "sinks by morning",
        "the cores' density, more",
        Speaks.READ,
        reading("cores", lambda: 1.5 * planned_as("core_mass", "core")),
    ),
    Wrong(
        "mould", "the room's temperature", Speaks.DIFFERS, made=lambda: in_room(temperature=283.15)
    ),
    Wrong(
        "no smell",
        "the dose drawn, Malt",
        Speaks.DONE,
        reading("drawn", lambda: 0.4 * planned_as("dose_mass", "Malt"), "Malt"),
    ),
    Wrong(
        "too strong",
        "the dose drawn, Caraway oil",
        Speaks.DONE,
        reading("drawn", lambda: 3.0 * planned_as("dose_mass", "Caraway oil"), "Caraway oil"),
    ),
    Wrong("paste too dry by the end", "the eggs' weight", Speaks.DIFFERS, made=twice_the_eggs),
)


@pytest.mark.parametrize("wrong", DONE_WRONG, ids=lambda one: one.symptom)
def test_what_was_done_wrong_is_found_first_or_second(wrong: Wrong) -> None:
    found = causes(wrong.symptom, *wrong.read(), made=wrong.made())
    place = next(at for at, one in enumerate(found) if one.what.startswith(wrong.cause))
    assert place <= 1
    assert wrong.speaks in {one.speaks for one in found[place].grounds}
    assert found[place].test


def test_nothing_speaks_for_anything_where_all_was_as_usual() -> None:
    found = causes("too strong", Read("drawn", planned_as("dose_mass", "Malt"), "Malt"))
    assert found
    assert not any(one.grounds for one in found)


def test_every_symptom_was_done_wrong_once() -> None:
    assert {one.symptom for one in DONE_WRONG} == {one.label for one in symptoms().values()}


def test_what_the_record_shows_stands_before_what_may_be() -> None:
    found = causes("soft centre", Read("boiled", 60.0))
    spoken_for = [bool(one.grounds) for one in found]
    assert spoken_for == sorted(spoken_for, reverse=True)
    assert found[0].moves.endswith("-30 s")  # 90 s were planned, and the sign counts in seconds
    assert found[0].grounds[0].text == "time in the pot, boil: 60 s; planned 90 s"


def test_what_explains_it_takes_the_blame_off_the_others() -> None:
    def blamed(*read: Read) -> float:
        found = causes("soft centre", *read, good=False)
        return next((one.size for one in found if one.what.startswith("time your pot")), 0.0)

    assert blamed(Read("boiled", 60.0)) < 0.2 * blamed()


def test_what_readings_put_out_of_its_band_is_said_to_be() -> None:
    def grounds(share: float) -> set[Speaks]:
        read = Read("tub_used", share * planned_as("tub_used"))
        found = causes("paste too dry by the end", read)
        return {
            ground.speaks
            for one in found
            if one.what.startswith("dry mix the eggs")
            for ground in one.grounds
        }

    assert grounds(1.6) == {Speaks.READ, Speaks.BAND}
    assert grounds(1.15) == {Speaks.READ}


def test_doing_it_better_than_planned_is_no_cause() -> None:
    found = causes("soft centre", Read("boiled", 150.0))
    assert not any(one.what.startswith("time in the pot") for one in found)


def test_another_lot_speaks_for_what_it_changes() -> None:
    lots = (("core", "another lot of cork balls: L9, was L8"),)
    known = Known((), usual(), "2026-11-03/B1", lots)
    found = find_fault(usual(), symptom("splits off the core"), known).causes
    assert found[0].what == "wet or dusty cores"
    assert found[0].grounds[0].speaks is Speaks.LOT
    assert found[0].evidence is Evidence.PRACTICE


def test_without_a_core_no_core_is_to_blame() -> None:
    fault = find_fault(sinker(), symptom("splits off the core"), Known())
    assert (fault.causes, fault.missing) == ((), "a core")
    found = find_fault(sinker(), symptom("floats too hard"), Known()).causes
    assert found
    assert not any("core" in one.what for one in found)


def test_the_reading_that_tells_two_causes_apart_is_named() -> None:
    fault = find_fault(usual(), symptom("splits off the core"), Known())
    assert fault.tells is not None
    assert fault.tells.reading == "dry mix used"
    taken = find_fault(usual(), symptom("splits off the core"), Known((Read("tub_used", 0.27),)))
    assert taken.tells is None or taken.tells.reading != "dry mix used"


def test_a_symptom_is_known_by_label_and_id_and_no_other() -> None:
    assert symptom("Sinks by morning") is symptom("sinks-by-morning")
    with pytest.raises(InputError, match="one of: splits off the core, soft centre"):
        symptom("bad")
