"""
The least total of weighted distances, exactly: the one program behind all placing.

Unknown places x; for each arc (a, b): x(b) - x(a) is at least its distance, and the sum of
weight times (x(b) - x(a)) over all arcs is as small as can be. A tree of arcs finds which of them
are pressed to their distance (see `tight_tree`); of all places with the least total the leftmost
are taken.
"""

from collections.abc import Iterable, Mapping
from functools import lru_cache

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.tight_tree import Bound, TightTree, least_places

KEPT = 64
"""Totals that are kept: what is tried for one picture comes to the same order again and again."""


@frozen
class Arc:
    """From `first` to `second` there is at least `distance`; each unit costs `weight`."""

    first: str
    second: str
    distance: int
    weight: int = 0


def least_total(arcs: Iterable[Arc]) -> Mapping[str, int]:
    """
    The places of least total, the leftmost at 0.

    Args:
        arcs: They must join all places, and the weights must keep each place from running away.

    Raises:
        ValueError: the distances contradict each other, or nothing holds a place.

    Example:
        >>> least_total([Arc("a", "b", 2, 1), Arc("a", "c", 5, 1), Arc("b", "c", 1, 3)])
        {'a': 0, 'b': 4, 'c': 5}
    """
    return _least_total(tuple(arcs))


@lru_cache(maxsize=KEPT)
def _least_total(arcs: tuple[Arc, ...]) -> Mapping[str, int]:
    bounds = [(arc.first, arc.second, arc.distance) for arc in arcs]
    tree = _tree(tuple(bounds))
    for number in tree.pressed([arc.weight for arc in arcs]):
        first, second, distance = bounds[number]
        bounds.append((second, first, -distance))
    places = least_places(bounds)
    least = min(places.values(), default=0)
    return {name: place - least for name, place in places.items()}


@lru_cache(maxsize=KEPT)
def _tree(bounds: tuple[Bound, ...]) -> TightTree:
    """Trees are kept: the next weights on the same distances need few exchanges more."""
    return TightTree(bounds)
