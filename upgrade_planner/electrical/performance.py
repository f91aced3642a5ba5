"""
What driver and owner notice of the wiring, as figures: volts at the coil, charge, heat, drain.

Every figure comes from the operating points; None where the vehicle has no such part.
"""

from collections.abc import Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.batteries import strings_of
from upgrade_planner.electrical.mean_points import mean_of
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.output_drop import drop_in
from upgrade_planner.electrical.spark import Spark, sparks

FEEDING = ("ignition feed", "start bypass")
"""Circuits that feed a coil."""

STILL_FIRES_V = 3.0
"""Supply at which an ignition may go on firing after key-off. [V] Source: our assumption; a points
coil at a quarter of its voltage still gives a weak spark, most electronic units stop higher up."""


@frozen(kw_only=True)
class Performance:
    """
    Figures of one configuration.

    Attributes:
        ignition_run_v: Mean across the ignition's supply, running with loads on. [V]
        ignition_cranking_v: The same while cranking. [V]
        ignition_run_a: Mean current of coil or unit, running. [A]
        idle_battery_v: Across the battery, idling, loads off. [V]
        loaded_battery_v: Across the battery, running, loads on. [V]
        idle_charge_a: Into the battery, idling; negative if it is drained. [A]
        loaded_charge_a: Into the battery, running with loads on. [A]
        spare_output_a: Output of the machine that is not needed, running with loads on. [A]
        output_drop_v: From the machine's output to the battery's live post, loads on. [V]
        hottest_wire: Wire with the highest conductor temperature in any state.
        hottest_c: That temperature. [°C]
        standing_a: Out of the battery with the key off. [A]
        key_off_v: Across the ignition's supply while the engine coasts with the key off. [V]
        sparks: Primary current and stored energy over speed; () where the profile lacks the data.
    """

    ignition_run_v: float | None
    ignition_cranking_v: float | None
    ignition_run_a: float | None
    idle_battery_v: float
    loaded_battery_v: float
    idle_charge_a: float
    loaded_charge_a: float
    spare_output_a: float | None
    output_drop_v: float | None
    hottest_wire: str
    hottest_c: float
    standing_a: float
    key_off_v: float | None
    sparks: tuple[Spark, ...]

    @property
    def stops(self) -> bool:
        """True if the engine stops when the key is turned off."""
        return self.key_off_v is None or self.key_off_v < STILL_FIRES_V


def performance(configuration: Configuration, points: Mapping[str, OperatingPoint]) -> Performance:
    """The figures of a configuration from its operating points."""
    closed = points["loaded"]
    idling, loaded = mean_of(points["idling"]), mean_of(closed)
    machine = _machine(configuration)
    unit, key_side = ignition_unit(configuration), switched_by(configuration)
    hottest_wire, hottest_c = hottest(points)
    return Performance(
        ignition_run_v=ignition_v(loaded, unit),
        ignition_cranking_v=ignition_v(points["cranking"], unit),
        ignition_run_a=_unit_current(loaded, unit),
        idle_battery_v=idling.battery_v,
        loaded_battery_v=loaded.battery_v,
        idle_charge_a=battery_current_a(idling),
        loaded_charge_a=battery_current_a(loaded),
        spare_output_a=_spare_output_a(configuration, loaded),
        output_drop_v=None if machine is None else drop_in(loaded, machine),
        hottest_wire=hottest_wire,
        hottest_c=hottest_c,
        standing_a=-battery_current_a(points["off"]),
        key_off_v=ignition_v(points["coasting"], key_side),
        sparks=sparks(configuration, closed),
    )


def ignition_unit(configuration: Configuration) -> TerminalRef | None:
    """The terminal through which coil or ignition unit takes its current."""
    ranked = (
        *configuration.parts_that(Capability.DISCHARGES),
        *configuration.parts_of(Family.COIL_PACK),
        *configuration.parts_that(Capability.HOLDS_COIL),
        *configuration.parts_of(Family.COIL),
    )
    if not ranked:
        return None
    return TerminalRef(ranked[0].role, _fed_name(ranked[0], configuration))


def _fed_name(part: Component, configuration: Configuration) -> str:
    """A coil is fed where its feed is joined, be it right or wrong; else the live pole is fed."""
    if part.family is Family.COIL:
        for name in part.feed_terminals:
            wires = configuration.wires_at.get(TerminalRef(part.role, name), ())
            if any(wire.circuit in FEEDING for wire in wires):
                return name
    terminal = str(part.terminal_as(TerminalUse.SUPPLY))
    if configuration.vehicle.ground == "positive":
        return terminal.replace("positive", "negative")
    return terminal


def switched_by(configuration: Configuration) -> TerminalRef | None:
    """The terminal by which the key stops the ignition; for most it is the feed itself."""
    unit = ignition_unit(configuration)
    if unit is None:
        return None
    return configuration.component(unit.role).ref_as(TerminalUse.KEY_FEED) or unit


def ignition_v(point: OperatingPoint, unit: TerminalRef | None) -> float | None:
    """From the ignition's supply terminal to engine metal. [V]"""
    if unit is None:
        return None
    supply, metal = point.live_v(unit), point.node_v("metal.engine")
    return None if supply is None else supply - (metal or 0.0)


def battery_current_a(point: OperatingPoint) -> float:
    """Current into the battery. [A]"""
    strings = strings_of(point.configuration)
    return sum(point.element_current_a(string[0].role) for string in strings)


def hottest(points: Mapping[str, OperatingPoint]) -> tuple[str, float]:
    """The wire with the hottest conductor over all states, and its temperature. [°C]"""
    return max(
        ((wire, heat) for p in points.values() for wire, heat in p.temperature_c.items()),
        key=lambda pair: (pair[1], pair[0]),
        default=("", 0.0),
    )


def _machine(configuration: Configuration) -> Component | None:
    return next(iter(configuration.parts_that(Capability.CHARGES)), None)


def _spare_output_a(configuration: Configuration, point: OperatingPoint) -> float | None:
    machine = _machine(configuration)
    if machine is None:
        return None
    delivered = abs(point.element_current_a(machine.role))
    return float(machine.ratings["rated_output"]) - delivered


def _unit_current(point: OperatingPoint, unit: TerminalRef | None) -> float | None:
    """Current of coil or unit; of a coil pack, of all its windings together. [A]"""
    if unit is None:
        return None
    part = point.configuration.component(unit.role)
    if part.family is not Family.COIL_PACK:
        return abs(point.element_current_a(unit.role))
    windings = [t.name for t in part.terminals if t.name.startswith("primary_")]
    return sum(abs(point.element_current_a(f"{unit.role}:{name}")) for name in windings)
