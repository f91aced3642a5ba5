"""Rules on dynamos: the circuit of the field, the cut-out, the control box and its ground."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.checks.paths import (
    is_grounded,
    links_of,
    live_node,
    names_on,
    of_kind,
    paths_from,
    wires_of,
)
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.models.dynamos import field_circuit, is_controlled
from upgrade_planner.electrical.network.errors import NetworkError
from upgrade_planner.electrical.operating_points import OperatingPoint, operating_point
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import IDLING, LOADED, OFF, Engine, State

CUT_OUTS = ("cut_out", "regulator_electromechanical", "diode")
"""Kinds that let a dynamo's current to the battery and none back."""

CIRCUITS = {
    "A": "A (grounded by the box)",
    "B": "B (fed by the box, grounded inside the dynamo)",
}


def boxes(configuration: Configuration) -> list[Component]:
    """Control boxes: regulators with an armature terminal."""
    found = of_kind(configuration, "regulator_electromechanical")
    return [part for part in found if part.terminal("armature") is not None]


def field_circuits_differ(examined: Examined) -> Iterator[Finding]:
    """A dynamo of one field circuit on a control box of the other: it never builds up."""
    configuration = examined.configuration
    context = Context(configuration=configuration, state=IDLING)
    for dynamo in of_kind(configuration, "dynamo"):
        box = context.regulator_of(dynamo)
        if box is None or not {"field_circuit"} <= {*box.ratings} & {*dynamo.ratings}:
            continue
        if field_circuit(box) == field_circuit(dynamo):
            continue
        yield worded(
            code="CHG-FIELD-CIRCUIT",
            title="Dynamo and control box of different field circuits",
            severity=Severity.WARNING,
            where=(dynamo.role, box.role),
            what=f"The dynamo's field is of circuit {CIRCUITS[field_circuit(dynamo)]}, the box is "
            f"made for {CIRCUITS[field_circuit(box)]}: no field current flows, nothing is charged.",
            remedy="Fit the box for this dynamo, or have the field lead inside the dynamo changed "
            "over by somebody who knows it. Never try by grounding or feeding F.",
            source="common practice; circuits as in US Army TM 5-3810-300-24&P-3, p. 330",
        )


def no_cut_out(examined: Examined) -> Iterator[Finding]:
    """The armature is joined to the battery without a cut-out: at rest it discharges it."""
    configuration = examined.configuration
    barred = {part.role for part in of_kind(configuration, *CUT_OUTS)}
    links = [link for link in links_of(configuration, OFF) if link.name not in barred]
    point = examined.points.get(OFF.name)
    for dynamo in of_kind(configuration, "dynamo"):
        path = paths_from(links, f"{dynamo.role}.armature").get(live_node(configuration))
        if path is None:
            continue
        amps = abs(point.element_current_a(f"{dynamo.role}:armature")) if point else 0.0
        flow = f"; about {amps:.0f} A flow with the engine stopped" if amps > 1.0 else ""
        yield worded(
            code="CHG-NO-CUT-OUT",
            title="No cut-out between dynamo and battery",
            severity=Severity.DANGER,
            where=(dynamo.role, *names_on(path)),
            what=f"Battery and armature are joined for good{flow}: the dynamo runs as a motor or "
            "burns, and its wire with it.",
            remedy="Lead the armature to D of a control box or cut-out, the battery side to B.",
            source="common practice; current computed with 0.2 Ω of armature, our assumption",
        )


def full_field(examined: Examined) -> Iterator[Finding]:
    """The field gets its whole current past the box: voltage and current have no bound."""
    configuration = examined.configuration
    context = Context(configuration=configuration, state=IDLING)
    for dynamo in of_kind(configuration, "dynamo"):
        box = context.regulator_of(dynamo)
        if box is None or is_controlled(dynamo, context):
            continue
        is_a = field_circuit(dynamo) == "A"
        blind = not is_a and not _wired_ground(box, configuration)
        if blind:
            continue  # the rule on the box's ground says so
        how = "grounded" if is_a else "joined to the armature"
        yield worded(
            code="CHG-FULL-FIELD",
            title="Field past the control box",
            severity=Severity.DANGER,
            where=(dynamo.role, *_wires_at(TerminalRef(dynamo.role, "field"), configuration)),
            what=f"The field is {how} by a wire as well as by the box: nothing limits "
            f"the voltage{_volts(examined)}.",
            remedy="Leave one wire at the field terminal: the one from F of the control box.",
            source="common practice; volts computed",
        )


