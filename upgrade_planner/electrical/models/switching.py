"""Switches, key switches, fuses, starters: what joins terminals in a state."""

from collections.abc import Iterable
from itertools import pairwise

from upgrade_planner.configuration.model import Component
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.loads import CurrentSink
from upgrade_planner.electrical.states import Engine, position_of


def switch(part: Component, context: Context) -> list[Element]:
    """Closed contacts of the position that the state puts it in."""
    position = position_of(part, context.state, context.configuration)
    groups: Iterable[tuple[str, ...]] = part.ratings["positions"].get(position, ())
    return [
        Resistor(
            f"{part.role}:{one}-{other}",
            context.node(part, one),
            context.node(part, other),
            assumed.CONTACT_OHM,
        )
        for group in groups
        for one, other in pairwise(group)
    ]


def fuse_box(part: Component, context: Context) -> list[Element]:
    """Each fuse drops its rated drop at its rated current."""
    return [
        Resistor(
            f"{part.role}:{way.end}",
            context.node(part, way.start),
            context.node(part, way.end),
            assumed.FUSE_DROP_V / way.rated_current_a,
        )
        for way in part.ratings["fuses"]
    ]


def fuse(part: Component, context: Context) -> list[Element]:
    """A single fuse."""
    ohms = assumed.FUSE_DROP_V / part.ratings["rated_current"]
    return [Resistor(part.role, context.node(part, "in"), context.node(part, "out"), ohms)]


def starter(part: Component, context: Context) -> list[Element]:
    """
    Solenoid windings at rest; while cranking, closed main contacts, motor and bypass contact.

    Closed contacts short the pull-in winding, so only the hold-in winding still draws.
    """
    back = context.return_node(part)
    if back is None:
        return []
    solenoid, battery = context.node(part, "solenoid"), context.node(part, "battery")
    elements: list[Element] = []
    if "hold_in_resistance" in part.ratings:
        ohms = part.ratings["hold_in_resistance"]
        elements.append(Resistor(f"{part.role}:hold-in", solenoid, back, ohms))
    if context.state.engine is not Engine.CRANKING:
        if "pull_in_resistance" in part.ratings:
            ohms = part.ratings["pull_in_resistance"]
            elements.append(Resistor(f"{part.role}:pull-in", solenoid, back, ohms))
        return elements
    motor = f"{part.role}.motor inside"
    live, minus = context.live_and_return(motor, back)
    elements += [
        Resistor(f"{part.role}:contacts", battery, motor, assumed.SOLENOID_CONTACT_OHM),
        CurrentSink(
            part.role, live, minus, part.ratings["cranking_current"], assumed.STARTER_KNEE_V
        ),
    ]
    if part.terminal("bypass") is not None:
        bypass = context.node(part, "bypass")
        elements.append(
            Resistor(f"{part.role}:bypass contact", battery, bypass, assumed.CONTACT_OHM)
        )
    return elements


def relay(part: Component, context: Context) -> list[Element]:
    """Coil, and the contact of rest; a pulled-in relay is not computed in this edition."""
    coil = Resistor(
        f"{part.role}:coil",
        context.node(part, "coil_in"),
        context.node(part, "coil_out"),
        part.ratings["coil_resistance"],
    )
    if part.terminal("normally_closed") is None:
        return [coil]
    common = context.node(part, "common")
    rest = context.node(part, "normally_closed")
    return [coil, Resistor(f"{part.role}:rest", common, rest, assumed.CONTACT_OHM)]
