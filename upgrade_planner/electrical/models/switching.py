"""Switches, fuses, relays and starters: what joins, and what turns the engine."""

from collections.abc import Iterable

from upgrade_planner.configuration.model import Component
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.loads import CurrentSink
from upgrade_planner.electrical.passing import contacts
from upgrade_planner.electrical.states import Engine, position_of

HEAVY_A = 100.0
"""A switch for as much has contacts like those of a starter solenoid. [A] Source: our
assumption."""


def switch(part: Component, context: Context) -> list[Element]:
    """Closed contacts of the position that the state puts it in."""
    position = position_of(part, context.state, context.configuration)
    groups: Iterable[tuple[str, ...]] = part.ratings["positions"].get(position, ())
    is_heavy = part.ratings.get("rated_current", 0.0) >= HEAVY_A
    ohms = assumed.SOLENOID_CONTACT_OHM if is_heavy else assumed.CONTACT_OHM
    return [
        contact(part, one, other, context, ohms)
        for group in groups
        for one, other in contacts(group, part)
    ]


def contact(
    part: Component, one: str, other: str, context: Context, ohms: float = assumed.CONTACT_OHM
) -> Element:
    """A closed contact between two terminals of a part."""
    nodes = context.node(part, one), context.node(part, other)
    return Resistor(f"{part.role}:{one}-{other}", *nodes, ohms)


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

    Closed contacts short the pull-in winding, so only the hold-in winding still draws. One with
    permanent magnets is the same to the wiring, as long as it is driven.
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
    elements += [
        Resistor(f"{part.role}:contacts", battery, motor, assumed.SOLENOID_CONTACT_OHM),
        _motor(part, motor, back, context),
    ]
    if part.terminal("bypass") is not None:
        bypass = context.node(part, "bypass")
        elements.append(
            Resistor(f"{part.role}:bypass contact", battery, bypass, assumed.CONTACT_OHM)
        )
    return elements


def _motor(part: Component, live: str, back: str, context: Context) -> Element:
    plus, minus = context.live_and_return(live, back)
    amps = part.ratings["cranking_current"]
    return CurrentSink(part.role, plus, minus, amps, assumed.STARTER_KNEE_V)


def starter_motor(part: Component, context: Context) -> list[Element]:
    """A starter without solenoid draws whenever its stud is live, whatever the engine does."""
    back = context.return_node(part)
    return [] if back is None else [_motor(part, context.node(part, "battery"), back, context)]


def relay(part: Component, context: Context) -> list[Element]:
    """Coil, and the contact of rest or, pulled in, the working contact."""
    coil_in, coil_out = context.node(part, "coil_in"), context.node(part, "coil_out")
    coil: Element = Resistor(
        f"{part.role}:coil", coil_in, coil_out, part.ratings["coil_resistance"]
    )
    if part.role in context.operated:
        return [coil, contact(part, "common", "normally_open", context)]
    if part.terminal("normally_closed") is None:
        return [coil]
    rest = Resistor(
        f"{part.role}:rest",
        context.node(part, "common"),
        context.node(part, "normally_closed"),
        assumed.CONTACT_OHM,
    )
    return [coil, rest]


def starter_relay(part: Component, context: Context) -> list[Element]:
    """Coil between signal and base; pulled in, it joins battery, starter and bypass."""
    back = context.return_node(part)
    if back is None:
        return []
    signal = context.node(part, "signal")
    coil: Element = Resistor(f"{part.role}:coil", signal, back, part.ratings["coil_resistance"])
    if part.role not in context.operated:
        return [coil]
    main = contact(part, "battery", "starter", context, assumed.SOLENOID_CONTACT_OHM)
    if part.terminal("bypass") is None:
        return [coil, main]
    return [coil, main, contact(part, "battery", "bypass", context)]
