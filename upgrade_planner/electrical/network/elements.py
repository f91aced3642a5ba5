"""
Elements of a direct-current network: wires and contacts, batteries, diodes, regulated generators.

Each law is continuous, so that it can be made linear at any point. A conducting switch is a
`Resistor`; an open one is no element. Currents count from the first end to the second; a
`Source` or `Regulated` that feeds the network has a negative current.
"""

from upgrade_planner.attributes import frozen
from upgrade_planner.electrical.network.laws import (
    LEAST_RESISTANCE_OHM,
    Element,
    LawPiece,
    Node,
    require_at_least,
)
from upgrade_planner.electrical.network.unsolvable import UnusableElement


@frozen
class Resistor(Element):
    """
    A wire, contact, winding or load that follows Ohm's law.

    Attributes:
        a: First end.
        b: Second end.
        resistance_ohm: At working temperature. [Ω]

    Raises:
        UnusableElement: The resistance is below 0.1 mΩ.
    """

    a: Node
    b: Node
    resistance_ohm: float

    def __attrs_post_init__(self) -> None:
        require_at_least(LEAST_RESISTANCE_OHM, self.resistance_ohm, self, "resistance_ohm")

    @property
    def ends(self) -> tuple[Node, Node]:
        """Both ends."""
        return self.a, self.b

    @property
    def start_line(self) -> tuple[float, float]:
        """Its law."""
        return 0.0, 1.0 / self.resistance_ohm

    def law(self, across_v: float) -> tuple[float, float]:
        """I = V/R."""
        return across_v / self.resistance_ohm, 1.0 / self.resistance_ohm

    def piece(self, across_v: float) -> LawPiece:
        """Always ohmic."""
        return LawPiece.OHMIC


@frozen
class MeanSwitch(Resistor):
    """A contact that opens and closes all the time, as the resistance that passes its mean."""


@frozen
class WireResistor(Resistor):
    """
    A wire with its joints: two resistances in a row, one value, that stray apart.

    Attributes:
        joints_ohm: How much of `resistance_ohm` is that of the joints. [Ω]
    """

    joints_ohm: float

    def strayed(self, *, metal_ratio: float = 1.0, joints_ratio: float = 1.0) -> "WireResistor":
        """The wire with the resistance of its metal, or of its joints, multiplied."""
        metal_ohm = (self.resistance_ohm - self.joints_ohm) * metal_ratio
        joints_ohm = self.joints_ohm * joints_ratio
        ohms = max(metal_ohm + joints_ohm, LEAST_RESISTANCE_OHM)
        return WireResistor(self.name, self.a, self.b, ohms, joints_ohm)


PLAIN = frozenset((Resistor, WireResistor, MeanSwitch))
"""Elements that are nothing but a resistance."""


@frozen
class Source(Element):
    """
    A battery: electromotive force behind a resistance that differs between giving and taking.

    Attributes:
        plus: Positive post, the first end.
        minus: Negative post.
        emf_v: Voltage at no current. [V]
        resistance_ohm: Internal resistance while it discharges. [Ω]
        charging_resistance_ohm: Internal resistance while it is charged. [Ω]

    Raises:
        UnusableElement: A resistance is below 0.1 mΩ, or the voltage below zero.
    """

    plus: Node
    minus: Node
    emf_v: float
    resistance_ohm: float
    charging_resistance_ohm: float

    def __attrs_post_init__(self) -> None:
        require_at_least(0.0, self.emf_v, self, "emf_v")
        for field in ("resistance_ohm", "charging_resistance_ohm"):
            require_at_least(LEAST_RESISTANCE_OHM, getattr(self, field), self, field)

    @property
    def ends(self) -> tuple[Node, Node]:
        """Positive and negative post."""
        return self.plus, self.minus

    @property
    def is_active(self) -> bool:
        """Unless it is wholly flat."""
        return self.emf_v > 0.0

    @property
    def start_line(self) -> tuple[float, float]:
        """The line of a battery that discharges."""
        return -self.emf_v / self.resistance_ohm, 1.0 / self.resistance_ohm

    def law(self, across_v: float) -> tuple[float, float]:
        """I = (V - E)/R, with the resistance of the direction of the current."""
        excess_v = across_v - self.emf_v
        resistance_ohm = self.charging_resistance_ohm if excess_v > 0.0 else self.resistance_ohm
        return excess_v / resistance_ohm, 1.0 / resistance_ohm

    def piece(self, across_v: float) -> LawPiece:
        """Charging or discharging; a battery at rest counts as discharging."""
        return LawPiece.CHARGING if across_v > self.emf_v else LawPiece.DISCHARGING


