"""
Defects, one at a time: which broken wire or bad joint moves which reading, and how far.

Simulated are every wire open, every wire with more resistance at an end, every part whose ground
through its mounting is lost or bad. Two ends of a wire cannot be told apart by a meter at its
terminals, so a wire has one bad joint. The machine is not simulated as failed: a slack belt or a
burnt field is for the words beside the reading.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from math import inf

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.circuit import role_of, wire_name
from upgrade_planner.electrical.network.condensed import Watched
from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.solving import Solution
from upgrade_planner.electrical.operating_points import KEPT_POINTS, OperatingPoint
from upgrade_planner.readings.points import PlacedReading, ReadingPoint, placed
from upgrade_planner.readings.predicting import Points
from upgrade_planner.readings.tolerances import is_mounting
from upgrade_planner.readings.watching import seen_by, starters_of

BAD_JOINT_OHM = 0.1
"""Bad joint in an ordinary circuit. [Ω] Source: our assumption; at 10 A it costs 1 V and turns 10 W
into heat at one terminal: lamps are dim and the terminal is too hot to touch."""

BAD_CABLE_JOINT_OHM = 5e-3
"""Bad joint in a cranking cable. [Ω] Source: our assumption; at 150 A it drops 0.75 V, nearly twice
the 0.4 V that TM 10-3930-671-24 p. F-303 allows for the whole live path."""

CABLE_A = 50.0
"""A wire that carries more than this while cranking counts as a cranking cable. [A]
Source: our assumption; the starter takes more, nothing else does."""

STALLED_RATIO = 0.5
"""With less of its current a starter does not turn, and no cranking reading can be taken. [1]
Source: our assumption."""

IDLE_A = 1e-3
"""A bad joint in a wire with less current moves no reading, and a starter with less is at rest. [A]
Source: our assumption."""


@frozen(kw_only=True)
class Defect:
    """
    One defect.

    Attributes:
        element: Element of the network that is defective.
        wire: Id of the wire, or "" if a mounting is meant.
        part: Role of the part with the bad ground, or "".
        added_ohm: Resistance added; None if open. [Ω]
    """

    element: str
    wire: str = ""
    part: str = ""
    added_ohm: float | None = None


Moves = Mapping[str, Mapping[Defect, float]]
"""Value of each reading, by its id, under each defect. [V]"""


Neighbours = Mapping[object, Sequence[tuple[object, str]]]
"""The nodes that elements join to each node, and the names of these."""


def defects_of(configuration: Configuration, points: Points) -> tuple[Defect, ...]:
    """All defects that are simulated, wires first."""
    cranking = points.get("cranking")
    found: list[Defect] = []
    for wire in configuration.wires:
        is_cable = cranking is not None and abs(cranking.wire_current_a(wire.id)) > CABLE_A
        ohms = BAD_CABLE_JOINT_OHM if is_cable else BAD_JOINT_OHM
        name = wire_name(wire.id)
        found += [Defect(element=name, wire=wire.id, added_ohm=o) for o in (None, ohms)]
    for name in _mountings(points):
        at_starter = cranking is not None and abs(cranking.element_current_a(name)) > CABLE_A
        ohms = BAD_CABLE_JOINT_OHM if at_starter else BAD_JOINT_OHM
        part = role_of(name)
        found += [Defect(element=name, part=part, added_ohm=o) for o in (None, ohms)]
    return tuple(found)


def _mountings(points: Points) -> list[str]:
    names = {
        element.name
        for point in points.values()
        for element in point.solution.network.elements
        if is_mounting(element)
    }
    return sorted(names)


def moves(readings: Iterable[ReadingPoint], configuration: Configuration, points: Points) -> Moves:
    """What every reading would show under every defect that can touch it. [V]"""
    found: dict[str, Mapping[Defect, float]] = {}
    defects = defects_of(configuration, points)
    taken = [at for at in (placed(reading, configuration) for reading in readings) if at]
    for state, point in points.items():
        here = tuple(reading for reading in taken if reading.point.state == state)
        if here:
            found |= _moves_in(here, point, defects)
    return found


@lru_cache(maxsize=KEPT_POINTS)
def _moves_in(
    readings: tuple[PlacedReading, ...], point: OperatingPoint, defects: tuple[Defect, ...]
) -> Moves:
    """The readings of one state, kept: jobs from two cars to one end with the same readings."""
    found: dict[str, dict[Defect, float]] = {}
    for defect, solution in _solutions(defects, point, seen_by(readings, point)):
        for reading in readings:
            found.setdefault(reading.point.id, {})[defect] = reading.value_v(solution)
    return found


def _solutions(
    defects: Iterable[Defect], point: OperatingPoint, seen: Watched
) -> Iterator[tuple[Defect, Solution]]:
    """
    The defects that change anything in a state; one that stops the cranking ends that state.

    Like defects in a row are one to all that is watched, and solved once.
    """
    starters = starters_of(point)
    cranking_a = sum(point.element_current_a(role) for role in starters)
    least_a = STALLED_RATIO * cranking_a if cranking_a > IDLE_A else -inf
    neighbours = _neighbours(seen.network)
    known: dict[tuple[str, float | None], Solution | None] = {}
    for defect in defects:
        like = (seen.seen_as(defect.element), defect.added_ohm)
        if like not in known:
            known[like] = _under(defect, seen, neighbours)
        solution = known[like]
        if solution and (least_a == -inf or solution.sum_a(starters) >= least_a):
            yield defect, solution


def _under(defect: Defect, seen: Watched, neighbours: Neighbours) -> Solution | None:
    """The state with a defect; None if the defect changes nothing here or has no solution."""
    name = seen.seen_as(defect.element)
    if not name:
        return None
    if abs(seen.base.current_a[defect.element]) < IDLE_A:
        is_open = defect.added_ohm is None
        if not is_open or not _cuts_off(name, seen, neighbours):
            return None
    if defect.added_ohm is None:
        return seen.solved({defect.element: None})
    element = seen.element(defect.element)
    assert isinstance(element, Resistor)
    return seen.solved(
        {defect.element: evolve(element, resistance_ohm=element.resistance_ohm + defect.added_ohm)}
    )


def _neighbours(network: Network) -> Neighbours:
    found: dict[object, list[tuple[object, str]]] = {}
    for element in network.elements:
        one, other = element.ends
        found.setdefault(one, []).append((other, element.name))
        found.setdefault(other, []).append((one, element.name))
    return found


def _cuts_off(name: str, seen: Watched, neighbours: Neighbours) -> bool:
    """Whether something that is watched hangs on one element."""
    reached: set[object] = {seen.network.reference}
    queue: list[object] = [seen.network.reference]
    while queue:
        for node, element in neighbours.get(queue.pop(), ()):
            if node not in reached and element != name:
                reached.add(node)
                queue.append(node)
    return any(node not in reached for node in seen.nodes if node in seen.base.voltage_v)
