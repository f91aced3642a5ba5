"""
How far real parts stray from their nominal values: one table, each line with its source.

A ratio holds for parts in good order on a mild day. Where a source gives a range in volts for a
12 V system, the ratio carries it over to other voltages (our assumption).
"""

from collections.abc import Callable, Iterable, Mapping

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Conductor, Configuration
from upgrade_planner.electrical.circuit import role_of, wire_name
from upgrade_planner.electrical.models.context import is_metal
from upgrade_planner.electrical.network.elements import (
    MeanSwitch,
    Regulated,
    Resistor,
    Source,
    WireResistor,
)
from upgrade_planner.electrical.network.laws import LEAST_RESISTANCE_OHM, Element
from upgrade_planner.electrical.network.loads import CurrentSink, Lamp

OURS = "our assumption"


class ElementOrigins:
    """What an element of the network stands for: a wire, a part of some kind, a mounting."""

    def __init__(self, configuration: Configuration) -> None:
        self._part = configuration.component_by_role
        self._families: dict[str, Family | None] = {}
        self._resistance_wires = {
            wire_name(wire.id)
            for wire in configuration.wires
            if wire.conductor is Conductor.RESISTANCE
        }

    def family(self, element: Element) -> Family | None:
        """Family of the part an element belongs to; None for wires."""
        name = element.name
        if name not in self._families:
            part = self._part.get(role_of(name))
            self._families[name] = None if part is None else part.family
        return self._families[name]

    def is_resistance_wire(self, element: Element) -> bool:
        """True for a wire that is not of copper."""
        return element.name in self._resistance_wires


Scaling = Callable[[Element, float, ElementOrigins], Element]


@frozen
class Tolerance:
    """
    One quantity that differs from vehicle to vehicle and from day to day.

    Attributes:
        name: In words.
        low: Smallest ratio to the nominal value. [1]
        high: Largest ratio. [1]
        source: Where the ratios come from.
        scaled: Gives an element with the quantity scaled; the same element if it has none.
        of: Classes of elements that may have it.
    """

    name: str
    low: float
    high: float
    source: str
    scaled: Scaling
    of: tuple[type[Element], ...] = (Element,)

    def ratios(self, width: float) -> tuple[float, float]:
        """Both ratios with their distance from 1 multiplied by a width."""
        return 1.0 + width * (self.low - 1.0), 1.0 + width * (self.high - 1.0)


def _ohms(element: Resistor, ohms: float) -> Resistor:
    return evolve(element, resistance_ohm=max(ohms, LEAST_RESISTANCE_OHM))


