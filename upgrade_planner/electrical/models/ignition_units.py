"""Trigger modules, capacitor-discharge units, controllers and pick-ups."""

from upgrade_planner.configuration.model import Component
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.consumers import LOAD_KNEE_V
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.loads import CurrentSink
from upgrade_planner.electrical.states import Engine

SWITCH_OHM = 0.2
"""Closed switching transistor of a module. [Ω] Source: our assumption: 1 V at 5 A."""

PICK_UP_OHM = 800.0
"""Winding of a magnetic pick-up, where the profile gives none. [Ω] Source: our assumption."""

UNIT_LIMIT_A = 8.0
"""Greatest coil current of a controller whose profile gives none. [A] Source: our assumption, as
for an integral-coil distributor."""

TRIGGER_OHM = 24.0
"""Resistance from which points that only trigger a unit are fed. [Ω] Source: US Army TM 9-8000,
1985, p. 15-11: 0.5 A through points that trigger a transistor amplifier; at 12 V."""

TACHOMETER_LOOP_OHM = 0.02
"""Loop of a tachometer that senses the coil current. [Ω] Source: our assumption: a few turns of
thick wire, which must not weaken the spark."""


def pick_up(part: Component, context: Context) -> list[Element]:
    """The resistance of its winding; also of a distributor that holds nothing but the pick-up."""
    ohms = part.ratings.get("resistance", PICK_UP_OHM)
    plus, minus = context.node(part, "plus"), context.node(part, "minus")
    return [Resistor(part.role, plus, minus, ohms)]


def ignition_module(part: Component, context: Context) -> list[Element]:
    """Its supply current, and its transistor closed; also a distributor with the module inside."""
    back = context.return_node(part)
    if back is None:
        return []
    return [
        _supply(part, "supply", back, context),
        Resistor(part.role, context.node(part, "coil"), back, SWITCH_OHM),
        *_trigger_inputs(part, back, context),
    ]


def ignition_controller(part: Component, context: Context) -> list[Element]:
    """
    Its own supply current; while the engine turns, the mean current of all coils of the pack.

    The coils draw one after the other, so together as much as one unit; with the engine stopped
    the controller lets none of them draw.
    """
    back = context.node(part, "ground")
    drives = [t.name for t in part.terminals if t.name.startswith("drive_")]
    elements = [_supply(part, "supply", back, context), *_trigger_inputs(part, back, context)]
    works = context.state.engine is not Engine.STOPPED
    amps = assumed.UNIT_DUTY_RATIO * part.ratings.get("maximum_current", UNIT_LIMIT_A)
    for name in drives:
        drive = context.node(part, name)
        if works:
            plus, minus = context.live_and_return(drive, back)
            share = amps / len(drives)
            elements.append(
                CurrentSink(f"{part.role}:{name}", plus, minus, share, assumed.UNIT_KNEE_V)
            )
        else:
            elements.append(Resistor(f"{part.role}:{name}", drive, back, assumed.METER_OHM))
    return elements


def coil_pack(part: Component, context: Context) -> list[Element]:
    """One primary winding between the supply and each drive."""
    supply, ohms = context.node(part, "supply"), part.ratings["primary_resistance"]
    return [
        Resistor(f"{part.role}:{t.name}", supply, context.node(part, t.name), ohms)
        for t in part.terminals
        if t.name.startswith("primary_")
    ]


def capacitor_discharge_unit(part: Component, context: Context) -> list[Element]:
    """
    Draws from its heavy pair while the engine turns with the key on; a little at rest.

    Its coil outputs are pulses, zero at direct current; the coil's negative lead ends at the
    unit's return. Closed points draw the trigger current out of the switched lead.
    """
    plus, back = context.node(part, "battery_positive"), context.node(part, "battery_negative")
    works = context.state.key in ("run", "start") and context.state.engine is not Engine.STOPPED
    amps = part.ratings["supply_current"] if works else 0.0
    elements = [
        _switched(part, context),
        Resistor(f"{part.role}:coil", context.node(part, "coil_negative"), back, SWITCH_OHM),
        *_trigger_inputs(part, back, context),
    ]
    if part.terminal("points") is not None:
        switched, points = context.node(part, "switched"), context.node(part, "points")
        elements.append(Resistor(f"{part.role}:points", switched, points, TRIGGER_OHM))
    if amps:
        elements.append(CurrentSink(part.role, plus, back, amps, assumed.UNIT_KNEE_V))
    return elements


def tachometer_current_sensing(part: Component, context: Context) -> list[Element]:
    """A loop of a few turns in the coil's feed and, if it has one, a supply."""
    ohms = part.ratings.get("resistance", TACHOMETER_LOOP_OHM)
    one, other = context.node(part, "in"), context.node(part, "out")
    elements: list[Element] = [Resistor(part.role, one, other, ohms)]
    back = context.return_node(part)
    if back is not None and part.terminal("supply") is not None:
        plus, minus = context.live_and_return(context.node(part, "supply"), back)
        amps = part.ratings.get("supply_current", 0.1)
        elements.append(CurrentSink(f"{part.role}:supply", plus, minus, amps, LOAD_KNEE_V))
    return elements


def _supply(part: Component, terminal: str, back: str, context: Context) -> Element:
    """What the electronics draw for themselves."""
    plus, minus = context.live_and_return(context.node(part, terminal), back)
    amps = part.ratings.get("supply_current", assumed.UNIT_RESTING_A)
    return CurrentSink(f"{part.role}:{terminal}", plus, minus, amps, LOAD_KNEE_V)


def _switched(part: Component, context: Context) -> Element:
    """The lead by which the key wakes a unit; its current returns through the other heavy lead."""
    back = "battery_negative" if context.is_negative_ground else "battery_positive"
    live, other = context.node(part, "switched"), context.node(part, back)
    plus, minus = context.live_and_return(live, other)
    return CurrentSink(f"{part.role}:switched", plus, minus, assumed.UNIT_RESTING_A, LOAD_KNEE_V)


def _trigger_inputs(part: Component, back: str, context: Context) -> list[Element]:
    """Inputs of high resistance for a pick-up."""
    return [
        Resistor(f"{part.role}:{name}", context.node(part, name), back, assumed.METER_OHM)
        for name in ("trigger_plus", "trigger_minus")
        if part.terminal(name) is not None
    ]
