"""Rules on regulators: how many, what voltage they hold, and where they look for it."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.checks.paths import (
    WITH_RESISTANCE,
    Path,
    is_grounded,
    links_of,
    live_node,
    paths_from,
    wires_of,
)
from upgrade_planner.checks.trials import live_in, with_sensing_at
from upgrade_planner.configuration.kinds import Capability, Family, Job
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.electrical import batteries
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.output_drop import output_of
from upgrade_planner.electrical.states import IDLING, KEY_ON

SET_POINT_V = (13.5, 14.9)
"""Regulated voltage of a 12 V system. [V] Source: US Army TM 10-3930-621-12, regulator test: 13.5 V
at 125 °F to 14.9 V at 65 °F; TM 5-3820-233-35/1: 13.9 to 14.9 V hot."""

SENSE_ERROR_V = 0.1
"""Drop, at 12 V, that a sensing point may have of its own. [V] Source: our assumption; NAVEDTRA
14273, p. 2-24, allows 0.1 V for one connection."""

EXTERNAL_CIRCUITS = ("field", "field relay", "regulator supply")
"""Circuits that only an external regulator has."""


def regulated_inside(configuration: Configuration) -> list[Component]:
    """Machines that hold their voltage themselves."""
    machines = configuration.parts_that(Capability.CHARGES)
    return [part for part in machines if part.can(Capability.REGULATES)]


def regulated_outside(configuration: Configuration) -> list[Component]:
    """Machines whose field something else drives."""
    machines = configuration.parts_that(Capability.CHARGES)
    return [part for part in machines if not part.can(Capability.REGULATES)]


def is_control_box(part: Component) -> bool:
    """True for the box of a dynamo: a regulator that holds the cut-out too."""
    return part.family is Family.REGULATOR and part.terminal_as(Job.ARMATURE) is not None


def sensing_at_own_output(examined: Examined) -> Iterator[Finding]:
    """The sense terminal watches the alternator's own output instead of the main junction."""
    configuration = examined.configuration
    for part, sense in _sensing(configuration):
        output = TerminalRef(part.role, "output")
        path = paths_from(wires_of(configuration), node_of(sense)).get(node_of(output))
        junction = main_junction(part, configuration)
        if path is None or (len(path) > 1 and junction in _nodes(path)):
            continue
        yield worded(
            code="CHG-SENSE-OWN",
            title="Sensing at the wrong point",
            severity=Severity.WARNING,
            where=tuple(link.name for link in path),
            what="The regulator does not see what the output wire loses."
            + _lost(part, junction, examined.points.get("loaded")),
            remedy="Join the sensing wire to the main junction.",
            source="common practice; volts computed, loads on",
        )


def _sensing(configuration: Configuration) -> Iterator[tuple[Component, TerminalRef]]:
    for part in regulated_inside(configuration):
        if part.terminal("sense") is not None:
            yield part, TerminalRef(part.role, "sense")


def _nodes(path: Path) -> set[str]:
    return {node for link in path for node in (link.one, link.other)}


def main_junction(machine: Component, configuration: Configuration) -> str | None:
    """Node at the far end of the output wire; None if it has no wire."""
    output = output_of(machine)
    wires = configuration.wires_at.get(output, ())
    charge: list[Wire] = [wire for wire in wires if wire.circuit == "charge output"]
    return node_of(charge[0].other_end(output)) if charge else None


def _lost(machine: Component, junction: str | None, point: OperatingPoint | None) -> str:
    """What the battery misses, told from sensing at the junction instead."""
    if point is None or junction is None:
        return ""
    better = with_sensing_at(machine.role, junction, point)
    post = batteries.live_post(point.configuration)
    volts = None if better is None or post is None else live_in(better, post, point)
    if volts is None:
        return ""
    return f" The battery gets {point.battery_v:.2f} V; sensing at the junction, {volts:.2f} V."