def _emf(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    return evolve(element, emf_v=element.emf_v * ratio) if isinstance(element, Source) else element


def _battery_ohms(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    if not isinstance(element, Source):
        return element
    both = (element.resistance_ohm, element.charging_resistance_ohm)
    ohms, charging = (max(value * ratio, LEAST_RESISTANCE_OHM) for value in both)
    return evolve(element, resistance_ohm=ohms, charging_resistance_ohm=charging)


def _copper(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    if not isinstance(element, WireResistor) or parts.is_resistance_wire(element):
        return element
    return element.strayed(metal_ratio=ratio)


def _joints(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    return element.strayed(joints_ratio=ratio) if isinstance(element, WireResistor) else element


def _resistance_wire(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    if isinstance(element, WireResistor) and parts.is_resistance_wire(element):
        return element.strayed(metal_ratio=ratio)
    return _resistors(Family.RESISTOR)(element, ratio, parts)


def _mountings(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    if isinstance(element, Resistor) and is_mounting(element):
        return _ohms(element, element.resistance_ohm * ratio)
    return element


def is_mounting(element: Element) -> bool:
    """True for the joint between a part and the metal it sits on."""
    return is_metal(element.ends[1])


def _resistors(*families: Family) -> Scaling:
    def scaled(element: Element, ratio: float, parts: ElementOrigins) -> Element:
        is_wire = isinstance(element, WireResistor)
        if is_wire or not isinstance(element, Resistor) or parts.family(element) not in families:
            return element
        if is_mounting(element) or isinstance(element, MeanSwitch):
            return element
        return _ohms(element, element.resistance_ohm * ratio)

    return scaled


def _chopping(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    if isinstance(element, MeanSwitch):
        return _ohms(element, element.resistance_ohm * ratio)
    return element


def _set_point(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    if isinstance(element, Regulated):
        return evolve(element, set_point_v=element.set_point_v * ratio)
    return element


def _output(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    if isinstance(element, Regulated):
        return evolve(element, limit_a=element.limit_a * ratio)
    return element


def _loads(element: Element, ratio: float, parts: ElementOrigins) -> Element:
    if isinstance(element, Lamp):
        return evolve(element, power_w=element.power_w * ratio)
    if isinstance(element, CurrentSink) and parts.family(element) is Family.MOTOR:
        return evolve(element, current_a=element.current_a * ratio)
    if isinstance(element, Resistor) and parts.family(element) is Family.LOAD:
        return _ohms(element, element.resistance_ohm / ratio)
    return element


def _currents(*families: Family) -> Scaling:
    def scaled(element: Element, ratio: float, parts: ElementOrigins) -> Element:
        if isinstance(element, CurrentSink) and parts.family(element) in families:
            return evolve(element, current_a=element.current_a * ratio)
        return element

    return scaled


_CONTACTS = _resistors(Family.SWITCH, Family.RELAY, Family.PROTECTION, Family.AMMETER)

TOLERANCES = (
    Tolerance(
        "battery EMF, 12.4 to 12.8 V for 12.6 V",
        12.4 / 12.6,
        12.8 / 12.6,
        f"low: TM 5-3805-262-20 p. 5-142, 75 % charge; high: {OURS}",
        _emf,
        (Source,),
    ),
    Tolerance(
        "internal resistance of the battery, by age and cold",
        0.7,
        1.5,
        OURS,
        _battery_ohms,
        (Source,),
    ),
    Tolerance("length of the wires", 0.9, 1.1, OURS, _copper, (WireResistor,)),
    Tolerance(
        "wires 45 K colder than the air of hard use",
        0.82,
        1.0,
        "temperature coefficient of copper 0.0039 per K; 45 K: our assumption",
        _copper,
        (WireResistor,),
    ),
    Tolerance("joints and connector blades", 0.2, 2.0, OURS, _joints, (WireResistor,)),
    Tolerance("mountings on metal", 0.2, 2.0, OURS, _mountings, (Resistor,)),
    Tolerance("contacts of switches and fuses", 0.5, 2.0, OURS, _CONTACTS, (Resistor,)),
    Tolerance(
        "breaker points",
        0.3,
        2.0,
        f"low: clean tungsten, see the assumptions; high: {OURS}",
        _resistors(Family.POINTS),
        (Resistor,),
    ),
    Tolerance(
        "dwell, engine speed and inductance: mean of what is chopped",
        0.75,
        1.35,
        OURS,
        _chopping,
        (MeanSwitch,),
    ),
    Tolerance(
        "solenoid: windings and contacts",
        0.8,
        1.2,
        OURS,
        _resistors(Family.STARTER, Family.STARTER_RELAY),
        (Resistor,),
    ),
    Tolerance(
        "coil primary, by make and warmth",
        0.9,
        1.1,
        OURS,
        _resistors(Family.COIL, Family.COIL_PACK),
        (Resistor,),
    ),
    Tolerance("ballast resistor, resistance wires", 0.9, 1.1, OURS, _resistance_wire, (Resistor,)),
    Tolerance(
        "regulator set point, 13.9 to 14.7 V for 14.2 V",
        13.9 / 14.2,
        14.7 / 14.2,
        "TM 10-3930-621-12, regulator test",
        _set_point,
        (Regulated,),
    ),
    Tolerance("most output at that engine speed", 0.8, 1.1, OURS, _output, (Regulated,)),
    Tolerance(
        "power of lamps, motors and heaters",
        0.9,
        1.1,
        OURS,
        _loads,
        (
            Lamp,
            CurrentSink,
            Resistor,
        ),
    ),
    Tolerance(
        "cranking current, by oil and warmth",
        0.7,
        1.4,
        OURS,
        _currents(Family.STARTER),
        (CurrentSink,),
    ),
    Tolerance(
        "current of the ignition unit",
        0.7,
        1.3,
        OURS,
        _currents(Family.IGNITION_UNIT),
        (CurrentSink,),
    ),
    Tolerance(
        "gauges and senders, by what they show",
        0.5,
        2.0,
        OURS,
        _resistors(Family.GAUGE, Family.SENDER),
        (Resistor,),
    ),
)


def elements_strayed(
    elements: Iterable[Element], tolerance: Tolerance, ratio: float, parts: ElementOrigins
) -> Mapping[str, Element]:
    """The elements that have one quantity, with that scaled, by their names."""
    strayed = {}
    for element in elements:
        if isinstance(element, tolerance.of):
            after = tolerance.scaled(element, ratio, parts)
            if after is not element:
                strayed[element.name] = after
    return strayed
