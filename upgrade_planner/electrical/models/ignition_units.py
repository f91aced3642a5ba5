"""Trigger modules, capacitor-discharge units, pick-ups, condensers and diodes."""

from upgrade_planner.configuration.model import Component
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.models.loads import LOAD_KNEE_V
from upgrade_planner.electrical.network.elements import Diode, Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.loads import CurrentSink
from upgrade_planner.electrical.states import Engine

DIODE_V, DIODE_OHM = 0.7, 0.05
"""Forward voltage and slope of a silicon diode where the profile gives none. Source: our
assumption; the usual textbook value."""

SWITCH_OHM = 0.2
"""Closed switching transistor of a module. [Ω] Source: our assumption: 1 V at 5 A."""

PICK_UP_OHM = 800.0
"""Winding of a magnetic pick-up, where the profile gives none. [Ω] Source: our assumption."""


def diode(part: Component, context: Context) -> list[Element]:
    """Conducts from anode to cathode."""
    forward = part.ratings.get("forward_voltage", DIODE_V)
    anode, cathode = context.node(part, "anode"), context.node(part, "cathode")
    return [Diode(part.role, anode, cathode, forward, DIODE_OHM)]


def condenser(part: Component, context: Context) -> list[Element]:
    """Open at direct current."""
    return []


def pick_up(part: Component, context: Context) -> list[Element]:
    """The resistance of its winding."""
    ohms = part.ratings.get("resistance", PICK_UP_OHM)
    plus, minus = context.node(part, "plus"), context.node(part, "minus")
    return [Resistor(part.role, plus, minus, ohms)]


def ignition_module(part: Component, context: Context) -> list[Element]:
    """Its own supply current, and its transistor closed: the state of most coil current."""
    back = context.return_node(part)
    if back is None:
        return []
    amps = part.ratings.get("supply_current", assumed.UNIT_RESTING_A)
    plus, minus = context.live_and_return(context.node(part, "supply"), back)
    coil = context.node(part, "coil")
    return [
        CurrentSink(f"{part.role}:supply", plus, minus, amps, LOAD_KNEE_V),
        Resistor(part.role, coil, back, SWITCH_OHM),
    ]


def capacitor_discharge_unit(part: Component, context: Context) -> list[Element]:
    """Draws from its heavy pair while the engine turns with the key on; a little at rest."""
    plus = context.node(part, "battery_positive")
    minus = context.node(part, "battery_negative")
    works = context.state.key in ("run", "start") and context.state.engine is not Engine.STOPPED
    amps = part.ratings["supply_current"] if works else 0.0
    elements: list[Element] = [
        CurrentSink(f"{part.role}:switched", context.node(part, "switched"), minus,
                    assumed.UNIT_RESTING_A, LOAD_KNEE_V)
    ]  # fmt: skip
    if amps:
        elements.append(CurrentSink(part.role, plus, minus, amps, assumed.UNIT_KNEE_V))
    return elements
