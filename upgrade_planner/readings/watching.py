"""Operating points with elements changed, as far as readings see them."""

from collections.abc import Iterable
from functools import lru_cache

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.electrical.network.condensed import Watched
from upgrade_planner.electrical.network.elements import Regulated
from upgrade_planner.electrical.network.laws import Node
from upgrade_planner.electrical.operating_points import KEPT_POINTS, OperatingPoint
from upgrade_planner.readings.points import PlacedReading


def seen_by(readings: Iterable[PlacedReading], point: OperatingPoint) -> Watched:
    """
    An operating point as some readings see it, kept for whoever asks next.

    Watched are their probes and all sensing leads, where a voltage matters although no current may
    flow; and the current of starters, which tells whether they turn.
    """
    nodes: set[Node] = {node for at in readings for node in (at.live.node, at.ground.node)}
    for element in point.solution.network.elements:
        if isinstance(element, Regulated):
            nodes |= {element.sense_plus, element.sense_minus}
    return _watched(point, frozenset(nodes))


@lru_cache(maxsize=KEPT_POINTS)
def _watched(point: OperatingPoint, nodes: frozenset[Node]) -> Watched:
    return Watched(point.solution, nodes, starters_of(point))


def starters_of(point: OperatingPoint) -> list[str]:
    """Names of the elements that stand for starters."""
    return [part.role for part in point.configuration.parts_of(Family.STARTER)]
