"""
Places that hang on a tree of arcs at their least distance: the dual network simplex.

While an arc of the tree holds apart what the weights draw together on other ways, it gives way to
the nearest arc that stops it. At the end each arc of the tree is pressed together or bears nothing;
those that are pressed are at their distance in each solution of least total, so it does not matter
where the search began. All in whole numbers.
Source: R. K. Ahuja, T. L. Magnanti, J. B. Orlin, Network Flows (1993), chapter 11 (from memory).
"""

from collections.abc import Iterable, Sequence

from upgrade_planner.attributes import frozen

Bound = tuple[str, str, int]
"""From the first place to the second one there is at least a distance."""

PATIENCE = 20
"""Exchanges for each place after which they go by number alone, which leads out of any circle."""

ROOT = 0
NO_ARC = -1


def least_places(bounds: Iterable[Bound]) -> dict[str, int]:
    """
    The leftmost places that keep all bounds, none left of 0; only if bounds contradict: some.

    Example:
        >>> least_places([("a", "b", 2), ("b", "c", -1)])
        {'a': 0, 'b': 2, 'c': 1}
    """
    places = {name: 0 for first, second, _ in bounds for name in (first, second)}
    for _ in range(len(places) + 5):
        moved = False
        for first, second, distance in bounds:
            if places[first] + distance > places[second]:
                places[second] = places[first] + distance
                moved = True
        if not moved:
            break
    return places


@frozen
class _Hanging:
    """
    The tree as it hangs from the root.

    Attributes:
        order: Places; what hangs on one follows right behind it.
        by: The arc on which each place hangs.
        sizes: How many places hang on each, itself among them.
        flows: What presses each arc of the tree together; below 0 it is drawn apart.
    """

    order: list[int]
    by: list[int]
    sizes: list[int]
    flows: dict[int, int]


class TightTree:
    """
    Args:
        bounds: Arcs; they keep their order and so their numbers.

    Raises:
        ValueError: the distances contradict each other, or do not join all places.
    """

    def __init__(self, bounds: Sequence[Bound]) -> None:
        places = least_places(bounds)
        if any(places[first] + distance > places[second] for first, second, distance in bounds):
            raise ValueError("the distances contradict each other")
        numbers = {name: number for number, name in enumerate(places)}
        self._arcs = [(numbers[first], numbers[second], d) for first, second, d in bounds]
        self._places = list(places.values())
        self._joined: list[set[int]] = [set() for _ in places]
        self._grow()

    def pressed(self, weights: Sequence[int]) -> list[int]:
        """
        Numbers of the arcs that the weights press together at the least total.

        Raises:
            ValueError: nothing holds a place.
        """
        pulls = [0] * len(self._places)
        for (first, second, _), weight in zip(self._arcs, weights, strict=True):
            pulls[first] -= weight
            pulls[second] += weight
        patience = PATIENCE * len(pulls)
        while True:
            hanging = self._hanging(pulls)
            apart = [number for number, flow in hanging.flows.items() if flow < 0]
            if not apart:
                return [number for number, flow in hanging.flows.items() if flow > 0]
            patience -= 1
            leaving = min(apart) if patience < 0 else min(apart, key=hanging.flows.__getitem__)
            self._exchange(leaving, hanging)

    def _grow(self) -> None:
        """The first tree: one part grows, moved to the nearest arc each time it stands alone."""
        part = {ROOT} if self._places else set()
        while len(part) < len(self._places):
            leading = [
                (self._slack(number), number)
                for number, (first, second, _) in enumerate(self._arcs)
                if (first in part) is not (second in part)
            ]
            if not leading:
                raise ValueError("the arcs do not join all places")
            slack, number = min(leading)
            first, second, _ = self._arcs[number]
            step = slack if first in part else -slack
            if step:
                for place in part:
                    self._places[place] += step
            part |= {first, second}
            self._join(number)

    def _slack(self, number: int) -> int:
        first, second, distance = self._arcs[number]
        return self._places[second] - self._places[first] - distance

    def _join(self, number: int) -> None:
        for place in self._arcs[number][:2]:
            self._joined[place] ^= {number}

    def _hanging(self, pulls: Sequence[int]) -> _Hanging:
        arcs, joined = self._arcs, self._joined
        order: list[int] = []
        by, above = [NO_ARC] * len(pulls), [ROOT] * len(pulls)
        open_ = [ROOT]
        while open_:
            place = open_.pop()
            order.append(place)
            for number in joined[place]:
                if number != by[place]:
                    first, second, _ = arcs[number]
                    lower = second if first == place else first
                    by[lower], above[lower] = number, place
                    open_.append(lower)
        sums, sizes, flows = list(pulls), [1] * len(pulls), {}
        for place in order[:0:-1]:
            upper, number = above[place], by[place]
            flows[number] = sums[place] if arcs[number][1] == place else -sums[place]
            sums[upper] += sums[place]
            sizes[upper] += sizes[place]
        return _Hanging(order, by, sizes, flows)

    def _exchange(self, leaving: int, hanging: _Hanging) -> None:
        """What lies beyond an arc moves away from it, up to the nearest arc that stops it."""
        first, second, _ = self._arcs[leaving]
        lower = second if hanging.by[second] == leaving else first
        start = hanging.order.index(lower)
        below = set(hanging.order[start : start + hanging.sizes[lower]])
        moved = below if lower == second else set(hanging.order) - below
        places, nearest, entering = self._places, None, NO_ARC
        for number, (one, other, distance) in enumerate(self._arcs):
            if one in moved and other not in moved:
                slack = places[other] - places[one] - distance
                if nearest is None or slack < nearest:
                    nearest, entering = slack, number
        if nearest is None:
            raise ValueError("nothing holds a place")
        if nearest:
            for place in moved:
                places[place] += nearest
        self._join(leaving)
        self._join(entering)
