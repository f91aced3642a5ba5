"""Rules on regulators: how many, what voltage they hold, and where they look for it."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Facts,
    Finding,
    Remedy,
    Severity,
    at_part,
    at_parts,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.moves import moved, taken_out
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
from upgrade_planner.configuration.edits import Edit, Rerate
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.values.measures import volt
from upgrade_planner.electrical import batteries
from upgrade_planner.electrical.models.context import node_of, ref_of
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
    return part.family is Family.REGULATOR and part.terminal_as(TerminalUse.ARMATURE) is not None


def sensing_at_own_output(examined: Examined) -> Iterator[Finding]:
    """The sense terminal watches the alternator's own output instead of the main junction."""
    configuration = examined.configuration
    for part, sense in _sensing(configuration):
        output = TerminalRef(part.role, "output")
        path = paths_from(wires_of(configuration), node_of(sense)).get(node_of(output))
        junction = main_junction(part, configuration)
        if path is None or (len(path) > 1 and junction in _nodes(path)):
            continue
        facts = _lost(part, junction, examined.points.get("loaded"))
        yield Finding(
            code="CHG-SENSE-OWN",
            cause="computed" if facts else "plain",
            severity=Severity.WARNING,
            subjects=at_wires(link.name for link in path),
            facts=facts,
            remedy=_to_junction(sense, junction, configuration),
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


def _lost(machine: Component, junction: str | None, point: OperatingPoint | None) -> Facts:
    """What the battery gets, and what it would with sensing at the junction; empty if unknown."""
    if point is None or junction is None:
        return {}
    better = with_sensing_at(machine.role, junction, point)
    post = batteries.live_post(point.configuration)
    volts = None if better is None or post is None else live_in(better, post, point)
    return {} if volts is None else {"battery": volt(point.battery_v), "better": volt(volts)}


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
        limit_v = SENSE_ERROR_V * configuration.vehicle.voltage_v / 12.0
        if below > limit_v:
            yield Finding(
                code="CHG-SENSE-DROP",
                severity=Severity.CAUTION if below < 10 * SENSE_ERROR_V else Severity.WARNING,
                subjects=(
                    at_terminal(sense),
                    *at_wires(w.id for w in configuration.wires_at[sense]),
                ),
                value=volt(below),
                limit=volt(limit_v),
                facts={"battery": volt(point.battery_v)},
                remedy=_to_junction(sense, junction, configuration),
                source="our assumption: 0.1 V, as NAVEDTRA 14273 allows one connection",
            )


def _to_junction(sense: TerminalRef, junction: str | None, configuration: Configuration) -> Remedy:
    """The one wire of a sensing terminal goes to the main junction, behind its link if there is."""
    wires = configuration.wires_at.get(sense, ())
    edits: tuple[Edit, ...] = ()
    if junction is not None and len(wires) == 1:
        (wire,) = wires
        at = _behind_link(ref_of(junction), configuration) or ref_of(junction)
        edits = (moved(wire, wire.other_end(sense), at),)
    return Remedy("sense-at-main-junction", edits=edits)


def _behind_link(junction: TerminalRef, configuration: Configuration) -> TerminalRef | None:
    """The end of a link at the junction that nothing else is joined to."""
    for wire in configuration.wires_at.get(junction, ()):
        end = wire.other_end(junction)
        if wire.conductor is Conductor.LINK and len(configuration.wires_at[end]) == 1:
            return end
    return None


def sensing_open(examined: Examined) -> Iterator[Finding]:
    """A sense terminal without a wire, or with one that reaches no battery: charges unlimited."""
    configuration = examined.configuration
    links = links_of(configuration, KEY_ON)
    for _, sense in _sensing(configuration):
        if live_node(configuration) not in paths_from(links, node_of(sense)):
            wires = configuration.wires_at.get(sense, ())
            yield Finding(
                code="CHG-SENSE-OPEN",
                severity=Severity.DANGER,
                subjects=(at_terminal(sense), *at_wires(wire.id for wire in wires)),
                remedy=Remedy("run-sensing-wire"),
                source="common practice",
            )


def two_regulators(examined: Examined) -> Iterator[Finding]:
    """An external regulator beside an alternator that regulates itself."""
    configuration = examined.configuration
    internal = [part.role for part in regulated_inside(configuration)]
    external = [part.role for part in configuration.parts_of(Family.REGULATOR)]
    if internal and external:
        yield Finding(
            code="CHG-TWO-REGULATORS",
            severity=Severity.WARNING,
            subjects=at_parts((*internal, *external)),
            remedy=Remedy("remove-external-regulator"),
            source="common practice",
        )


def field_wires_left(examined: Examined) -> Iterator[Finding]:
    """Wires of an external regulator without a machine that needs one."""
    configuration = examined.configuration
    if regulated_outside(configuration) or not regulated_inside(configuration):
        return
    left = tuple(w.id for w in configuration.wires if w.circuit in EXTERNAL_CIRCUITS)
    if left:
        yield Finding(
            code="CHG-FIELD-LEFT",
            severity=Severity.WARNING,
            subjects=at_wires(left),
            remedy=Remedy("remove-or-cap", edits=taken_out(left)),
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
            yield Finding(
                code="CHG-NO-REGULATOR",
                severity=Severity.WARNING,
                subjects=(at_part(machine.role),),
                remedy=Remedy("join-field-to-field"),
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
        scaled = "" if volts == 12.0 else "; scaled from 12 V to {system:g}"
        yield Finding(
            code="CHG-SET-POINT",
            cause="high" if found > high else "low",
            severity=Severity.WARNING,
            subjects=(at_part(part.role),),
            value=volt(found),
            limit=volt(high if found > high else low),
            facts={"least": volt(low), "most": volt(high), "system": volt(volts)},
            remedy=Remedy("change-regulator", edits=(_set_right(part, volts),)),
            source=f"US Army TM 10-3930-621-12 and TM 5-3820-233-35/1{scaled}",
        )


def _set_right(part: Component, volts: float) -> Rerate:
    """The middle of what a battery stands."""
    return Rerate(part.role, {"set_point": sum(SET_POINT_V) / 2 * volts / 12.0})


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
            yield Finding(
                code="CHG-GROUND",
                severity=Severity.WARNING,
                subjects=(at_part(part.role),),
                remedy=Remedy("join-ground"),
                source="NAVEDTRA 14273, p. 2-24: 0.1 V at most from housing to battery",
            )


def dynamo_polarising(examined: Examined) -> Iterator[Finding]:
    """A dynamo wants polarising after work, in the way of its field circuit."""
    labels = _box_labels(examined.configuration)
    for dynamo in examined.configuration.parts_of(Family.DYNAMO):
        circuit = str(dynamo.ratings.get("field_circuit", "")).lower()
        yield Finding(
            code="CHG-POLARISE",
            severity=Severity.NOTE,
            subjects=(at_part(dynamo.role),),
            remedy=Remedy(POLARISING.get(circuit, "find-field-circuit-and-polarise"), labels),
            source="US Army TM 5-3810-300-24&P-3, p. 330",
        )


POLARISING = {"a": "polarise-by-armature", "b": "polarise-by-field-lead"}
"""Remedy by the field circuit of a dynamo."""


def _box_labels(configuration: Configuration) -> Facts:
    """What battery side, armature and field are called at control box or cut-out."""
    words = {"supply": "battery side", "armature": "dynamo side", "field": "field"}
    boxes = [
        part
        for part in configuration.parts_of(Family.REGULATOR, Family.CUT_OUT)
        if part.terminal("armature") is not None
    ]
    found = [(name, boxes[0].terminal(name) if boxes else None) for name in words]
    return {name: f"{t.mark} ({words[name]})" if t and t.mark else words[name] for name, t in found}
