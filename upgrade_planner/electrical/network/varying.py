"""
Networks that differ from a solved one in few elements, solved from what is known of that one.

The solved network, made linear at its voltages, is factorised once. What a changed element, or one
whose law is not straight, takes beyond its line is a current that the linear network answers by its
transfer resistances. So the unknowns are the voltages over those elements alone, and Newton's
method on them takes steps that are exact for every resistor.

Where laws never fall, there is one solution, and what is found is that one. Where they may, or
where digits would be lost, the network is solved in full.

Source: multiport compensation ("Woodbury formula"): common practice of network theory.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.line_search import ROUNDING_OHM
from upgrade_planner.electrical.network.loads import PowerSink
from upgrade_planner.electrical.network.loose import holds_together, unheld
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.regulators import dense
from upgrade_planner.electrical.network.solving import Solution, solution_at, solve
from upgrade_planner.electrical.network.unsolvable import FloatingSource, NetworkError

Changed = Mapping[str, Element | None]
"""Elements by name that take the place of those of that name, at the same nodes; None: removed."""

Rows = Sequence[Sequence[float]]
"""Transfer resistances: of each port, for an ampere of every port. [Ω]"""

SETTLED_V = 1e-7
"""The search ends with a step no longer than this. [V]"""

MOST_STEPS = 12
MOST_CHANGED = 16
"""With more changed resistors a full solution is as quick."""

SLIGHT = 0.01
"""An element that stiffens or weakens the network less than this is left to the next step. [1]"""

LEAST_LEFT = 1e-7
"""Least part of a conductance seen from its ends that may stay when it is taken out: with less, the
digits that are left are too few. [1]"""


class Port(NamedTuple):
    """
    An element seen from the linear network.

    Attributes:
        ends: Indices of the nodes between which its current flows.
        senses: Indices of the nodes whose voltage its law depends on.
        element: What follows the law now; None if it is removed.
        response_v: Voltages of all indices for an ampere put in at the first end and taken out at
            the second. [Ω]
        base_v: The voltage it depended on. [V]
        base_a: Its current. [A]
        slope_s: Of its line in the linear network. [S]
    """

    ends: tuple[int, int]
    senses: tuple[int, int]
    element: Element | None
    response_v: Sequence[float]
    base_v: float
    base_a: float
    slope_s: float

    def sensed(self, values: Sequence[float]) -> float:
        """Difference of the values of all indices that its law depends on."""
        return values[self.senses[0]] - values[self.senses[1]]

    def beyond(self, across_v: float) -> tuple[float, float]:
        """What it takes at a voltage beyond its line [A], and the slope of that [S]."""
        current_a, slope_s = self.element.law(across_v) if self.element else (0.0, 0.0)
        line_a = self.base_a + self.slope_s * (across_v - self.base_v)
        return current_a - line_a, slope_s - self.slope_s


class Variations:
    """
    Solves what differs little from one solved network.

    Args:
        base: The solved network.
    """

    def __init__(self, base: Solution) -> None:
        self.base = base
        self._equations = NodalEquations(base.network)
        self._voltages = [*base.voltage_v.values()]
        self._elements = {element.name: element for element in base.network.elements}
        self._known: dict[str, Port] = {}
        slopes = [self._line_s(*branch) for branch in self._equations.curved]
        conductances = self._equations.conductances(slopes)
        self._factors = self._equations.solver.factorise(conductances)
        self._ports = list(self._bent(slopes)) if self._has_one_solution() else []
        self._rows = [
            [port.sensed(other.response_v) for other in self._ports] for port in self._ports
        ]

    def _has_one_solution(self) -> bool:
        """Whether no law falls and no two regulators can contradict each other."""
        falls = any(isinstance(branch.element, PowerSink) for branch in self._equations.curved)
        return self._factors is not None and not falls and len(self._equations.remote) <= 1

    def _line_s(self, a: int, b: int, _: int, element: Element) -> float:
        """
        Slope of the line that stands for an element in the linear network. [S]

        Its tangent, or for a constant current that through zero: else nothing would hold its node
        once its feed is taken out.
        """
        across_v = self._voltages[a] - self._voltages[b]
        current_a, slope_s = element.law(across_v)
        is_constant = slope_s == 0.0 and current_a * across_v > 0.0
        return current_a / across_v if is_constant else slope_s

    def _bent(self, slopes: Sequence[float]) -> Iterator[Port]:
        for (a, b, _, element), slope_s in zip(self._equations.curved, slopes, strict=True):
            yield self._port((a, b), (a, b), element, slope_s)
        for plus, minus, sense_plus, sense_minus, element in self._equations.remote:
            yield self._port((plus, minus), (sense_plus, sense_minus), element, 0.0)

    def _port(
        self, ends: tuple[int, int], senses: tuple[int, int], element: Element, slope_s: float
    ) -> Port:
        assert self._factors is not None
        ampere = [0.0] * (self._equations.size + 1)
        ampere[ends[0]], ampere[ends[1]] = 1.0, -1.0
        across_v = self._voltages[senses[0]] - self._voltages[senses[1]]
        current_a = element.law(across_v)[0]
        response_v = self._factors.solve(ampere)
        return Port(ends, senses, element, response_v, across_v, current_a, slope_s)

    def solved(self, changed: Changed) -> Solution | None:
        """
        The network with some elements changed.

        A source that loses its way to the reference with an element that is removed is taken out.

        Args:
            changed: The elements.

        Returns:
            What `solve` gives, but for rounding and the voltages of loose nodes; None if it gives
            nothing.
        """
        return self.near(changed) or self.in_full(changed)

    def element(self, name: str) -> Element:
        """The element of that name before any change."""
        return self._elements[name]

    def in_full(self, changed: Changed) -> Solution | None:
        """What `solve` gives; None if nothing."""
        network = self.base.network
        try:
            if None in changed.values():
                network = joined(network.reference, network.altered(changed).elements)
            else:
                network = network.altered(changed)
            return solve(network, self.base.voltage_v)
        except NetworkError:
            return None

    def near(self, changed: Changed) -> Solution | None:
        """The solution found from the base; None where that is not sure."""
        ports = self._ports_with(changed)
        if ports is None:
            return None
        across = _settled(ports, self._rows_of(ports))
        if across is None:
            return None
        voltages = self._voltages
        for port, across_v in zip(ports, across, strict=True):
            beyond_a = port.beyond(across_v)[0]
            if beyond_a:
                moves = zip(voltages, port.response_v, strict=True)
                voltages = [v - beyond_a * response for v, response in moves]
        loose = self._loose(ports, across)
        network = self.base.network.altered(changed)
        return solution_at(self._equations, network, voltages, loose, self.base.steps)

    def _ports_with(self, changed: Changed) -> list[Port] | None:
        """All ports, those of the changed elements among them; None if there are too many."""
        if not self._ports or len(changed) > MOST_CHANGED + len(self._ports):
            return None
        bent = {port.element.name for port in self._ports if port.element}
        resistors = [name for name in changed if name not in bent and self._is_joined(name)]
        if len(resistors) > MOST_CHANGED:
            return None
        ports = [
            port._replace(element=changed.get(port.element.name, port.element))
            for port in self._ports
            if port.element
        ]
        return ports + [self._straight(name)._replace(element=changed[name]) for name in resistors]

    def _is_joined(self, name: str) -> bool:
        return self.base.network.is_connected(self._elements[name])

    def _straight(self, name: str) -> Port:
        """The port of a resistor."""
        if name not in self._known:
            element = self._elements[name]
            assert isinstance(element, Resistor)
            first, second = element.ends
            ends = self._equations.index[first], self._equations.index[second]
            self._known[name] = self._port(ends, ends, element, 1.0 / element.resistance_ohm)
        return self._known[name]

    def _rows_of(self, ports: Sequence[Port]) -> Rows:
        count = len(self._ports)
        more = ports[count:]
        rows = [
            row + [port.sensed(other.response_v) for other in more]
            for row, port in zip(self._rows, ports, strict=False)
        ]
        return rows + [[port.sensed(other.response_v) for other in ports] for port in more]

    def _loose(self, ports: Sequence[Port], across: Sequence[float]) -> Iterable[int]:
        held = [*self._equations.resistors]
        for port in ports[len(self._ports) :]:
            if port.element is None:
                held.remove((*port.ends, port.slope_s))
        pairs = [(a, b) for a, b, _ in held]
        for port, across_v in zip(ports[: len(self._ports)], across, strict=False):
            if port.element and holds_together(port.element, across_v):
                pairs.append(port.ends)
        return unheld(self._equations.size, pairs)


def joined(reference: Node, elements: tuple[Element, ...]) -> Network:
    """A network without the sources that have no way to the reference."""
    try:
        return Network(reference, elements)
    except FloatingSource as error:
        return Network(reference, tuple(e for e in elements if e.name not in error.names))


def _settled(ports: Sequence[Port], rows: Rows) -> list[float] | None:
    """The voltages that the ports depend on, by Newton's method; None if that is not sure. [V]"""
    across = [port.base_v for port in ports]
    for _ in range(MOST_STEPS):
        beyond = [port.beyond(across_v) for port, across_v in zip(ports, across, strict=True)]
        bent = _bent(rows, [slope_s for _, slope_s in beyond])
        step = (
            _answered(rows, bent, _lacking(ports, rows, across, beyond))
            if bent is not None
            else None
        )
        if step is None or bent is None:
            return None
        after = [_short_of_zero(*move) for move in zip(ports, across, step, strict=True)]
        moved_v = max(abs(one - other) for one, other in zip(after, across, strict=True))
        across = after
        if moved_v <= SETTLED_V:
            return None if _opposes(ports, rows, bent) else across
    return None