@frozen
class Diode(Element):
    """
    A diode in two straight pieces.

    Attributes:
        anode: First end.
        cathode: Second end.
        forward_v: Voltage from which it conducts. [V]
        on_resistance_ohm: Slope of the conducting piece. [Ω]
        leakage_s: Conductance of the blocking piece; zero blocks wholly. [S]

    Raises:
        UnusableElement: A value is below zero, or the resistance below 0.1 mΩ.
    """

    anode: Node
    cathode: Node
    forward_v: float
    on_resistance_ohm: float
    leakage_s: float = 0.0

    def __attrs_post_init__(self) -> None:
        require_at_least(0.0, self.forward_v, self, "forward_v")
        require_at_least(LEAST_RESISTANCE_OHM, self.on_resistance_ohm, self, "on_resistance_ohm")
        require_at_least(0.0, self.leakage_s, self, "leakage_s")

    @property
    def ends(self) -> tuple[Node, Node]:
        """Anode and cathode."""
        return self.anode, self.cathode

    @property
    def start_line(self) -> tuple[float, float]:
        """The line of a diode that conducts: it gives every node a path."""
        slope_s = 1.0 / self.on_resistance_ohm
        return -self.forward_v * slope_s, slope_s

    def law(self, across_v: float) -> tuple[float, float]:
        """I = G V, plus (V - Vf)/R above Vf."""
        current_a = self.leakage_s * across_v
        if across_v < self.forward_v:
            return current_a, self.leakage_s
        slope_s = 1.0 / self.on_resistance_ohm
        return current_a + (across_v - self.forward_v) * slope_s, self.leakage_s + slope_s

    def piece(self, across_v: float) -> LawPiece:
        """Conducting or blocking."""
        return LawPiece.CONDUCTING if across_v > self.forward_v else LawPiece.BLOCKING


@frozen
class Regulated(Element):
    """
    A regulated generator: current from the voltage at its sensing leads, from nothing to a limit.

    I = (set point - sensed voltage)/droop, kept between 0 and the limit, delivered at plus.
    Sensing takes no current: a `Resistor` between the sensing nodes stands for what a real one
    takes, and pulls an open lead to zero. A lead at a node that nothing joins to the rest reads
    0 V.

    Attributes:
        plus: Output, the first end.
        minus: Return.
        sense_plus: Node of the sensing lead.
        sense_minus: Node the regulator compares it with.
        set_point_v: Sensed voltage at which the current reaches zero. [V]
        droop_ohm: Fall of the sensed voltage per ampere. [Ω]
        limit_a: Most it can deliver at its speed; 0 while it stands still. [A]

    Raises:
        UnusableElement: The droop is below 0.1 mΩ, another value below zero, or both sensing
            leads are at one node.
    """

    plus: Node
    minus: Node
    sense_plus: Node
    sense_minus: Node
    set_point_v: float
    droop_ohm: float
    limit_a: float

    def __attrs_post_init__(self) -> None:
        require_at_least(0.0, self.set_point_v, self, "set_point_v")
        require_at_least(LEAST_RESISTANCE_OHM, self.droop_ohm, self, "droop_ohm")
        require_at_least(0.0, self.limit_a, self, "limit_a")
        if self.sense_plus == self.sense_minus:
            found = f"both sensing leads at {self.sense_plus}"
            raise UnusableElement(self.name, found, "two nodes")

    @property
    def ends(self) -> tuple[Node, Node]:
        """Output and return."""
        return self.plus, self.minus

    @property
    def is_active(self) -> bool:
        """Unless it stands still."""
        return self.limit_a > 0.0

    @property
    def is_remote(self) -> bool:
        """Whether it senses elsewhere than at its own output and return."""
        return (self.sense_plus, self.sense_minus) != (self.plus, self.minus)

    @property
    def start_line(self) -> tuple[float, float]:
        """The line of a generator that regulates."""
        return -self.set_point_v / self.droop_ohm, 1.0 / self.droop_ohm

    def wanted_a(self, sensed_v: float) -> float:
        """Current that would bring the sensed voltage to what is regulated, without bounds. [A]"""
        return (self.set_point_v - sensed_v) / self.droop_ohm

    def delivered_a(self, sensed_v: float) -> float:
        """Current delivered at plus, for a voltage between the sensing leads. [A]"""
        return min(max(self.wanted_a(sensed_v), 0.0), self.limit_a)

    def law(self, across_v: float) -> tuple[float, float]:
        """The law of one that senses at its own ends; a voltage is then both cause and effect."""
        delivered_a = self.delivered_a(across_v)
        is_regulating = 0.0 < delivered_a < self.limit_a
        return -delivered_a, 1.0 / self.droop_ohm if is_regulating else 0.0

    def piece(self, across_v: float) -> LawPiece:
        """Idle, regulating or at limit, for a voltage between the sensing leads."""
        wanted_a = self.wanted_a(across_v)
        if wanted_a <= 0.0 or not self.is_active:
            return LawPiece.IDLE
        return LawPiece.AT_LIMIT if wanted_a >= self.limit_a else LawPiece.REGULATING
