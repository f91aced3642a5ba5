"""Rules on dynamos: the circuit of the field, the cut-out, the control box and its ground."""

from collections.abc import Iterator

from upgrade_planner.checks.charging import is_control_box, regulated_outside
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_wires,
)
from upgrade_planner.checks.paths import (
    is_grounded,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_reached,
)
from upgrade_planner.configuration.kinds import Family, Passing
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import ampere, volt
from upgrade_planner.electrical.models.context import Context, ref_of
from upgrade_planner.electrical.models.dynamos import field_circuit, is_controlled
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import OperatingPoint, operating_point
from upgrade_planner.electrical.passing import ways_through
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import IDLING, LOADED, OFF, Engine, State

BLOCKING = (Passing.CUT_OUT, Passing.DIODE)
"""What lets a dynamo's current to the battery and none back."""


def boxes(configuration: Configuration) -> list[Component]:
    """Control boxes: regulators with an armature terminal."""
    return [part for part in configuration.parts_of(Family.REGULATOR) if is_control_box(part)]


def field_circuits_differ(examined: Examined) -> Iterator[Finding]:
    """A dynamo of one field circuit on a control box of the other: it never builds up."""
    configuration = examined.configuration
    context = Context(configuration=configuration, state=IDLING)
    for dynamo in configuration.parts_of(Family.DYNAMO):
        box = context.regulator_of(dynamo)
        if box is None or not {"field_circuit"} <= {*box.ratings} & {*dynamo.ratings}:
            continue
        if field_circuit(box) == field_circuit(dynamo):
            continue
        yield Finding(
            code="CHG-FIELD-CIRCUIT",
            cause="dynamo-a" if field_circuit(dynamo) == "A" else "dynamo-b",
            severity=Severity.WARNING,
            subjects=(at_part(dynamo.role), at_part(box.role)),
            remedy=Remedy("fit-box-for-dynamo"),
            source="common practice; circuits as in US Army TM 5-3810-300-24&P-3, p. 330",
        )


def no_cut_out(examined: Examined) -> Iterator[Finding]:
    """The armature is joined to the battery without a cut-out: at rest it discharges it."""
    configuration = examined.configuration
    barred = {
        part.role
        for part in configuration.components
        if any(way.passing in BLOCKING for way in ways_through(part))
    }
    links = tuple(link for link in links_of(configuration, OFF) if link.name not in barred)
    point = examined.points.get(OFF.name)
    for dynamo in configuration.parts_of(Family.DYNAMO):
        path = paths_from(links, f"{dynamo.role}.armature").get(live_node(configuration))
        if path is None:
            continue
        amps = abs(point.element_current_a(f"{dynamo.role}:armature")) if point else 0.0
        yield Finding(
            code="CHG-NO-CUT-OUT",
            cause="flows" if amps > 1.0 else "joined",
            severity=Severity.DANGER,
            subjects=(at_part(dynamo.role), *at_wires(names_on(path))),
            value=ampere(amps),
            remedy=Remedy("lead-armature-to-cut-out"),
            source="common practice; current computed with 0.2 Ω of armature, our assumption",
        )


def full_field(examined: Examined) -> Iterator[Finding]:
    """The field gets its whole current past the box: voltage and current have no bound."""
    configuration = examined.configuration
    context = Context(configuration=configuration, state=IDLING)
    for dynamo in configuration.parts_of(Family.DYNAMO):
        box = context.regulator_of(dynamo)
        if box is None or is_controlled(dynamo, context):
            continue
        is_a = field_circuit(dynamo) == "A"
        blind = not is_a and not _wired_ground(box, configuration)
        if blind:
            continue  # the rule on the box's ground says so
        battery_v = None if IDLING.name not in examined.points else highest_v(examined)
        cause = "grounded" if is_a else "fed"
        if battery_v is not None:
            cause = "grounded-computed" if is_a else "fed-computed"
        yield Finding(
            code="CHG-FULL-FIELD",
            cause=cause,
            severity=Severity.DANGER,
            subjects=(
                at_part(dynamo.role),
                *at_wires(wires_reached(TerminalRef(dynamo.role, "field"), configuration)),
            ),
            value=None if battery_v is None else volt(battery_v),
            remedy=Remedy("leave-one-field-wire"),
            source="common practice; volts computed",
        )


def highest_v(examined: Examined) -> float:
    """Highest battery voltage while the engine runs. [V]"""
    states = (IDLING.name, LOADED.name)
    return max((p.battery_v for name, p in examined.points.items() if name in states), default=0.0)


def _wired_ground(box: Component, configuration: Configuration) -> bool:
    if box.terminal("case") is not None:
        return True
    return bool(configuration.wires_at.get(TerminalRef(box.role, "ground")))


