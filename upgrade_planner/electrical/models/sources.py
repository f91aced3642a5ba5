"""Battery, alternators and their regulators."""

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, TerminalRef
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context, output_limit_a, regulated
from upgrade_planner.electrical.models.dynamos import control_box
from upgrade_planner.electrical.network.elements import Diode, Resistor, Source
from upgrade_planner.electrical.network.laws import Element

EXCITER_DROP_V = 1.0
"""Drop of the field transistor and brushes while the lamp excites the field. [V]
Source: our assumption."""


def battery(part: Component, context: Context) -> list[Element]:
    """EMF behind an internal resistance; a greater one while it takes charge."""
    ohms = part.ratings["internal_resistance"]
    capacity = part.ratings.get("capacity", assumed.BATTERY_AH)
    cells = part.ratings["emf"] / assumed.SIX_CELLS_V
    return [
        Source(
            part.role,
            context.node(part, "positive"),
            context.node(part, "negative"),
            part.ratings["emf"],
            ohms,
            max(ohms, cells * assumed.CHARGING_OHM_AH / capacity),
        )
    ]


def _delivers(part: Component, context: Context) -> bool:
    """
    True if a machine turns and its output carries a wire.

    Without a wire its voltage climbs until something in it gives way; that is not computed.
    """
    return context.is_generating and context.is_wired(TerminalRef(part.role, "output"))


def alternator_internal_regulator(part: Component, context: Context) -> list[Element]:
    """
    Regulates the voltage at its sense terminal, or at its output if it has none that is wired.

    Stopped, the lamp terminal feeds the field; turning, it stands at the machine's own voltage. One
    without a lamp terminal excites itself: stopped, its field takes nothing.
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
    if _delivers(part, context):
        elements.append(
            regulated(
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
    """
    Delivers what its external regulator asks for; without one, or without field, nothing.

    Whether the regulator is fed, so that there is a field, is settled by `operated`.
    """
    back = context.return_node(part)
    if back is None:
        return []
    field = part.ratings.get("field_resistance", assumed.COIL_FIELD_OHM)
    elements: list[Element] = [
        Resistor(f"{part.role}:field", context.node(part, "field"), back, field)
    ]
    regulator = context.regulator_of(part)
    excited = part.role in context.operated
    if regulator is None or not excited or not _delivers(part, context):
        return elements
    seen = context.node(regulator, context.feed_of(regulator))
    watched = (seen, context.return_node(regulator) or back)
    set_point = regulator.ratings["set_point"]
    limit = output_limit_a(part, context.state.engine)
    output = context.node(part, "output")
    elements.append(regulated(part.role, context, output, back, watched, set_point, limit))
    if part.terminal("field_relay") is not None:
        tap = context.node(part, "field_relay")
        elements.append(
            regulated(
                f"{part.role}:tap",
                context,
                tap,
                back,
                (tap, back),
                set_point / 2,
                assumed.TRIO_LIMIT_A,
            )
        )
    return elements


def regulator_electromechanical(part: Component, context: Context) -> list[Element]:
    """
    Control box of a dynamo, or regulator of an alternator with or without field relay.

    Field relay open: the lamp terminal feeds the field. Closed: supply, lamp terminal and field are
    joined, which puts the lamp out. Without field relay the feed stands on the field at rest.
    """
    if part.terminal("armature") is not None:
        return control_box(part, context)
    back = context.return_node(part)
    has = {terminal.name for terminal in part.terminals}
    elements: list[Element] = []
    if "field_relay" in has and back is not None:
        relay = context.node(part, "field_relay")
        elements.append(Resistor(f"{part.role}:relay coil", relay, back, assumed.RELAY_COIL_OHM))
    if context.is_generating:
        return elements + _driving(part, context)
    field = context.node(part, "field")
    if "lamp" in has:
        lamp = context.node(part, "lamp")
        elements.append(Resistor(f"{part.role}:rest contact", lamp, field, assumed.CONTACT_OHM))
    elif "field_relay" not in has:
        feed = context.node(part, context.feed_of(part))
        elements.append(Resistor(f"{part.role}:rest contact", feed, field, assumed.CONTACT_OHM))
    return elements


def _driving(part: Component, context: Context) -> list[Element]:
    """Field fed at a mean of its greatest current; the lamp terminal joined to the supply."""
    supply, field = context.node(part, context.feed_of(part)), context.node(part, "field")
    elements: list[Element] = [
        Resistor(f"{part.role}:field drive", supply, field, assumed.COIL_FIELD_OHM)
    ]
    if part.terminal("lamp") is not None:
        lamp = context.node(part, "lamp")
        elements.append(Resistor(f"{part.role}:relay contact", supply, lamp, assumed.CONTACT_OHM))
    return elements


def regulator_transistor(part: Component, context: Context) -> list[Element]:
    """
    Field fed through a transistor: wholly while the machine stands, at a mean while it charges.

    The lamp terminal is grounded inside until the machine charges.
    """
    back = context.return_node(part)
    if back is None:
        return []
    feed, field = context.node(part, context.feed_of(part)), context.node(part, "field")
    works = context.is_generating and any(
        machine.role in context.operated and context.regulator_of(machine) == part
        for machine in context.configuration.parts_of(Family.ALTERNATOR)
    )
    ohms = assumed.COIL_FIELD_OHM if works else assumed.TRANSISTOR_OHM
    elements: list[Element] = [Resistor(f"{part.role}:field drive", feed, field, ohms)]
    if part.terminal("lamp") is not None:
        ohms = assumed.METER_OHM if works else assumed.TRANSISTOR_OHM
        elements.append(Resistor(f"{part.role}:lamp", context.node(part, "lamp"), back, ohms))
    if part.terminal("field_relay") is not None:
        tap = context.node(part, "field_relay")
        elements.append(Resistor(f"{part.role}:tap", tap, back, assumed.METER_OHM))
    return elements


def _exciter(part: Component, context: Context, back: str) -> Element:
    ohms = part.ratings.get("field_resistance", assumed.COIL_FIELD_OHM)
    plus, minus = context.live_and_return(context.node(part, "lamp"), back)
    return Diode(f"{part.role}:exciter", plus, minus, EXCITER_DROP_V, ohms)


def _lamp_supply(part: Component, context: Context, back: str, set_point_v: float) -> Element:
    lamp = context.node(part, "lamp")
    return regulated(
        f"{part.role}:lamp terminal",
        context,
        lamp,
        back,
        (lamp, back),
        set_point_v,
        assumed.TRIO_LIMIT_A,
    )
