"""The walk through many places: exact where it can be, near it where it cannot, always valid."""

import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from upgrade_planner.planning import walking
from upgrade_planner.planning.walking import (
    BEAM,
    LARGEST_SEARCH,
    NumberedWork,
    exact_walk,
    narrow,
    walk_through,
)

START = "p00"


def random_work(rnd, places, pieces):
    """Work at random places of a plane; most of it waits for something."""
    names = [f"p{number:02}" for number in range(places)]
    spots = {name: (4 * rnd.random(), 2 * rnd.random()) for name in names}
    distances = {
        a: {b: abs(x - spots[b][0]) + abs(y - spots[b][1]) for b in names}
        for a, (x, y) in spots.items()
    }
    numbers = rnd.sample(range(pieces), pieces)
    at, waits = [""] * pieces, [frozenset()] * pieces
    for index, number in enumerate(numbers):
        at[number] = rnd.choice(names) if rnd.random() > 0.05 else ""
        earlier = rnd.sample(numbers[:index], min(index, int(rnd.expovariate(0.8))))
        waits[number] = frozenset(earlier)
    return NumberedWork(places=tuple(at), waits=tuple(waits), distances=distances)


def assert_valid(work, order):
    assert sorted(order) == list(range(len(work.places)))
    position = {index: place for place, index in enumerate(order)}
    for index, waits in enumerate(work.waits):
        assert all(position[other] < position[index] for other in waits)


def changes(work, order):
    walked = [START, *(work.places[index] for index in order if work.places[index])]
    return sum(one != other for one, other in pairwise(walked))


@pytest.fixture(scope="module")
def compared():
    """The narrow walk beside the best one over 200 random jobs."""
    rnd = random.Random(7)
    jobs = [random_work(rnd, rnd.randint(3, 8), rnd.randint(6, 24)) for _ in range(200)]
    return [(narrow(work, START), exact_walk(work, START, LARGEST_SEARCH)) for work in jobs]


class TestNarrowAgainstExact:
    def test_every_job_of_eight_places_is_within_the_exact_search(self, compared):
        assert all(best is not None for _, best in compared)

    def test_no_more_changes_of_place(self, compared):
        extra = [near.changes - best.changes for near, best in compared]
        assert min(extra) >= 0
        assert max(extra) == 0

    def test_way_is_longer_by_at_most_a_twentieth_and_by_a_thousandth_in_the_mean(self, compared):
        ratios = [near.distance_m / best.distance_m for near, best in compared if best.distance_m]
        assert min(ratios) > 1 - 1e-9
        assert max(ratios) <= 1.05
        assert sum(ratios) / len(ratios) <= 1.001


class TestAnyJob:
    @given(st.integers(1, 60), st.integers(1, 120), st.integers(0, 10_000))
    @settings(max_examples=12)
    def test_order_is_valid(self, places, pieces, number):
        work = random_work(random.Random(number), places, pieces)
        order = walk_through(work, START)
        assert_valid(work, order)

    def test_bound_never_exceeds_what_is_walked(self):
        rnd = random.Random(3)
        for _ in range(60):
            work = random_work(rnd, rnd.randint(2, 7), rnd.randint(2, 18))
            best = exact_walk(work, START, LARGEST_SEARCH)
            assert work.begun(START).visits_left <= best.changes
            assert best.changes == changes(work, best.order)

    def test_states_looked_at_grow_with_levels_not_with_their_power(self, monkeypatch):
        work = random_work(random.Random(11), 40, 120)
        looked = []
        onward = NumberedWork.onward
        monkeypatch.setattr(
            NumberedWork, "onward", lambda self, walk: looked.append(1) or onward(self, walk)
        )
        found = narrow(work, START)
        assert_valid(work, found.order)
        assert len(looked) <= BEAM * (found.changes + 1)

    def test_search_that_gives_up_still_ends_with_a_valid_order(self, monkeypatch):
        # beyond the limit the old search kept one next state and could lose it
        monkeypatch.setattr(walking, "LARGEST_SEARCH", 20)
        rnd, given_up = random.Random(5), 0
        for _ in range(60):
            work = random_work(rnd, rnd.randint(4, 10), rnd.randint(10, 40))
            given_up += exact_walk(work, START, 20) is None
            assert_valid(work, walk_through(work, START))
        assert given_up > 30

    def test_same_work_same_walk(self):
        one, other = (random_work(random.Random(2), 14, 40) for _ in range(2))
        assert walk_through(one, START) == walk_through(other, START)
