"""
Generated examples that many properties share: drawn once in a run, and planned once.

Drawing and planning cost more than looking at what came out. So a property that is about the
pairs of `generating`, the chains of `chains`, the networks of `random_networks`, the maps of
`test_routing` or the written documents of `test_positions` takes them from here.
"""

from functools import cache, wraps
from itertools import cycle

from hypothesis import Phase, given, settings
from shared_results import shared

from upgrade_planner.comparison.results import Policy

MOST = {
    "chains": 60,
    "far_sensing_networks": 100,
    "held_networks": 100,
    "pairs": 120,
    "steady_networks": 100,
    "two_battery_pairs": 60,
    "wires_on_maps": 400,
    "written_documents": 100,
}
"""Examples of each strategy: as many as the property asks that asks most."""


def _drawn(strategy):
    """The examples of a strategy, given as the function that makes it."""
    found = []

    @settings(max_examples=MOST[strategy.__name__], phases=[Phase.generate])
    @given(strategy())
    def keep(example):
        found.append(example)

    keep()
    return tuple(found)


drawn = cache(shared(_drawn, lambda strategy: strategy.__name__))


def _tried(strategy, holds, example):
    """Where it does not hold, hypothesis draws anew and looks for the smallest for which not."""
    try:
        holds(example)
    except Exception:
        given(strategy())(holds)()
        raise


def of_each(count, strategy, *, policies=False):
    """
    Stands for `given`: the test is called with each of the first examples of a strategy.

    Args:
        count: How many examples.
        strategy: The function that makes the strategy.
        policies: True if the test takes a policy beside the example; they take turns.
    """

    def decorated(test):
        @wraps(test)
        def throughout(*instance):
            def holding_under(*turn):
                return lambda example: test(*instance, example, *turn)

            examples = drawn(strategy)[:count]
            assert len(examples) == count, len(drawn(strategy))
            turns = cycle(map(holding_under, Policy) if policies else [holding_under()])
            for example, holds in zip(examples, turns, strict=False):
                _tried(strategy, holds, example)

        del throughout.__wrapped__  # else pytest takes what is drawn for fixtures
        return throughout

    return decorated