def _wires_at(ref: TerminalRef, configuration: Configuration) -> tuple[str, ...]:
    reached = paths_from(wires_of(configuration), str(ref))
    return tuple(sorted({link.name for path in reached.values() for link in path if link.is_wire}))


def _volts(examined: Examined) -> str:
    point = examined.points.get(IDLING.name)
    return "" if point is None else f"; {highest_v(examined):.1f} V at the battery"


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
        dynamos = of_kind(configuration, "dynamo")
        is_a = any(field_circuit(dynamo) == "A" for dynamo in dynamos)
        what = (
            "Its contacts cannot ground the field: nothing is charged."
            if is_a
            else "Its voltage unit and cut-out are dead: the field gets all it can, and the "
            "cut-out may not part dynamo and battery."
        )
        yield worded(
            code="CHG-BOX-GROUND",
            title="Control box without ground",
            severity=Severity.WARNING if is_a else Severity.DANGER,
            where=(box.role,),
            what=f"No wire or metal leads from its ground terminal to the battery. {what}",
            remedy="Join E of the box to the metal, and box and dynamo frame to each other.",
            source="common practice",
        )


def cut_out_not_grounded(examined: Examined) -> Iterator[Finding]:
    """A cut-out whose winding has no return never closes."""
    configuration = examined.configuration
    links = links_of(configuration, IDLING)
    for part in of_kind(configuration, "cut_out"):
        has_return = any(part.terminal(name) for name in ("ground", "case"))
        if has_return and not is_grounded(part, configuration, links):
            yield worded(
                code="CHG-CUT-OUT-GROUND",
                title="Cut-out without ground",
                severity=Severity.WARNING,
                where=(part.role,),
                what="No wire or metal leads from it to the battery: its winding is dead, it never "
                "closes, nothing is charged.",
                remedy="Clean metal under its base, or a ground wire.",
                source="common practice",
            )


def does_not_build_up(examined: Examined) -> Iterator[Finding]:
    """A dynamo without field current, or an alternator whose regulator gets no feed."""
    configuration = examined.configuration
    point = examined.points.get(LOADED.name)
    known = {f.where[0] for rule in KNOWN_CAUSES for f in rule(examined)}
    kinds = ("dynamo", "alternator_external_regulator")
    for machine in of_kind(configuration, *kinds) if point is not None else ():
        if (
            point is None
            or machine.role in point.operated
            or known & {machine.role, *_boxes(examined)}
        ):
            continue
        yield worded(
            code="CHG-NO-FIELD",
            title="Machine without field",
            severity=Severity.WARNING,
            where=(machine.role, *_wires_at(TerminalRef(machine.role, "field"), configuration)),
            what=_why(machine, point),
            remedy="Follow the field from the machine over the regulator to its feed or ground.",
            source="network computation",
        )


def _boxes(examined: Examined) -> set[str]:
    return {box.role for box in boxes(examined.configuration)}


def _why(machine: Component, point: OperatingPoint) -> str:
    if machine.kind == "dynamo":
        amps = abs(point.element_current_a(f"{machine.role}:field"))
        return f"{amps:.2f} A flow through the field, engine running: it does not build up."
    return "Its regulator gets no voltage with the key on: no field, no charge."


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
    for dynamo in of_kind(configuration, "dynamo"):
        point = _by_day(examined)
        if context.regulator_of(dynamo) is not None or point is None:
            continue
        amps = battery_current_a(point)
        if amps > FULL_BATTERY_A:
            yield worded(
                code="CHG-UNREGULATED",
                title="Nothing holds the charging voltage",
                severity=Severity.CAUTION,
                where=(dynamo.role,),
                what=f"{amps:.0f} A go on flowing into a full battery on the road with all loads "
                f"off ({point.battery_v:.1f} V): it boils.",
                remedy="Set the charge low, switch lamps on by day on long runs, look after the "
                "acid; or fit a regulated machine.",
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
    fused = {part.role for part in of_kind(configuration, "fuse")}
    for dynamo in of_kind(configuration, "dynamo"):
        if "third_brush_current" not in dynamo.ratings:
            continue
        links = links_of(configuration, IDLING)
        reached = paths_from(links, f"{dynamo.role}.field")
        if not any(node.partition(".")[0] in fused for node in reached):
            yield worded(
                code="CHG-FIELD-FUSE",
                title="Third-brush dynamo without field fuse",
                severity=Severity.CAUTION,
                where=(dynamo.role,),
                what="If a battery cable comes loose while it runs, its voltage climbs until the "
                "field burns.",
                remedy="Fit a fuse of 5 to 7.5 A in the field lead.",
                source="common practice",
            )
