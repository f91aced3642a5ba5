"""Roots of rising functions: where a search begins decides how long it takes, nothing else."""

from math import exp, inf

import pytest
from every_case import every_case

from upgrade_planner.electrical.roots import CLOSE, Rising, root_of_rising


def bent(place):
    """A function that rises a thousandfold, as heat does from warm air to molten copper."""
    return (place - 30.0) ** 1.25 + 1e-9 * (place - 30.0) ** 4


LOW, HIGH = 30.0, 1083.0


@every_case("place", [30.001, 31.0, 55.5, 105.0, 400.0, 1082.9])
def test_both_searches_find_the_place_of_a_value(place):
    wanted = bent(place)
    assert root_of_rising(bent, wanted, LOW, HIGH) == pytest.approx(place, abs=10 * CLOSE)
    assert Rising(bent, LOW, HIGH).root(wanted) == pytest.approx(place, abs=10 * CLOSE)


def test_a_value_between_known_ones_is_found_in_few_steps():
    asked = []
    rising = Rising(lambda place: asked.append(place) or bent(place), LOW, HIGH)
    asked.clear()
    for place in (30.5, 40.0, 60.0, 90.0, 150.0, 300.0):
        rising.root(bent(place))
    assert len(asked) <= 5 * 6


def test_a_sharp_bend_is_passed():
    assert root_of_rising(lambda x: exp(40 * x), 2.0, 0.0, 1.0) == pytest.approx(0.0173286795)


def test_no_less_than_the_low_end_is_found_and_no_more_than_the_high_one():
    assert root_of_rising(bent, -1.0, LOW, HIGH) == LOW
    rising = Rising(bent, LOW, HIGH)
    assert rising.root(-1.0) == LOW
    assert rising.root(bent(HIGH) + 1.0) == inf