def _short_of_zero(port: Port, across_v: float, step_v: float) -> float:
    """A step that stops at zero, near which loads follow another line than at their voltage. [V]"""
    after_v = across_v + step_v
    is_straight = port.element is None or isinstance(port.element, Resistor)
    return 0.0 if after_v * across_v < 0.0 and not is_straight else after_v


def _lacking(
    ports: Sequence[Port],
    rows: Rows,
    across: Sequence[float],
    beyond: Sequence[tuple[float, float]],
) -> list[float]:
    """How far the voltages are from those that the linear network answers with. [V]"""
    acting = [(number, current_a) for number, (current_a, _) in enumerate(beyond) if current_a]
    return [
        port.base_v - across_v - sum(row[number] * current_a for number, current_a in acting)
        for port, across_v, row in zip(ports, across, rows, strict=True)
    ]


def _bent(rows: Rows, slopes: Sequence[float]) -> list[tuple[int, float]] | None:
    """The ports whose slope is no longer that of their line; None if digits would be lost."""
    bent = []
    for number, slope_s in enumerate(slopes):
        share = rows[number][number] * slope_s
        if 1.0 + share < LEAST_LEFT:
            return None
        if abs(share) > SLIGHT:
            bent.append((number, slope_s))
    return bent


def _answered(
    rows: Rows, bent: Sequence[tuple[int, float]], voltages: Sequence[float]
) -> list[float] | None:
    """Voltages of the linear network, as the bent ports change them. [V]"""
    solved = dense(
        [
            [rows[k][number] * slope_s + (k == number) for number, slope_s in bent] + [voltages[k]]
            for k, _ in bent
        ]
    )
    if solved is None:
        return None
    drawn = [
        (number, slope_s * volts) for (number, slope_s), volts in zip(bent, solved, strict=True)
    ]
    return [
        volts - sum(row[number] * current_a for number, current_a in drawn)
        for volts, row in zip(voltages, rows, strict=True)
    ]


def _opposes(ports: Sequence[Port], rows: Rows, bent: Sequence[tuple[int, float]]) -> bool:
    """Whether a regulator pushes the voltage down that it senses elsewhere."""
    for number, port in enumerate(ports):
        if port.senses != port.ends:
            others = [(k, slope_s) for k, slope_s in bent if k != number]
            response = _answered(rows, others, [row[number] for row in rows])
            if response is None or response[number] < -ROUNDING_OHM:
                return True
    return False
