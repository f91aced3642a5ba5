"""Lamps, motors, instruments and ignition parts: what draws current."""

from upgrade_planner.configuration.model import Component
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.loads import CurrentSink, Lamp
from upgrade_planner.electrical.states import Engine

LOAD_KNEE_V = 2.0
"""Below this voltage a motor draws like a resistor. [V] Source: our assumption."""


def lamp(part: Component, context: Context) -> list[Element]:
    """A filament, whose resistance rises with its voltage."""
    back = context.return_node(part)
    if back is None:
        return []
    ratings = part.ratings
    supply = context.node(part, "supply")
    return [Lamp(part.role, supply, back, ratings["power"], ratings["rated_voltage"])]


def load(part: Component, context: Context) -> list[Element]:
    """A resistance that takes its rated power at its rated voltage."""
    back = context.return_node(part)
    if back is None:
        return []
    ohms = part.ratings["rated_voltage"] ** 2 / part.ratings["power"]
    return [Resistor(part.role, context.node(part, "supply"), back, ohms)]


def motor(part: Component, context: Context) -> list[Element]:
    """Draws its running current through whichever of its feeds is live."""
    back = context.return_node(part)
    if back is None:
        return []
    elements: list[Element] = []
    for terminal in part.feed_terminals:
        plus, minus = context.live_and_return(context.node(part, terminal), back)
        amps = part.ratings["running_current"]
        elements.append(CurrentSink(f"{part.role}:{terminal}", plus, minus, amps, LOAD_KNEE_V))
    return elements


def coil(part: Component, context: Context) -> list[Element]:
    """Primary winding."""
    plus, minus = context.node(part, "positive"), context.node(part, "negative")
    return [Resistor(part.role, plus, minus, part.ratings["primary_resistance"])]


def points_distributor(part: Component, context: Context) -> list[Element]:
    """Closed points: the state in which most current flows; the condenser is open at DC."""
    back = context.return_node(part)
    if back is None:
        return []
    return [Resistor(part.role, context.node(part, "points"), back, assumed.POINTS_OHM)]


def integral_coil_distributor(part: Component, context: Context) -> list[Element]:
    """Mean supply current: small at rest, half its greatest while the engine turns."""
    back = context.return_node(part)
    if back is None:
        return []
    amps = assumed.UNIT_RESTING_A
    if context.state.engine is not Engine.STOPPED:
        amps = assumed.UNIT_DUTY_RATIO * part.ratings.get("maximum_current", 8.0)
    plus, minus = context.live_and_return(context.node(part, "supply"), back)
    return [CurrentSink(part.role, plus, minus, amps, assumed.UNIT_KNEE_V)]


def voltmeter(part: Component, context: Context) -> list[Element]:
    """Across the system."""
    ohms = part.ratings.get("resistance", assumed.METER_OHM)
    one, other = context.node(part, "supply"), context.node(part, "return")
    return [Resistor(part.role, one, other, ohms)]


def tachometer(part: Component, context: Context) -> list[Element]:
    """A signal input of high resistance and, if it has one, a supply."""
    back = context.return_node(part)
    if back is None:
        return []
    signal = context.node(part, "signal")
    elements: list[Element] = [Resistor(f"{part.role}:signal", signal, back, assumed.METER_OHM)]
    if part.terminal("supply") is not None:
        plus, minus = context.live_and_return(context.node(part, "supply"), back)
        amps = part.ratings.get("supply_current", 0.1)
        elements.append(CurrentSink(f"{part.role}:supply", plus, minus, amps, LOAD_KNEE_V))
    return elements


def gauge(part: Component, context: Context) -> list[Element]:
    """A movement between its supply and its sender, or ground if it has none."""
    ohms = part.ratings.get("resistance", assumed.GAUGE_OHM)
    far = context.node(part, "sender") if part.terminal("sender") else context.return_node(part)
    if far is None:
        return []
    return [Resistor(part.role, context.node(part, "supply"), far, ohms)]


def sender(part: Component, context: Context) -> list[Element]:
    """At the middle of its range."""
    back = context.return_node(part)
    if back is None:
        return []
    low = part.ratings.get("resistance_min", assumed.SENDER_OHM)
    high = part.ratings.get("resistance_max", low)
    ohms = max((low + high) / 2, assumed.CONTACT_OHM)
    return [Resistor(part.role, context.node(part, "signal"), back, ohms)]
