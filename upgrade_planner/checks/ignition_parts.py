"""What the ignition rules look at: the parts that are fed, and the paths that feed them."""

from collections.abc import Iterator

from attrs import frozen

from upgrade_planner.checks.paths import (
    Sort,
    links_of,
    of_kind,
    paths_from,
    return_of,
    wires_of,
)
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import KEY_ON

UNIT = "integral_coil_distributor"
POINTS = "points_distributor"

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
        return self.part.kind == UNIT


def fed_parts(configuration: Configuration) -> Iterator[Fed]:
    """Electronic units and coils."""
    for unit in of_kind(configuration, UNIT):
        yield Fed(unit, TerminalRef(unit.role, "supply"))
    for coil in of_kind(configuration, "coil"):
        yield Fed(coil, TerminalRef(coil.role, feed_terminal(coil, configuration)))


def feed_terminal(coil: Component, configuration: Configuration) -> str:
    """The primary terminal that is not joined to the points; the marked one if none is."""
    marked = marked_feed(configuration)
    for terminal in (marked, other_pole(marked)):
        if is_joined_to_points(coil, terminal, configuration):
            return other_pole(terminal)
    return marked


def marked_feed(configuration: Configuration) -> str:
    """The pole of a coil that should be fed: the live one."""
    return "positive" if configuration.vehicle.ground == "negative" else "negative"


def other_pole(pole: str) -> str:
    """Negative for positive, and the reverse."""
    return "negative" if pole == "positive" else "positive"


def is_joined_to_points(coil: Component, terminal: str, configuration: Configuration) -> bool:
    """True if wires lead from that terminal to breaker points."""
    reached = paths_from(wires_of(configuration), f"{coil.role}.{terminal}")
    return any(f"{part.role}.points" in reached for part in of_kind(configuration, POINTS))


def least_supply_v(unit: Component, configuration: Configuration) -> float:
    """Voltage that an electronic unit needs. [V]"""
    scaled = LEAST_UNIT_V * configuration.vehicle.voltage_v / 12.0
    return float(unit.ratings.get("minimum_supply", scaled))


def alive_v(fed: Fed, configuration: Configuration) -> float:
    """Voltage from which a fed part still makes sparks. [V]"""
    if fed.is_unit:
        return least_supply_v(fed.part, configuration)
    return COIL_ALIVE_V * configuration.vehicle.voltage_v / 12.0


def supply_v(fed: Fed, point: OperatingPoint) -> float | None:
    """Voltage of a fed part: a unit's against its own ground, a coil's against the battery. [V]"""
    volts = point.live_v(fed.ref)
    back = return_of(fed.part) if fed.is_unit else None
    if volts is None or back is None:
        return None if fed.is_unit else volts
    return volts - (point.node_v(back) or 0.0)


def bridged_ballasts(fed: Fed, configuration: Configuration) -> list[str]:
    """Ballast resistors and resistance wires of the ignition that plain wire joins at both ends."""
    links = links_of(configuration, KEY_ON)
    reached = set(paths_from(links, fed.node))
    return [
        link.name
        for link in links
        if link.sort is Sort.RESISTANCE
        and {link.one, link.other} <= reached
        and _is_ignition(link.name, configuration)
    ]


def _is_ignition(name: str, configuration: Configuration) -> bool:
    wire = configuration.wire_by_id.get(name)
    return wire is None or wire.circuit == "ignition feed"
