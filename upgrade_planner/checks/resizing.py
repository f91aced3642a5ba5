"""The sizes that would do, for rules on drop, heat and protection; and the states they judge by."""

from collections.abc import Callable

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Remedy
from upgrade_planner.configuration.edits import Resize
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.configuration.values.sizes import WireSize, sizes_in
from upgrade_planner.electrical.lasting_current import lasting_current
from upgrade_planner.electrical.models.context import ref_of
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import Engine

SHORT_A = 300.0
"""A battery that gives more, and not to its starter, is short-circuited. [A] Source: our
assumption."""


def calm_points(examined: Examined) -> list[OperatingPoint]:
    """Points without a short circuit: there, every wire on its way would be named."""
    battery = ref_of(examined.ways.live).role
    return [p for p in examined.points.values() if -p.element_current_a(battery) < SHORT_A]


def cranks(point: OperatingPoint) -> bool:
    """True while the starter turns, which is too short to heat a wire."""
    return point.state.engine is Engine.CRANKING


def smallest_size(
    configuration: Configuration, does: Callable[[WireSize], bool]
) -> WireSize | None:
    """The smallest size of the vehicle's system that does."""
    sizes = sizes_in(configuration.vehicle.size_system)
    return next((size for size in sizes if does(size)), None)


def size_that_would_do(
    wire: Wire, current_a: float, configuration: Configuration
) -> WireSize | None:
    """The smallest standard size of the vehicle's system that may carry a current for good."""
    return smallest_size(
        configuration, lambda item: lasting_current(wire, configuration, item)[0] >= current_a
    )


def remedy_of_size(code: str, wire: Wire, size: WireSize) -> Remedy:
    """The remedy that gives a wire a size."""
    return Remedy(code, {"size": size}, edits=(Resize(wire.id, size),))
