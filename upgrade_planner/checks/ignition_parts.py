"""What the ignition rules look at: the parts that are fed, and the paths that feed them."""

from collections.abc import Iterator
from functools import lru_cache

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.paths import (
    Link,
    LinkMedium,
    links_of,
    paths_from,
    return_of,
    wires_of,
)
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import OTHER_POST, Component, Configuration, TerminalRef
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import KEY_ON

KEPT = 64
"""Configurations whose fed parts are kept, for a dozen rules are about them. Our choice."""

COIL_ALIVE_V = 3.0
"""Voltage at a coil, at 12 V, from which a points ignition may still fire. [V]
Source: our assumption: a quarter of the system voltage leaves a sixteenth of the spark energy."""

LEAST_UNIT_V = 8.0
"""Least supply of an electronic unit whose profile gives none, at 12 V. [V]
Source: our assumption; the tired battery of ign-020 cranks at 7 to 9 V."""


@frozen
class Fed:
    """A part that makes sparks, and the terminal that is fed."""

    part: Component
    ref: TerminalRef

    @property
    def node(self) -> str:
        """Node of the fed terminal."""
        return node_of(self.ref)

    @property
    def is_unit(self) -> bool:
        """True for an electronic unit, which wants full voltage; False for a coil."""
        return self.part.terminal_as(TerminalUse.KEY_FEED) is not None


@lru_cache(maxsize=KEPT)
def fed_parts(configuration: Configuration) -> tuple[Fed, ...]:
    """Electronic units and coils; not a coil that a capacitor-discharge unit drives."""
    return tuple(_fed_parts(configuration))


def _fed_parts(configuration: Configuration) -> Iterator[Fed]:
    for unit, ref in configuration.parts_with(TerminalUse.KEY_FEED):
        yield Fed(unit, ref)
    for coil in configuration.parts_of(Family.COIL):
        if not is_driven(coil, configuration):
            yield Fed(coil, TerminalRef(coil.role, feed_terminal(coil, configuration)))


def is_driven(coil: Component, configuration: Configuration) -> bool:
    """True if a capacitor-discharge unit drives the coil: wires lead from its outputs to it."""
    poles = {f"{coil.role}.positive", f"{coil.role}.negative"}
    return any(
        poles & set(paths_from(wires_of(configuration), f"{unit.role}.{name}"))
        for unit in configuration.parts_that(Capability.DISCHARGES)
        for name in ("coil_positive", "coil_negative")
    )


def switch_of(coil: Component, configuration: Configuration) -> Component | None:
    """Points or module that switch a coil; None if wires lead to neither."""
    for pole in ("positive", "negative"):
        reached = paths_from(wires_of(configuration), f"{coil.role}.{pole}")
        for part, ref in configuration.parts_with(TerminalUse.COIL_SWITCH):
            if str(ref) in reached:
                return part
    return None


def feed_terminal(coil: Component, configuration: Configuration) -> str:
    """The primary terminal that is not joined to a switch; the marked one if none is."""
    marked = marked_feed(configuration)
    for terminal in (marked, other_pole(marked)):
        if is_joined_to_switch(coil, terminal, configuration):
            return other_pole(terminal)
    return marked


def marked_feed(configuration: Configuration) -> str:
    """The pole of a coil that should be fed: the live one."""
    return OTHER_POST[configuration.vehicle.ground]


def other_pole(pole: str) -> str:
    """Negative for positive, and the reverse."""
    return "negative" if pole == "positive" else "positive"


def is_joined_to_switch(coil: Component, terminal: str, configuration: Configuration) -> bool:
    """True if wires lead from that terminal to breaker points or to the output of a module."""
    reached = paths_from(wires_of(configuration), f"{coil.role}.{terminal}")
    return any(str(ref) in reached for _, ref in configuration.parts_with(TerminalUse.COIL_SWITCH))


def least_supply_v(unit: Component, configuration: Configuration) -> float:
    """Voltage that an electronic unit needs. [V]"""
    scaled = LEAST_UNIT_V * configuration.vehicle.voltage_v / 12.0
    return float(unit.ratings.get("minimum_supply", scaled))


def alive_v(fed: Fed, configuration: Configuration) -> float:
    """Voltage from which a fed part still makes sparks; a coil needs its module alive. [V]"""
    if fed.is_unit:
        return least_supply_v(fed.part, configuration)
    switch = switch_of(fed.part, configuration)
    if switch is not None and switch.terminal_as(TerminalUse.KEY_FEED):
        return least_supply_v(switch, configuration)
    return COIL_ALIVE_V * configuration.vehicle.voltage_v / 12.0


def back_of(part: Component, configuration: Configuration) -> str | None:
    """Node through which an ignition part returns its current; None if it has no such terminal."""
    if part.can(Capability.DISCHARGES):
        return f"{part.role}.battery_{configuration.vehicle.ground}"
    return return_of(part)


def supply_v(fed: Fed, point: OperatingPoint) -> float | None:
    """Voltage of a fed part: a unit's against its own ground, a coil's against the battery. [V]"""
    volts = point.live_v(fed.ref)
    back = back_of(fed.part, point.configuration) if fed.is_unit else None
    if fed.part.family in (Family.COIL, Family.COIL_PACK):
        return volts
    return None if volts is None or back is None else volts - (point.node_v(back) or 0.0)


def working_v(fed: Fed, point: OperatingPoint) -> float | None:
    """As `supply_v`, but between the heavy leads of a capacitor-discharge unit. [V]"""
    if not fed.part.can(Capability.DISCHARGES):
        return supply_v(fed, point)
    plus = point.live_v(TerminalRef(fed.part.role, "battery_positive"))
    minus = point.node_v(f"{fed.part.role}.battery_negative")
    return None if plus is None or minus is None else point.sign * (plus - minus)


def bridged_ballasts(fed: Fed, configuration: Configuration) -> list[Link]:
    """Ballast resistors and resistance wires of the ignition that plain wire joins at both ends."""
    links = links_of(configuration, KEY_ON)
    reached = set(paths_from(links, fed.node))
    return [
        link
        for link in links
        if link.medium is LinkMedium.RESISTANCE
        and {link.one, link.other} <= reached
        and _is_ignition(link.name, configuration)
    ]


def _is_ignition(name: str, configuration: Configuration) -> bool:
    wire = configuration.wire_by_id.get(name)
    return wire is None or wire.circuit == "ignition feed"
