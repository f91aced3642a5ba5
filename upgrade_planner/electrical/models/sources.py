"""Battery, alternators, dynamo and their regulators."""

from upgrade_planner.configuration.model import Component, TerminalRef
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.network.elements import (
    Diode,
    Regulated,
    Resistor,
    Source,
)
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.states import Engine

EXCITER_DROP_V = 1.0
"""Drop of the field transistor and brushes while the lamp excites the field. [V]
Source: our assumption."""


def battery(part: Component, context: Context) -> list[Element]:
    """EMF behind an internal resistance; a greater one while it takes charge."""
    ohms = part.ratings["internal_resistance"]
    capacity = part.ratings.get("capacity", assumed.BATTERY_AH)
    return [
        Source(
            part.role,
            context.node(part, "positive"),
            context.node(part, "negative"),
            part.ratings["emf"],
            ohms,
            max(ohms, assumed.CHARGING_OHM_AH / capacity),
        )
    ]


def _delivers(part: Component, output: str, context: Context) -> bool:
    """
    True if a machine turns and its output carries a wire.

    Without a wire its voltage climbs until something in it gives way; that is not computed.
    """
    return context.is_generating and context.is_wired(TerminalRef(part.role, output))


def output_limit_a(part: Component, engine: Engine) -> float:
    """Most that a machine delivers at the speed of a state. [A]"""
    rated = float(part.ratings["rated_output"])
    if engine is Engine.RUNNING:
        return rated
    return float(part.ratings.get("idle_output", rated * assumed.IDLE_RATIO))


def alternator_internal_regulator(part: Component, context: Context) -> list[Element]:
    """
    Regulates the voltage at its sense terminal, or at its output if it has none that is wired.

    Stopped, the lamp terminal feeds the field; turning, it stands at the machine's own voltage.
    """
    back = context.return_node(part)
    if back is None:
        return []
    elements: list[Element] = []
    has_lamp = part.terminal("lamp") is not None
    if not context.is_generating:
        return [_exciter(part, context, back)] if has_lamp else []
    sense = TerminalRef(part.role, "sense")
    watched = "sense" if part.terminal("sense") and context.is_wired(sense) else "output"
    if _delivers(part, "output", context):
        elements.append(
            _regulated(
                part.role,
                context,
                context.node(part, "output"),
                back,
                (context.node(part, watched), back),
                part.ratings["set_point"],
                output_limit_a(part, context.state.engine),
            )
        )
    if has_lamp:
        elements.append(_lamp_supply(part, context, back, part.ratings["set_point"]))
    return elements


def alternator_external_regulator(part: Component, context: Context) -> list[Element]:
    """Delivers what its external regulator asks for; without one, or without field, nothing."""
    back = context.return_node(part)
    if back is None:
        return []
    field = part.ratings.get("field_resistance", assumed.COIL_FIELD_OHM)
    elements: list[Element] = [
        Resistor(f"{part.role}:field", context.node(part, "field"), back, field)
    ]
    regulator = _regulator_of(part, context)
    if regulator is None or not _delivers(part, "output", context):
        return elements
    watched = (context.node(regulator, "supply"), context.return_node(regulator) or back)
    set_point = regulator.ratings["set_point"]
    limit = output_limit_a(part, context.state.engine)
    output = context.node(part, "output")
    elements.append(_regulated(part.role, context, output, back, watched, set_point, limit))
    if part.terminal("field_relay") is not None:
        tap = context.node(part, "field_relay")
        elements.append(
            _regulated(
                f"{part.role}:tap", context, tap, back, (tap, back), set_point / 2,
                assumed.TRIO_LIMIT_A,
            )
        )  # fmt: skip
    return elements


def dynamo(part: Component, context: Context) -> list[Element]:
    """Delivers at its armature what the voltage unit of its regulator asks for."""
    back = context.return_node(part)
    if back is None:
        return []
    field = part.ratings.get("field_resistance", assumed.COIL_FIELD_OHM)
    armature = context.node(part, "armature")
    elements: list[Element] = [
        Resistor(f"{part.role}:field", context.node(part, "field"), back, field)
    ]
    regulator = _regulator_of(part, context)
    if regulator is not None and _delivers(part, "armature", context):
        limit = output_limit_a(part, context.state.engine)
        limit = min(limit, regulator.ratings.get("current_limit", limit))
        set_point = regulator.ratings["set_point"]
        elements.append(
            _regulated(part.role, context, armature, back, (armature, back), set_point, limit)
        )
    return elements


def regulator_electromechanical(part: Component, context: Context) -> list[Element]:
    """
    Field relay, voltage unit and, for a dynamo, the cut-out.

    Relay open: the lamp terminal feeds the field. Relay closed: supply, lamp terminal and field
    are joined, which puts the lamp out.
    """
    back = context.return_node(part)
    has = {terminal.name for terminal in part.terminals}
    elements: list[Element] = []
    if "armature" in has:
        plus, minus = context.live_and_return(
            context.node(part, "armature"), context.node(part, "supply")
        )
        elements.append(Diode(f"{part.role}:cut-out", plus, minus, 0.0, assumed.CONTACT_OHM))
    if "field_relay" in has and back is not None:
        relay = context.node(part, "field_relay")
        elements.append(Resistor(f"{part.role}:relay coil", relay, back, assumed.RELAY_COIL_OHM))
    field = context.node(part, "field")
    if context.is_generating:
        supply = context.node(part, "armature" if "armature" in has else "supply")
        elements.append(Resistor(f"{part.role}:field drive", supply, field, assumed.COIL_FIELD_OHM))
        if "lamp" in has:
            lamp = context.node(part, "lamp")
            elements.append(
                Resistor(f"{part.role}:relay contact", supply, lamp, assumed.CONTACT_OHM)
            )
    elif "lamp" in has:
        lamp = context.node(part, "lamp")
        elements.append(Resistor(f"{part.role}:rest contact", lamp, field, assumed.CONTACT_OHM))
    return elements


def _regulator_of(machine: Component, context: Context) -> Component | None:
    """The external regulator whose field terminal is wired to this machine's."""
    field = TerminalRef(machine.role, "field")
    for regulator in context.of_kind("regulator_electromechanical"):
        if context.are_joined(TerminalRef(regulator.role, "field"), field):
            return regulator
    return None


def _exciter(part: Component, context: Context, back: str) -> Element:
    ohms = part.ratings.get("field_resistance", assumed.COIL_FIELD_OHM)
    plus, minus = context.live_and_return(context.node(part, "lamp"), back)
    return Diode(f"{part.role}:exciter", plus, minus, EXCITER_DROP_V, ohms)


def _lamp_supply(part: Component, context: Context, back: str, set_point_v: float) -> Element:
    lamp = context.node(part, "lamp")
    return _regulated(
        f"{part.role}:lamp terminal", context, lamp, back, (lamp, back), set_point_v,
        assumed.TRIO_LIMIT_A,
    )  # fmt: skip


def _regulated(
    name: str,
    context: Context,
    live: str,
    back: str,
    watched: tuple[str, str],
    set_point_v: float,
    limit_a: float,
) -> Element:
    plus, minus = context.live_and_return(live, back)
    sense_plus, sense_minus = context.live_and_return(*watched)
    return Regulated(
        name, plus, minus, sense_plus, sense_minus, set_point_v, assumed.DROOP_OHM, limit_a
    )
