"""The room of a bench file: its air now and later, a dryer, and the mark of dry enough."""

from __future__ import annotations

import tomllib

import pytest

from baitwright.recipe.bench import LaterAir, ReadyMark, Room
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.bench_file import bench_from
from tests.workshop.shelf import NOW

EGGS = '[[eggs]]\ncount = 1\ngrade = "EU L"\n'


def room(text: str) -> Room:
    return bench_from(tomllib.loads(f"{EGGS}[room]\n{text}"), where="bench.toml", now=NOW).room


def test_a_room_of_which_everything_is_said() -> None:
    made = room(
        'temperature = "21 C"\nhumidity = "50 %"\nair = "0.2 m/s"\nexposure = "60 %"\n'
        'dryer = "40 C"\nready = "12 %"\n'
        '[[room.then]]\nafter = "90 min"\n'
        '[[room.then]]\nafter = "4 h"\ntemperature = "57.2 F"\nhumidity = "70 %"\nair = "0 m/s"\n'
    )
    assert made.temperature == pytest.approx(294.15)
    assert (made.humidity, made.air_speed, made.exposure) == (0.5, 0.2, 0.6)
    assert made.dryer == pytest.approx(313.15)
    assert made.ready == ReadyMark(loss=0.12)
    first, second = made.then
    assert first == LaterAir(after=5400.0)
    assert second.temperature == pytest.approx(287.15)
    assert (second.after, second.air_speed) == (14_400.0, 0.0)
    assert second.humidity == pytest.approx(0.7)


def test_nothing_said_is_nothing_assumed_here() -> None:
    assert room("") == Room()


@pytest.mark.parametrize(
    ("written", "mark"),
    [
        ("10 %", ReadyMark(loss=0.10)),
        ("7,5 %", ReadyMark(loss=0.075)),
        ("aw 0.85", ReadyMark(water_activity=0.85)),
        ("AW .9", ReadyMark(water_activity=0.9)),
        ("aw0,8", ReadyMark(water_activity=0.8)),
        ("12 h", ReadyMark(time=43_200.0)),
        ("90 min", ReadyMark(time=5400.0)),
    ],
)
def test_three_marks_of_dry_enough(written: str, mark: ReadyMark) -> None:
    assert room(f'ready = "{written}"').ready == mark


@pytest.mark.parametrize(
    ("written", "field", "accepted"),
    [
        ('ready = "soon"', "room.ready", "aw 0.85"),
        ('ready = "60 %"', "room.ready", "1 % to 40 %"),
        ('ready = "aw 1.2"', "room.ready", "0.3 to 0.97"),
        ('ready = "aw 85 %"', "room.ready", "0.3 to 0.97"),
        ('ready = "aw nan"', "room.ready", "aw 0.85"),
        ('ready = "400 h"', "room.ready", "12 h"),
        ("ready = 12", "room.ready", "12 h"),
        ('humidity = "120 %"', "room.humidity", "0 % to 100 %"),
        ('air = "50 m/s"', "room.air", "0 m/s to 5 m/s"),
        ('temperature = "-3 C"', "room.temperature", "0 C to 50 C"),
        ('dryer = "90 C"', "room.dryer", "20 C to 70 C"),
        ('exposure = "0 %"', "room.exposure", "20 % to 100 %"),
        ('[[room.then]]\ntemperature = "14 C"', "room.then[1].after", "a time"),
        ('[[room.then]]\nafter = "4 h"\nhumidity = "101 %"', "room.then[1].humidity", "100 %"),
        (
            '[[room.then]]\nafter = "4 h"\n[[room.then]]\nafter = "3 h"',
            "room.then[2].after",
            "later",
        ),
    ],
)
def test_what_no_room_has_is_named_and_refused(written: str, field: str, accepted: str) -> None:
    with pytest.raises(InputError) as caught:
        room(written)
    assert caught.value.field == field
    assert caught.value.where == "bench.toml"
    assert accepted in caught.value.accepted
