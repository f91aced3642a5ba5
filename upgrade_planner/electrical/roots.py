"""Where a rising function takes a value; the heat of wires is asked for that again and again."""

from bisect import bisect_left
from collections.abc import Callable
from math import inf

Function = Callable[[float], float]

CLOSE = 1e-10
"""How near a root is found: far below what any printed digit shows, far above rounding."""

MOST_TRIALS = 100
"""About four are needed."""

SPANS = 8
"""Between so many known values a search begins. More make it no shorter than they cost."""

CROWDED_POWER = 3
"""Known values lie closer at the low end, where most of what is wanted lies."""


def root_of_rising(function: Function, wanted: float, low: float, high: float) -> float:
    """Where a rising function takes a value, to about `CLOSE`; `low` if it is greater there."""
    below, above = function(low), function(high)
    return low if below >= wanted else _between(function, wanted, (low, below), (high, above))


class Rising:
    """
    A rising function that is asked for many values: each search begins between two known ones.

    Args:
        function: The function.
        low: Where it is least.
        high: Where it is greatest.
    """

    def __init__(self, function: Function, low: float, high: float) -> None:
        self._function = function
        shares = ((step / SPANS) ** CROWDED_POWER for step in range(SPANS + 1))
        self._places = [low + (high - low) * share for share in shares]
        self._values = [function(place) for place in self._places]

    def root(self, wanted: float) -> float:
        """Where it takes a value, as `root_of_rising`; infinity if it does not rise so far."""
        upper = bisect_left(self._values, wanted)
        if upper == 0:
            return self._places[0]
        if upper > SPANS:
            return inf
        ends = ((self._places[at], self._values[at]) for at in (upper - 1, upper))
        return _between(self._function, wanted, *ends)


def _between(
    function: Function, wanted: float, low_end: tuple[float, float], high_end: tuple[float, float]
) -> float:
    """
    The root between two places whose values are known.

    Source: inverse quadratic interpolation, else false position between the ends: common practice.
    """
    (low, below), (high, above) = low_end, high_end
    below, above = below - wanted, above - wanted
    middle, left, rest_left = high, high, above
    for _ in range(MOST_TRIALS):
        before, middle = middle, low - below * (high - low) / (above - below)
        if below != rest_left != above:
            bent = (
                low * above * rest_left / ((below - above) * (below - rest_left))
                + high * below * rest_left / ((above - below) * (above - rest_left))
                + left * below * above / ((rest_left - below) * (rest_left - above))
            )
            middle = bent if low < bent < high else middle
        if abs(middle - before) <= CLOSE:
            break
        rest = function(middle) - wanted
        if rest == 0.0:
            break
        if rest < 0.0:
            left, rest_left, low, below = low, below, middle, rest
        else:
            left, rest_left, high, above = high, above, middle, rest
    return middle