def box_not_grounded(examined: Examined) -> Iterator[Finding]:
    """A control box without ground: its voltage unit is dead."""
    configuration = examined.configuration
    links = links_of(configuration, IDLING)
    for box in boxes(configuration):
        if is_grounded(box, configuration, links):
            continue
        dynamos = configuration.parts_of(Family.DYNAMO)
        is_a = any(field_circuit(dynamo) == "A" for dynamo in dynamos)
        yield Finding(
            code="CHG-BOX-GROUND",
            cause="field-not-grounded" if is_a else "full-field",
            severity=Severity.WARNING if is_a else Severity.DANGER,
            subjects=(at_part(box.role),),
            remedy=Remedy("ground-box"),
            source="common practice",
        )


def cut_out_not_grounded(examined: Examined) -> Iterator[Finding]:
    """A cut-out whose winding has no return never closes."""
    configuration = examined.configuration
    links = links_of(configuration, IDLING)
    for part in configuration.parts_of(Family.CUT_OUT):
        has_return = any(part.terminal(name) for name in ("ground", "case"))
        if has_return and not is_grounded(part, configuration, links):
            yield Finding(
                code="CHG-CUT-OUT-GROUND",
                severity=Severity.WARNING,
                subjects=(at_part(part.role),),
                remedy=Remedy("clean-or-wire-ground"),
                source="common practice",
            )


def does_not_build_up(examined: Examined) -> Iterator[Finding]:
    """A dynamo without field current, or an alternator whose regulator gets no feed."""
    configuration = examined.configuration
    point = examined.points.get(LOADED.name)
    known = {f.subjects[0].name for rule in KNOWN_CAUSES for f in rule(examined)}
    for machine in regulated_outside(configuration) if point is not None else ():
        if (
            point is None
            or machine.role in point.operated
            or known & {machine.role, *_boxes(examined)}
        ):
            continue
        yield Finding(
            code="CHG-NO-FIELD",
            cause="dynamo" if machine.family is Family.DYNAMO else "regulator",
            severity=Severity.WARNING,
            subjects=(
                at_part(machine.role),
                *at_wires(wires_reached(TerminalRef(machine.role, "field"), configuration)),
            ),
            value=ampere(abs(point.element_current_a(f"{machine.role}:field"))),
            remedy=Remedy("follow-field"),
            source="network computation",
        )


def _boxes(examined: Examined) -> set[str]:
    return {box.role for box in boxes(examined.configuration)}


KNOWN_CAUSES = (field_circuits_differ, box_not_grounded)
"""Rules that explain a missing field better."""


BY_DAY = State(IDLING.name, "running, loads off", IDLING.key, Engine.RUNNING)
"""The switches of `idling`, found by its name, at the speed of the road."""

FULL_BATTERY_A = 3.0
"""Current into a full battery that boils it in the long run. [A] Source: our assumption: a
twentieth of the capacity figure."""


def unregulated(examined: Examined) -> Iterator[Finding]:
    """A dynamo that nothing regulates, as built: what the battery gets when it is full."""
    configuration = examined.configuration
    context = Context(configuration=configuration, state=IDLING)
    for dynamo in configuration.parts_of(Family.DYNAMO):
        point = _by_day(examined)
        if context.regulator_of(dynamo) is not None or point is None:
            continue
        amps = battery_current_a(point)
        if amps > FULL_BATTERY_A:
            yield Finding(
                code="CHG-UNREGULATED",
                severity=Severity.CAUTION,
                subjects=(at_part(dynamo.role),),
                value=ampere(amps),
                limit=ampere(FULL_BATTERY_A),
                facts={"battery": volt(point.battery_v)},
                remedy=Remedy("set-charge-low"),
                source="computed; the curve of such a dynamo is our assumption",
            )


def _by_day(examined: Examined) -> OperatingPoint | None:
    """The road by day, nothing switched on; None if it cannot be computed."""
    try:
        return operating_point(examined.configuration, BY_DAY) if examined.points else None
    except NetworkError:
        return None


def no_field_fuse(examined: Examined) -> Iterator[Finding]:
    """A third-brush dynamo whose field has no fuse: without a battery it burns itself."""
    configuration = examined.configuration
    fused = {part.role for part in configuration.components if part.is_single_fuse}
    for dynamo in configuration.parts_of(Family.DYNAMO):
        if "third_brush_current" not in dynamo.ratings:
            continue
        links = links_of(configuration, IDLING)
        reached = paths_from(links, f"{dynamo.role}.field")
        if not any(ref_of(node).role in fused for node in reached):
            yield Finding(
                code="CHG-FIELD-FUSE",
                severity=Severity.CAUTION,
                subjects=(at_part(dynamo.role),),
                remedy=Remedy("fit-field-fuse"),
                source="common practice",
            )
