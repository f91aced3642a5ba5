"""A configuration under examination: its wiring, and what the electricity does in every state."""

from collections.abc import Mapping
from functools import cached_property

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.feed_ways import FeedWays
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import OperatingPoint, operating_points
from upgrade_planner.electrical.short_circuit import Feed, feeds


@frozen(kw_only=True, eq=False)
class Examined:
    """
    What every rule is given; operating points are computed once, when a rule first asks.

    A network that cannot be solved leaves `points` empty and says why in `not_solved`; a rule that
    needs a state then stays silent, and one rule of `power` reports it.
    """

    configuration: Configuration

    @cached_property
    def _computed(self) -> tuple[Mapping[str, OperatingPoint], str]:
        try:
            return operating_points(self.configuration), ""
        except NetworkError as error:
            return {}, str(error)

    @property
    def points(self) -> Mapping[str, OperatingPoint]:
        """Operating points by state name; empty if the network cannot be solved."""
        return self._computed[0]

    @property
    def not_solved(self) -> str:
        """Why there are no operating points, or ""."""
        return self._computed[1]

    @cached_property
    def ways(self) -> FeedWays:
        """The ways that battery current can take, with every switch closed."""
        return FeedWays(self.configuration)

    @cached_property
    def feeds(self) -> tuple[Feed, ...]:
        """Every wire that the battery can feed, by the least guarded way; not the returns."""
        return tuple(feeds(self.configuration))

    @cached_property
    def warmest_c(self) -> Mapping[str, float]:
        """Highest temperature of each wire over all states, by id; empty if not solved. [°C]"""
        found: dict[str, float] = {}
        for point in self.points.values():
            for wire_id, temperature_c in point.temperature_c.items():
                found[wire_id] = max(found.get(wire_id, temperature_c), temperature_c)
        return found
