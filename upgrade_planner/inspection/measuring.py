"""
What a meter should show on single wires and parts, before anything is planned.

Ranges come from the network's own elements and the table of tolerances, so that form, work sheet
and judgement agree. They are rounded outwards to what a hand meter shows, and compared so.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from math import ceil, floor, hypot

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.electrical.batteries import grounded_post, live_post
from upgrade_planner.electrical.circuit import elements_of, wire_element
from upgrade_planner.electrical.models.dynamos import field_circuit
from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.states import CRANKING, KEY_ON, OFF
from upgrade_planner.readings.points import ReadingPoint, placed
from upgrade_planner.readings.predicting import Range, predicted
from upgrade_planner.readings.tolerances import TOLERANCES, ElementOrigins

METER_STEP_OHM = 0.1
"""Smallest step of a hand meter on its lowest range, and what its leads leave. [Ω]
Source: our assumption."""

METER_STEP_V = {"fine": 0.01, "coarse": 0.1}
"""Smallest step that counts below and above 1 V. [V] Source: our assumption."""

FIELD_RATIO = (0.9, 1.5)
"""Field winding with brushes and slip rings or commutator, against its rating. [1]
Source: our assumption."""

WORTH_MEASURING_V = 0.02
"""A ground path that drops less while cranking is better measured in ohms. [V]
Source: our assumption."""

WORKSHOP_C = 20.0
"""Temperature of a wire that is measured in ohms. [°C]"""

KEPT = 16
"""Configurations whose measurements are at hand. A number of our own."""

GROUND_CIRCUITS = ("ground", "battery cable")
CRANKING_CIRCUITS = (*GROUND_CIRCUITS, "starter cable")
COIL_FEED = "coil-feed-key-on"


@frozen(kw_only=True)
class Measurement:
    """
    One value worth measuring on one wire or part.

    Attributes:
        kind: `wire`, `part` or `reading`.
        id: Id of the wire, role of the part, or name of the reading.
        dimension: Resistance or voltage.
        state: `dead` (battery disconnected), `off`, `key_on` or `cranking`.
        between: The two terminals, or what else the leads touch.
        low: Lowest value that is not odd. [Ω or V]
        high: Highest value that is not odd. [Ω or V]
        rating: Rating of the part that a measured resistance may replace, or "".
        if_low: What a lower value would mean.
        if_high: What a higher value would mean.
    """

    kind: str
    id: str
    dimension: Dimension
    state: str
    between: tuple[str, str]
    low: float
    nominal: float
    high: float
    rating: str = ""
    if_low: str
    if_high: str


@lru_cache(maxsize=KEPT)
def measurements(configuration: Configuration) -> tuple[Measurement, ...]:
    """
    The values worth measuring in a configuration: wires by id, parts by role, then readings.

    Kept for whoever asks next: the form, its reader and its judge ask for one vehicle.
    """
    drops = _drops(configuration)
    wires = [_of_wire(wire, configuration, drops) for wire in configuration.wires]
    parts = [_of_part(part, configuration) for part in configuration.components]
    volts = [_battery(configuration, drops), _coil_feed(configuration, drops)]
    return tuple(found for found in (*wires, *parts, *volts) if found is not None)


def expected_wire_resistance(
    wire: Wire, configuration: Configuration, length_m: float | None = None
) -> Measurement:
    """
    Resistance to expect between the ends of any wire, with one end taken off.

    Args:
        wire: The wire; its size and conductor may be those found on the vehicle.
        configuration: Where it runs.
        length_m: Length found on the vehicle, if another. [m]
    """
    run = configuration.runs[wire.id]
    length_m = run.length_m if length_m is None else length_m
    runs = {**configuration.runs, wire.id: evolve(run, length_m=length_m)}
    wires = tuple(wire if old.id == wire.id else old for old in configuration.wires)
    there = evolve(configuration, runs=runs, wires=wires)
    element = wire_element(wire, there, WORKSHOP_C)
    low, high = _strayed(element, ElementOrigins(there))
    is_resistance = wire.conductor is Conductor.RESISTANCE
    return _measured(
        "wire",
        wire.id,
        (str(wire.start), str(wire.end)),
        (low, element.resistance_ohm, high),
        rating="resistance" if is_resistance else "",
        if_low="plain wire in its place, or another wire that bypasses it"
        if is_resistance
        else "nothing: the leads were held together",
        if_high="a break or a bad joint in it"
        if is_resistance
        else "a bad joint or broken strands in it; a good one shows next to nothing",
    )


def _of_wire(
    wire: Wire, configuration: Configuration, drops: Mapping[str, Range | None]
) -> Measurement | None:
    drop = drops.get(wire.id)
    if drop is not None and drop.nominal_v >= WORTH_MEASURING_V:
        return _volts(
            "wire",
            wire.id,
            "cranking",
            (str(wire.start), str(wire.end)),
            drop,
            if_low="less current than reckoned, or another path beside it",
            if_high="a bad joint at one end, paint or rust under a ring, or broken strands",
        )
    tells = wire.conductor is Conductor.RESISTANCE or wire.circuit in GROUND_CIRCUITS
    return expected_wire_resistance(wire, configuration) if tells else None


def _of_part(part: Component, configuration: Configuration) -> Measurement | None:
    if part.family is Family.RESISTOR:
        return _part_ohms(
            part,
            configuration,
            part.role,
            ("in", "out"),
            "resistance",
            if_low="bridged, or a resistor of another value",
            if_high="burnt, cracked, or a loose end",
        )
    if part.family is Family.COIL:
        return _part_ohms(
            part,
            configuration,
            part.role,
            ("positive", "negative"),
            "primary_resistance",
            if_low="a coil of another sort (for use with a resistance?), or shorted turns",
            if_high="a coil of another sort (for full voltage?), or a break inside",
        )
    if (
        part.terminal_as(TerminalUse.FIELD)
        and "field_resistance" in part.ratings
        and part.can(Capability.CHARGES)
    ):
        return _field(part)
    return None


def _part_ohms(
    part: Component,
    configuration: Configuration,
    name: str,
    terminals: tuple[str, str],
    rating: str,
    if_low: str,
    if_high: str,
) -> Measurement | None:
    elements = elements_of(configuration, OFF, {})
    element = next((e for e in elements if e.name == name and isinstance(e, Resistor)), None)
    if element is None:
        return None
    low, high = _strayed(element, ElementOrigins(configuration))
    ends = tuple(str(TerminalRef(part.role, terminal)) for terminal in terminals)
    return _measured(
        "part",
        part.role,
        (ends[0], ends[1]),
        (low, element.resistance_ohm, high),
        rating=rating,
        if_low=if_low,
        if_high=if_high,
    )


def _field(part: Component) -> Measurement:
    """Field of an alternator or dynamo; of circuit A it ends at the armature, else on the frame."""
    ohms = part.ratings["field_resistance"]
    if part.family is Family.DYNAMO and field_circuit(part) == "A":
        far = "armature"
    else:
        far = next((name for name in ("case", "ground") if part.terminal(name)), "case")
    other = "; or a field of the other circuit (A or B)" if part.family is Family.DYNAMO else ""
    ends = (str(TerminalRef(part.role, "field")), str(TerminalRef(part.role, far)))
    return _measured(
        "part",
        part.role,
        ends,
        (ohms * FIELD_RATIO[0], ohms, ohms * FIELD_RATIO[1]),
        rating="field_resistance",
        if_low="shorted turns, or a machine of another sort",
        if_high=f"worn brushes, dirty rings or commutator, a break{other}",
    )


def _measured(
    kind: str,
    id_: str,
    between: tuple[str, str],
    ohms: tuple[float, float, float],
    rating: str,
    if_low: str,
    if_high: str,
) -> Measurement:
    low, nominal, high = ohms
    steps = 1 / METER_STEP_OHM
    return Measurement(
        kind=kind,
        id=id_,
        dimension=Dimension.RESISTANCE,
        state="dead",
        between=between,
        low=max(0.0, floor(low * steps + 1e-6) / steps),
        nominal=nominal,
        high=ceil(high * steps - 1e-6) / steps,
        rating=rating,
        if_low=if_low,
        if_high=if_high,
    )


def _strayed(element: Resistor, parts: ElementOrigins) -> tuple[float, float]:
    """Lowest and highest resistance by all tolerances, combined as the root of their squares."""
    nominal = element.resistance_ohm
    fall = rise = 0.0
    for tolerance in TOLERANCES:
        moved = [tolerance.scaled(element, ratio, parts) for ratio in tolerance.ratios(1.0)]
        changes = [m.resistance_ohm - nominal for m in moved if isinstance(m, Resistor)]
        fall, rise = hypot(fall, min([0.0, *changes])), hypot(rise, max([0.0, *changes]))
    return nominal - fall, nominal + rise


def _volts(
    kind: str,
    id_: str,
    state: str,
    between: tuple[str, str],
    expected: Range,
    if_low: str,
    if_high: str,
) -> Measurement:
    step = METER_STEP_V["fine" if expected.high_v < 1 else "coarse"]
    digits = 2 if expected.high_v < 1 else 1
    return Measurement(
        kind=kind,
        id=id_,
        dimension=Dimension.VOLTAGE,
        state=state,
        between=between,
        low=max(0.0, round(floor(expected.low_v / step + 1e-6) * step, digits)),
        nominal=expected.nominal_v,
        high=round(ceil(expected.high_v / step - 1e-6) * step, digits),
        if_low=if_low,
        if_high=if_high,
    )


def _battery(configuration: Configuration, drops: Mapping[str, Range | None]) -> Measurement | None:
    live, grounded = live_post(configuration), grounded_post(configuration)
    expected = drops.get("battery")
    if live is None or grounded is None or expected is None:
        return None
    return _volts(
        "part",
        live.role,
        "off",
        (f"{live.role}.live", f"{grounded.role}.grounded"),
        expected,
        if_low="discharged, or a cell is dead: charge and test it before anything is judged",
        if_high="charged within the last hours, or a battery of another voltage",
    )


def _coil_feed(
    configuration: Configuration, drops: Mapping[str, Range | None]
) -> Measurement | None:
    expected = drops.get(COIL_FEED)
    if expected is None or "coil" not in configuration.component_by_role:
        return None
    at = placed(_coil_point(), configuration)
    feed = str(at.live.ref) if at and at.live.ref else "coil.positive"
    return _volts(
        "reading",
        COIL_FEED,
        "key_on",
        (feed, "bare metal of the engine"),
        expected,
        if_low="a bad joint, key switch or resistance before the coil; or a coil of another sort",
        if_high="resistance bypassed or replaced by plain wire; or points not closed",
    )


def _coil_point() -> ReadingPoint:
    return ReadingPoint(
        id=COIL_FEED, state=KEY_ON.name, live_side=("coil.feed",), ground_side=("metal.engine",)
    )


def _drops(configuration: Configuration) -> Mapping[str, Range | None]:
    """Predicted voltages by wire id, for the battery at rest and for the coil feed."""
    points = list(_points(configuration))
    names = {point.id for point in points}
    found = predicted(points, configuration)
    return {name: _unsigned(found[name]) for name in names if name in found}


def _points(configuration: Configuration) -> Iterator[ReadingPoint]:
    for wire in configuration.wires:
        if wire.circuit in CRANKING_CIRCUITS:
            yield ReadingPoint(
                id=wire.id,
                state=CRANKING.name,
                live_side=(str(wire.start),),
                ground_side=(str(wire.end),),
            )
    yield ReadingPoint(
        id="battery", state=OFF.name, live_side=("battery.live",), ground_side=("battery.grounded",)
    )
    has_points = bool(configuration.parts_of(Family.POINTS))
    if has_points and not configuration.parts_that(Capability.DISCHARGES):
        yield _coil_point()


def _unsigned(expected: Range | None) -> Range | None:
    """The range without regard to which lead is where."""
    if expected is None:
        return None
    if expected.nominal_v >= 0:
        return Range(max(0.0, expected.low_v), expected.nominal_v, expected.high_v)
    return Range(max(0.0, -expected.high_v), -expected.nominal_v, -expected.low_v)
