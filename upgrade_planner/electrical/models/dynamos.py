"""
Dynamos: with control box, third brush, or nothing but a cut-out; and the cut-out itself.

Field circuit A: the field begins at the armature and ends at the field terminal, which regulator,
resistor or wire ground. B: it begins at the field terminal and ends on the frame; the box feeds it
from the armature. A dynamo without a field current gives its residual volts and no more.
"""

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, TerminalRef
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context, output_limit_a, regulated
from upgrade_planner.electrical.network.elements import Diode, Resistor, Source
from upgrade_planner.electrical.network.laws import Element

DEFAULT_CIRCUIT = "B"
"""Where neither dynamo nor box says."""


def field_circuit(part: Component) -> str:
    """Where the field of a dynamo ends, or what a box is made for: A or B."""
    return str(part.ratings.get("field_circuit", DEFAULT_CIRCUIT))


def dynamo(part: Component, context: Context) -> list[Element]:
    """Field, and at its armature: at rest a winding, turning what its control lets it deliver."""
    back = context.return_node(part)
    if back is None:
        return []
    armature, field = context.node(part, "armature"), context.node(part, "field")
    ohms = part.ratings.get("field_resistance", assumed.COIL_FIELD_OHM)
    far = armature if field_circuit(part) == "A" else back
    elements: list[Element] = [Resistor(f"{part.role}:field", field, far, ohms)]
    wired = context.is_wired(TerminalRef(part.role, "armature"))
    if not context.is_generating:
        elements.append(Resistor(f"{part.role}:armature", armature, back, assumed.ARMATURE_OHM))
    elif part.role in context.operated and wired:
        elements.append(_delivering(part, context, armature, back))
    elif wired:
        elements.append(_residual(part, context, armature, back))
    return elements


def _residual(part: Component, context: Context, armature: str, back: str) -> Element:
    volts = part.ratings.get("residual_voltage", assumed.RESIDUAL_V)
    plus, minus = context.live_and_return(armature, back)
    ohms = assumed.ARMATURE_OHM
    return Source(f"{part.role}:residual", plus, minus, volts, ohms, ohms)


def _delivering(part: Component, context: Context, armature: str, back: str) -> Element:
    """Regulated by its box; else bounded by its third brush; else by battery and speed alone."""
    limit = output_limit_a(part, context.state.engine)
    nominal_v = context.configuration.vehicle.voltage_v
    box = context.regulator_of(part)
    if box is not None and is_controlled(part, context):
        limit = min(limit, box.ratings.get("current_limit", limit))
        set_point, droop = box.ratings["set_point"], assumed.DROOP_OHM
    elif "third_brush_current" in part.ratings:
        limit = min(limit, part.ratings["third_brush_current"])
        set_point, droop = assumed.THIRD_BRUSH_RATIO * nominal_v, assumed.DROOP_OHM
    else:
        set_point = assumed.FULL_FIELD_RATIO * nominal_v
        charging_v = assumed.CHARGING_RATIO * nominal_v
        droop = (set_point - charging_v) / part.ratings["rated_output"]
    watched = (armature, back)
    return regulated(part.role, context, armature, back, watched, set_point, limit, droop)


def is_controlled(part: Component, context: Context) -> bool:
    """
    True if the box alone sets the field current.

    A field of circuit A that a wire grounds too, or one of B that a wire joins to the armature too,
    gets its full current whatever the box does; so does one of B whose box has no ground wire.
    """
    field = TerminalRef(part.role, "field")
    if field_circuit(part) == "A":
        return not context.is_joined_to_ground(field)
    box = context.regulator_of(part)
    is_blind = box is not None and _lacks_ground(box, context)
    return not is_blind and not context.are_joined(field, TerminalRef(part.role, "armature"))


def _lacks_ground(box: Component, context: Context) -> bool:
    wired = context.is_wired(TerminalRef(box.role, "ground"))
    return box.terminal("case") is None and not wired


def control_box(part: Component, context: Context) -> list[Element]:
    """
    Cut-out between armature and supply, and the field drive of its circuit.

    A lamp terminal is the armature terminal by another name. Without a ground the field contact of
    circuit A has no way to ground, and circuit B no voltage unit.
    """
    back = context.return_node(part)
    armature, field = context.node(part, "armature"), context.node(part, "field")
    elements = cut_out(part, context)
    far = back if _box_circuit(part, context) == "A" else armature
    if far is not None:
        ohms = assumed.COIL_FIELD_OHM if context.is_generating else assumed.CONTACT_OHM
        elements.append(Resistor(f"{part.role}:field drive", field, far, ohms))
    return elements


def _box_circuit(part: Component, context: Context) -> str:
    """Of the box, if the profile says; else that of the dynamo it works with."""
    if "field_circuit" in part.ratings:
        return field_circuit(part)
    for machine in context.configuration.parts_of(Family.DYNAMO):
        if context.regulator_of(machine) == part:
            return field_circuit(machine)
    return DEFAULT_CIRCUIT


def cut_out(part: Component, context: Context) -> list[Element]:
    """Lets current from the armature to the battery and none back."""
    armature = context.node(part, "armature")
    plus, minus = context.live_and_return(armature, context.node(part, "supply"))
    elements: list[Element] = [Diode(f"{part.role}:cut-out", plus, minus, 0.0, assumed.CONTACT_OHM)]
    if part.terminal("lamp") is not None:
        lamp = context.node(part, "lamp")
        elements.append(Resistor(f"{part.role}:lamp", armature, lamp, assumed.CONTACT_OHM))
    return elements
