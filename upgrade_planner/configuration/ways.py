"""Places of a vehicle, the routes between them, and the way a wire takes along them."""

from enum import StrEnum
from functools import cached_property

from upgrade_planner.attributes import frozen


class Covering(StrEnum):
    """How the wires of a route are held and covered."""

    EXPOSED = "exposed"
    SLEEVE = "sleeve"
    LOOM = "taped loom"


@frozen(kw_only=True)
class Place:
    """
    Somewhere on the vehicle where parts sit.

    Attributes:
        space: `engine`, `cabin` or `outside`: decides the surroundings of wires and the tools.
        metal: The mass that a part grounded by its case touches: `engine`, `body`, `frame` or "".
        walk: Position in a walk round the vehicle; smaller first.
        along: Where it lies from front (0) to rear (1); None if the profile does not say.
        across: Where it lies from left (-1) to right (1), looking forward; None likewise.
    """

    id: str
    name: str
    space: str
    metal: str = ""
    walk: int = 0
    along: float | None = None
    across: float | None = None


@frozen(kw_only=True)
class Route:
    """
    A run that wires can take between two places.

    Attributes:
        length_m: Length along the run. [m]
        ambient_c: Air temperature beside it in hard use. [°C]
        through: Role of the connector that every wire of this run passes, or "".
    """

    start: str
    end: str
    length_m: float
    covering: Covering
    loom: str = ""
    ambient_c: float
    through: str = ""


@frozen(kw_only=True)
class Run:
    """
    The way one wire takes.

    Attributes:
        length_m: Length of the conductor, slack included. [m]
        measured: True if the length was measured on the vehicle.
        routes: The routes it follows, from the wire's start to its end.
        before_connector_m: Length from the wire's start to the connector it passes, if any. [m]
    """

    length_m: float
    measured: bool
    routes: tuple[Route, ...]
    before_connector_m: float | None = None

    @property
    def connectors(self) -> tuple[str, ...]:
        """Roles of the connectors passed on the way."""
        return tuple(route.through for route in self.routes if route.through)

    @property
    def in_loom(self) -> bool:
        """True if any part of it lies in a taped loom."""
        return any(route.covering is Covering.LOOM for route in self.routes)

    @property
    def looms(self) -> tuple[str, ...]:
        """Names of the looms on the way, each once."""
        return tuple(dict.fromkeys(route.loom for route in self.routes if route.loom))

    @cached_property
    def ambient_c(self) -> float:
        """Highest air temperature on the way. [°C]"""
        return max((route.ambient_c for route in self.routes), default=30.0)
