"""
Networks that differ from a solved one in few elements, solved from what is known of that one.

The solved network, made linear at its voltages, is factorised once. What a changed element, or one
whose law is not straight, takes beyond its line is a current that the linear network answers by its
transfer resistances. So the unknowns are the voltages over those elements alone, and Newton's
method on them (in `ports`) settles it.

Where laws never fall, there is one solution, and what is found is that one. Where they may, or
where digits would be lost, the network is solved in full.

Source: multiport compensation ("Woodbury formula"): common practice of network theory.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.loads import PowerSink
from upgrade_planner.electrical.network.loose import Joined, holds_together
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.ports import Port, Rows, settled
from upgrade_planner.electrical.network.solving import Solution, solution_at, solve
from upgrade_planner.electrical.network.unsolvable import FloatingSource, NetworkError

Changed = Mapping[str, Element | None]
"""Elements by name that take the place of those of that name, at the same nodes; None: removed."""

MOST_CHANGED = 16
"""With more changed resistors a full solution is as quick."""


MOST_LEFT_A = 1e-4
"""Current that may stay out of balance at a node in a solution found from the base; with more, it
is none. [A] Source: our assumption; sound ones leave less than a thousandth of it."""


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
        self._islands = Joined(
            self._equations.size, ((a, b) for a, b, _ in self._equations.resistors)
        )
        self._known: dict[str, Port] = {}
        slopes = [self._line_s(*branch) for branch in self._equations.curved]
        conductances = self._equations.conductances(slopes)
        self._factors = self._equations.solver.factorise(conductances)
        self._ports = list(self._bent(slopes)) if self._has_one_solution() else []
        self._numbers = {port.element.name: k for k, port in enumerate(self._ports) if port.element}
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
        """The solution found from the base; None where that is not sure, or does not balance."""
        ports = self._ports_with(changed)
        if ports is None:
            return None
        across = settled(ports, self._rows_of(ports))
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
        found = solution_at(self._equations, network, voltages, loose, self.base.steps)
        return found if found.residual_a <= MOST_LEFT_A else None

    def _ports_with(self, changed: Changed) -> list[Port] | None:
        """All ports, those of the changed elements among them; None if there are too many."""
        if not self._ports or len(changed) > MOST_CHANGED + len(self._ports):
            return None
        resistors = [n for n in changed if n not in self._numbers and self._is_joined(n)]
        if len(resistors) > MOST_CHANGED:
            return None
        ports = [*self._ports]
        for name in changed.keys() & self._numbers.keys():
            number = self._numbers[name]
            ports[number] = ports[number]._replace(element=changed[name])
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
        bent = zip(ports[: len(self._ports)], across, strict=False)
        pairs = [
            port.ends
            for port, volts in bent
            if port.element and holds_together(port.element, volts)
        ]
        removed = [port for port in ports[len(self._ports) :] if port.element is None]
        if not removed:
            return self._islands.unheld(pairs)
        held = [*self._equations.resistors]
        for port in removed:
            held.remove((*port.ends, port.slope_s))
        return Joined(self._equations.size, ((a, b) for a, b, _ in held)).unheld(pairs)


def joined(reference: Node, elements: tuple[Element, ...]) -> Network:
    """A network without the sources that have no way to the reference."""
    try:
        return Network(reference, elements)
    except FloatingSource as error:
        return Network(reference, tuple(e for e in elements if e.name not in error.names))