def sensing_with_drop(examined: Examined) -> Iterator[Finding]:
    """The sense terminal is joined to a point that loses volts of its own: it overcharges."""
    configuration = examined.configuration
    point = examined.points.get("loaded")
    for part, sense in _sensing(configuration) if point else ():
        junction = main_junction(part, configuration)
        seen = point.live_v(sense) if point else None
        if point is None or junction is None or seen is None:
            continue
        if not configuration.wires_at.get(sense):
            continue
        there = point.node_v(junction)
        below = min((there or 0.0), point.battery_v) - seen
        if below > SENSE_ERROR_V * configuration.vehicle.voltage_v / 12.0:
            yield worded(
                code="CHG-SENSE-DROP",
                title="Sensing at a point with a drop of its own",
                severity=Severity.CAUTION if below < 10 * SENSE_ERROR_V else Severity.WARNING,
                where=(str(sense), *(w.id for w in configuration.wires_at[sense])),
                what=f"The regulator sees {below:.2f} V less than the junction has, loads on, and "
                f"charges too high: {point.battery_v:.1f} V at the battery.",
                remedy="Join the sensing wire to the main junction.",
                source="our assumption: 0.1 V, as NAVEDTRA 14273 allows one connection",
            )


def sensing_open(examined: Examined) -> Iterator[Finding]:
    """A sense terminal without a wire, or with one that reaches no battery: charges unlimited."""
    configuration = examined.configuration
    links = links_of(configuration, KEY_ON)
    for _, sense in _sensing(configuration):
        if live_node(configuration) not in paths_from(links, node_of(sense)):
            wires = configuration.wires_at.get(sense, ())
            yield worded(
                code="CHG-SENSE-OPEN",
                title="Sensing open",
                severity=Severity.DANGER,
                where=(str(sense), *(wire.id for wire in wires)),
                what="No wire leads from the sense terminal to the battery side; "
                "the alternator may overcharge.",
                remedy="Run a sensing wire from the main junction.",
                source="common practice",
            )


def two_regulators(examined: Examined) -> Iterator[Finding]:
    """An external regulator beside an alternator that regulates itself."""
    configuration = examined.configuration
    internal = [part.role for part in regulated_inside(configuration)]
    external = [part.role for part in configuration.parts_of(Family.REGULATOR)]
    if internal and external:
        yield worded(
            code="CHG-TWO-REGULATORS",
            title="Two regulators",
            severity=Severity.WARNING,
            where=(*internal, *external),
            what="An external regulator is left beside an internally regulated alternator.",
            remedy="Take the external regulator and its field wires out.",
            source="common practice",
        )


def field_wires_left(examined: Examined) -> Iterator[Finding]:
    """Wires of an external regulator without a machine that needs one."""
    configuration = examined.configuration
    if regulated_outside(configuration) or not regulated_inside(configuration):
        return
    left = tuple(w.id for w in configuration.wires if w.circuit in EXTERNAL_CIRCUITS)
    if left:
        yield worded(
            code="CHG-FIELD-LEFT",
            title="Wires of the old regulator left",
            severity=Severity.WARNING,
            where=left,
            what="They serve an external regulator; the alternator has its own.",
            remedy="Take them out, or cap them at both ends.",
            source="common practice",
        )


def machine_without_regulator(examined: Examined) -> Iterator[Finding]:
    """An alternator or dynamo for an external regulator whose field no regulator drives."""
    configuration = examined.configuration
    fields = {f"{part.role}.field" for part in configuration.parts_of(Family.REGULATOR)}
    as_built = not fields and bool(configuration.parts_of(Family.CUT_OUT))
    for machine in regulated_outside(configuration):
        if machine.family is Family.DYNAMO and as_built:
            continue  # nothing but a cut-out: a rule on dynamos says what that does
        start = f"{machine.role}.field"
        reached = paths_from(wires_of(configuration), start, WITH_RESISTANCE)
        if not fields & set(reached):
            yield worded(
                code="CHG-NO-REGULATOR",
                title="Field without a regulator",
                severity=Severity.WARNING,
                where=(machine.role,),
                what="No wire leads from its field terminal to the field terminal of a regulator.",
                remedy="Join field to field; never feed a field straight from the battery.",
                source="common practice",
            )


