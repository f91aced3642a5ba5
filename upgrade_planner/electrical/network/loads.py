"""
Loads of a direct-current network that do not follow Ohm's law: constant current or power, lamps.
"""

import math
from functools import cached_property

from upgrade_planner.attributes import frozen
from upgrade_planner.electrical.network.laws import (
    NOMINAL_V,
    Element,
    LawPiece,
    Node,
    require_above,
    require_at_least,
)
from upgrade_planner.electrical.network.unsolvable import UnusableElement

# A load without feed rests at zero volts, give or take rounding; that does not reverse it. [V]
AT_REST_V = 1e-9
# Rounding itself is smaller; the kink of a law counts as passed from here on. [V]
ROUNDING_V = 1e-17
# Exponent of a vacuum or gas-filled tungsten lamp's current over voltage.
# Source: common practice, a rule of thumb for incandescent lamps.
LAMP_EXPONENT = 0.55
# Below this share of its rated voltage a lamp counts as cold and ohmic. At exponent 0.55 the
# resistance there is 0.083 of that at rated voltage: a cold filament has a tenth to a fifteenth.
# Source: our assumption; the ratio of cold to hot resistance is common practice.
LAMP_COLD_RATIO = 0.004


@frozen
class CurrentSink(Element):
    """
    A load that takes a constant current, in proportion to the voltage below a small knee.

    It never drives current from nothing. Reversed, it takes nothing, unless it is symmetric.

    Attributes:
        a: End the current enters by.
        b: End it leaves by.
        current_a: Current above the knee. [A]
        knee_v: Voltage from which the current is constant. [V]
        is_symmetric: Whether a reversed voltage drives the same current the other way.

    Raises:
        UnusableElement: The current is below zero, or the knee not above it.
    """

    a: Node
    b: Node
    current_a: float
    knee_v: float
    is_symmetric: bool = False

    def __attrs_post_init__(self) -> None:
        require_at_least(0.0, self.current_a, self, "current_a")
        require_above(0.0, self.knee_v, self, "knee_v")

    @property
    def ends(self) -> tuple[Node, Node]:
        """Both ends, the one that takes the current first."""
        return self.a, self.b

    @property
    def start_line(self) -> tuple[float, float]:
        """As a resistance that takes the current at nominal voltage."""
        return 0.0, self.current_a / max(self.knee_v, NOMINAL_V)

    def law(self, across_v: float) -> tuple[float, float]:
        """I = I0 min(V/Vk, 1) for V above zero."""
        if across_v >= self.knee_v:
            return self.current_a, 0.0
        slope_s = self.current_a / self.knee_v
        if self.is_symmetric:
            is_below_knee = across_v > -self.knee_v
            return (slope_s * across_v, slope_s) if is_below_knee else (-self.current_a, 0.0)
        return slope_s * max(across_v, 0.0), (slope_s if across_v >= -ROUNDING_V else 0.0)

    def piece(self, across_v: float) -> LawPiece:
        """Constant, starved below the knee, or reversed."""
        if across_v < -AT_REST_V:
            return LawPiece.REVERSED
        return LawPiece.CONSTANT if across_v >= self.knee_v else LawPiece.STARVED


@frozen
class PowerSink(Element):
    """
    A load that takes constant power down to a lowest voltage, and is ohmic below it.

    The current rises while the voltage falls; two working points may satisfy a weak feed. The one
    of the higher voltage is found. Reversed, it takes nothing.

    Attributes:
        a: End the current enters by.
        b: End it leaves by.
        power_w: Power from lowest_v upwards. [W]
        rated_v: Voltage it is made for. [V]
        lowest_v: Lowest voltage at which it draws its power. [V]

    Raises:
        UnusableElement: The power is below zero, or not 0 < lowest_v <= rated_v.
    """

    a: Node
    b: Node
    power_w: float
    rated_v: float
    lowest_v: float

    def __attrs_post_init__(self) -> None:
        require_at_least(0.0, self.power_w, self, "power_w")
        require_above(0.0, self.lowest_v, self, "lowest_v")
        require_at_least(self.lowest_v, self.rated_v, self, "rated_v")

    @property
    def ends(self) -> tuple[Node, Node]:
        """Both ends, the one that takes the current first."""
        return self.a, self.b

    @property
    def start_line(self) -> tuple[float, float]:
        """Without current: from there the search comes down on the higher of two voltages."""
        return 0.0, 0.0

    def law(self, across_v: float) -> tuple[float, float]:
        """I = P/V, or P V/Vl² below the lowest voltage Vl."""
        if across_v >= self.lowest_v:
            current_a = self.power_w / across_v
            return current_a, -current_a / across_v
        slope_s = self.power_w / self.lowest_v**2
        return slope_s * max(across_v, 0.0), (slope_s if across_v >= -ROUNDING_V else 0.0)

    def piece(self, across_v: float) -> LawPiece:
        """Constant power, starved below the lowest voltage, or reversed."""
        if across_v < -AT_REST_V:
            return LawPiece.REVERSED
        return LawPiece.CONSTANT if across_v >= self.lowest_v else LawPiece.STARVED


@frozen
class Lamp(Element):
    """
    An incandescent lamp: the hotter, the more resistance.

    Attributes:
        a: First end.
        b: Second end.
        power_w: Power at rated voltage. [W]
        rated_v: Voltage of that power. [V]
        exponent: Of current over voltage, above 0 and up to 1.

    Raises:
        UnusableElement: A value is not above zero, or the exponent above 1.

    Source:
        I = (P/V0)(V/V0)^0.55: common practice, a rule of thumb for tungsten filaments.
    """

    a: Node
    b: Node
    power_w: float
    rated_v: float
    exponent: float = LAMP_EXPONENT

    def __attrs_post_init__(self) -> None:
        for field in ("power_w", "rated_v", "exponent"):
            require_above(0.0, getattr(self, field), self, field)
        if self.exponent > 1.0:
            raise UnusableElement(self.name, f"exponent {self.exponent:g}", "at most 1")

    @property
    def ends(self) -> tuple[Node, Node]:
        """Both ends."""
        return self.a, self.b

    @property
    def start_line(self) -> tuple[float, float]:
        """As a resistance that takes the power at rated voltage."""
        return 0.0, self.power_w / self.rated_v**2

    @cached_property
    def cold_v(self) -> float:
        """Voltage below which the filament stays cold and ohmic. [V]"""
        return LAMP_COLD_RATIO * self.rated_v

    @cached_property
    def cold_s(self) -> float:
        """Conductance of the cold filament. [S]"""
        return self._size_a(self.cold_v) / self.cold_v

    def _size_a(self, size_v: float) -> float:
        share: float = (size_v / self.rated_v) ** self.exponent
        return self.power_w / self.rated_v * share

    def law(self, across_v: float) -> tuple[float, float]:
        """I = (P/V0)(|V|/V0)^n with the sign of V; ohmic while cold."""
        size_v = abs(across_v)
        if size_v <= self.cold_v:
            return self.cold_s * across_v, self.cold_s
        current_a = self._size_a(size_v)
        return math.copysign(current_a, across_v), self.exponent * (current_a / size_v)

    def piece(self, across_v: float) -> LawPiece:
        """Glowing, or cold near zero."""
        return LawPiece.COLD if abs(across_v) <= self.cold_v else LawPiece.GLOWING
