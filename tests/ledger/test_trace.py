"""Traces: every way there and back, recalls, and circles refused; held against scipy's graphs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse.csgraph import connected_components, shortest_path

from baitwright.ledger.trace import Chain, Link, Place, Stop, Traced
from baitwright.terms.errors import InputError

SACK = Place(Stop.SUPPLIED, "S-881")
SEMOLINA = Place(Stop.INGREDIENT, "2026-11-02/1")
TUB = Place(Stop.MIX, "2026-11-20/1")
BATCH, OTHER = Place(Stop.BATCH, "2026-11-26/1"), Place(Stop.BATCH, "2026-11-27/1")
BAGS = tuple(Place(Stop.BAG, f"2026-11-27/{at}") for at in (1, 2))
NIGHT, SALE = Place(Stop.NIGHT, "Long Reedpool"), Place(Stop.SALE, "14")
LINKS = (
    Link(SACK, SEMOLINA),
    Link(SEMOLINA, TUB),
    Link(TUB, BATCH),
    Link(TUB, OTHER),
    Link(BATCH, BAGS[0]),
    Link(BATCH, BAGS[1]),
    Link(BAGS[0], NIGHT),
    Link(BAGS[1], SALE),
)


def test_from_the_sack_to_the_night_and_back() -> None:
    chain = Chain(LINKS)
    onward = chain.onward(SACK)
    assert onward[0] == Traced(SEMOLINA, 1)
    assert [one.place for one in onward] == [SEMOLINA, TUB, BATCH, OTHER, *BAGS, NIGHT, SALE]
    assert [one.place for one in chain.back(NIGHT)] == [BAGS[0], BATCH, TUB, SEMOLINA, SACK]
    assert chain.back(SACK) == chain.onward(NIGHT) == ()


def test_a_recall_names_bags_nights_and_sales() -> None:
    assert Chain(LINKS).recall(SEMOLINA) == (*BAGS, NIGHT, SALE)
    assert Chain(LINKS).recall(OTHER) == ()


def test_places_stand_in_the_order_of_the_work() -> None:
    mixed = [SALE, NIGHT, *BAGS, OTHER, BATCH, TUB, SEMOLINA, SACK]
    assert sorted(mixed) == [SACK, SEMOLINA, TUB, BATCH, OTHER, *BAGS, NIGHT, SALE]


def test_a_circle_is_refused_and_named() -> None:
    with pytest.raises(InputError, match="tub of mix 2026-11-20/1, batch 2026-11-26/1"):
        Chain([*LINKS, Link(BATCH, TUB)])


def test_an_unknown_place_leads_nowhere() -> None:
    assert Chain(LINKS).onward(Place(Stop.BAG, "none")) == ()


@given(st.lists(st.tuples(st.integers(0, 15), st.integers(0, 15)), max_size=60))
def test_as_a_general_library_has_it(pairs: list[tuple[int, int]]) -> None:
    """scipy: fewest links from each place to each; circles are strong parts of more than one."""
    places = [Place(Stop.BATCH, f"{at:02d}") for at in range(16)]
    leads = np.zeros((16, 16))
    for source, into in pairs:
        leads[source, into] = 1.0
    links = [Link(places[source], places[into]) for source, into in pairs]
    parts, _ = connected_components(leads, directed=True, connection="strong")
    if parts < 16 or leads.diagonal().any():
        with pytest.raises(InputError):
            Chain(links)
        return
    chain, fewest = Chain(links), shortest_path(leads, unweighted=True)
    for at, place in enumerate(places):
        onward = {one.place: one.links for one in chain.onward(place)}
        back = {one.place: one.links for one in chain.back(place)}
        assert onward == _reached(places, fewest[at])
        assert back == _reached(places, fewest[:, at])


def _reached(places: list[Place], links: np.ndarray) -> dict[Place, int]:
    found = zip(places, links, strict=True)
    return {place: int(count) for place, count in found if 0.0 < count < np.inf}