def set_point_wrong(examined: Examined) -> Iterator[Finding]:
    """A regulated voltage that the battery does not stand, or that never fills it."""
    configuration = examined.configuration
    volts = configuration.vehicle.voltage_v
    low, high = (limit * volts / 12.0 for limit in SET_POINT_V)
    for part in configuration.parts_that(Capability.REGULATES):
        found = part.ratings["set_point"]
        if low <= found <= high:
            continue
        scaled = "" if volts == 12.0 else f"; scaled from 12 V to {volts:g} V"
        yield worded(
            code="CHG-SET-POINT",
            title="Regulated voltage wrong for the battery",
            severity=Severity.WARNING,
            where=(part.role,),
            what=f"It holds {found:.1f} V; {low:.1f} to {high:.1f} V are right at {volts:g} V: "
            + ("the battery boils dry." if found > high else "the battery never fills."),
            remedy="Adjust or change the regulator.",
            source=f"US Army TM 10-3930-621-12 and TM 5-3820-233-35/1{scaled}",
        )


def machine_not_grounded(examined: Examined) -> Iterator[Finding]:
    """No path leads from the frame of alternator, dynamo or regulator back to the battery."""
    configuration = examined.configuration
    links = links_of(configuration, IDLING)
    for part in (
        *configuration.parts_that(Capability.CHARGES),
        *configuration.parts_of(Family.REGULATOR),
    ):
        if is_control_box(part):
            continue  # a control box: a rule on dynamos says what its ground does
        if not is_grounded(part, configuration, links):
            yield worded(
                code="CHG-GROUND",
                title="Charging part without ground",
                severity=Severity.WARNING,
                where=(part.role,),
                what="No wire or metal leads from its return to the grounded battery post.",
                remedy="Join its ground terminal, or the metal it sits on, to the battery.",
                source="NAVEDTRA 14273, p. 2-24: 0.1 V at most from housing to battery",
            )


def dynamo_polarising(examined: Examined) -> Iterator[Finding]:
    """A dynamo wants polarising after work, in the way of its field circuit."""
    battery, armature, field_lead = _box_labels(examined.configuration)
    ways = {
        "A": f"with everything joined, touch a jumper from {battery} to {armature}, briefly",
        "B": f"lift the {field_lead} lead and touch it to {battery}, briefly",
    }
    for dynamo in examined.configuration.parts_of(Family.DYNAMO):
        field = str(dynamo.ratings.get("field_circuit", ""))
        unknown = "find out first whether the field ends at the regulator (A) or inside (B)"
        yield worded(
            code="CHG-POLARISE",
            title="Polarise the dynamo after work",
            severity=Severity.NOTE,
            where=(dynamo.role,),
            what="A dynamo takes its polarity from a short current; without it contacts may burn.",
            remedy=f"Before the first start, {ways.get(field, unknown)}. Never on an alternator.",
            source="US Army TM 5-3810-300-24&P-3, p. 330",
        )


def _box_labels(configuration: Configuration) -> tuple[str, str, str]:
    """What battery side, armature and field are called at control box or cut-out."""
    words = {"supply": "BAT", "armature": "GEN", "field": "F"}
    boxes = [
        part
        for part in configuration.parts_of(Family.REGULATOR, Family.CUT_OUT)
        if part.terminal("armature") is not None
    ]
    found = [(name, boxes[0].terminal(name) if boxes else None) for name in words]
    labels = [f"{t.label} ({words[name]})" if t else words[name] for name, t in found]
    return labels[0], labels[1], labels[2]
