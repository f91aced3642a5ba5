"""
Networks that differ from a solved one in few elements, solved from what is known of that one.

The solved network, made linear at its voltages, is factorised once. What a changed element, or one
whose law is not straight, takes beyond its line is a current that the linear network answers by its
transfer resistances. So the unknowns are the voltages over those elements alone, and Newton's
method on them (in `ports`) settles it.

Where laws never fall, there is one solution, and what is found is that one. Where they may, where
digits would be lost, or where much is changed, the search of `solve` is made in all nodes; it has
the base's order of elimination and begins at its voltages.

Source: multiport compensation ("Woodbury formula"): common practice of network theory.
"""

from collections.abc import Container, Iterable, Iterator, Sequence

from attrs import evolve

from upgrade_planner.electrical.network.elements import Regulated, Resistor
from upgrade_planner.electrical.network.in_series import Changed
from upgrade_planner.electrical.network.joined import Joined
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.loads import PowerSink
from upgrade_planner.electrical.network.loose import holds_together
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.ports import Beyond, Columns, Port, beyond_at, less, settled
from upgrade_planner.electrical.network.solving import Solution, solution_at, solution_of
from upgrade_planner.electrical.network.unsolvable import NetworkError

MOST_CHANGED = 16
"""With more changed resistors a search in all nodes is as quick."""

HOLDING_RATIO = 0.01
"""Part of the conductance of a load that its line has, if it takes a constant current. [1] Source:
our assumption; so little is left to the next step (`ports.SLIGHT`)."""

UNFELT_A = 1e-9
"""An element that takes so little more or less leaves the voltages as they are. [A] Source: what a
search calls balanced."""

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
        self._known: dict[str, Port] = {}
        self._wider: dict[tuple[str, ...], Columns] = {}
        self._fed = frozenset(self._fed_and_held())
        slopes = [self._line_s(*branch) for branch in self._equations.curved]
        conductances = self._equations.conductances(slopes)
        self._factors = self._equations.solver.factorise(conductances)
        self._has_one_solution = self._falls_nowhere()
        self._ports = list(self._bent(slopes)) if self._has_one_solution else []
        self._numbers = {port.element.name: k for k, port in enumerate(self._ports) if port.element}
        self._columns = [[at.sensed(port.response_v) for at in self._ports] for port in self._ports]
        self._at_base = [port.beyond(port.base_v) for port in self._ports]
        self._holding = [_holds(port, port.base_v) for port in self._ports]

    def _falls_nowhere(self) -> bool:
        """Whether no law falls and no two regulators can contradict each other."""
        falls = any(isinstance(branch.element, PowerSink) for branch in self._equations.curved)
        return self._factors is not None and not falls and len(self._equations.remote) <= 1

    def _fed_and_held(self) -> Iterator[int]:
        """
        Indices of nodes at running machines that are not loose.

        If one becomes loose it goes to the machine's set point, which the linear network does not
        know.
        """
        index = self._equations.index
        for element in self.base.network.elements:
            if isinstance(element, Regulated) and element.is_active:
                yield from (index[node] for node in element.ends if self._is_held(node))

    def _is_held(self, node: Node) -> bool:
        return node in self.base.voltage_v and node not in self.base.loose

    def _line_s(self, a: int, b: int, element: Element) -> float:
        """
        Slope of the line that stands for an element in the linear network. [S]

        Its tangent, or for a constant current a little of the line through zero: else nothing would
        hold its node once its feed is taken out.
        """
        across_v = self._voltages[a] - self._voltages[b]
        current_a, slope_s = element.law(across_v)
        is_constant = slope_s == 0.0 and current_a * across_v > 0.0
        return HOLDING_RATIO * current_a / across_v if is_constant else slope_s

    def _bent(self, slopes: Sequence[float]) -> Iterator[Port]:
        for (a, b, element), slope_s in zip(self._equations.curved, slopes, strict=True):
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
            nothing. The base itself, where none of the changes is felt.
        """
        felt = {name: changed[name] for name in changed if self._is_felt(name, changed[name])}
        if not felt:
            return self.base
        return self.near(felt) or (None if self._is_stuck(felt) else self.searched(felt))

    def _is_felt(self, name: str, element: Element | None) -> bool:
        """Whether an element takes another current than the one before it, where the base rests."""
        if element is None or not self._has_one_solution or not self._is_joined(name):
            return True
        current_a = element.law(self.base.governing_v[name])[0]
        return abs(current_a - self.base.current_a[name]) > UNFELT_A

    def _is_stuck(self, changed: Changed) -> bool:
        """
        Whether a machine that senses elsewhere has lost all that took its current, and wants to
        give some: then there is no solution, and a search would go on for long.
        """
        removed = {name for name, element in changed.items() if element is None}
        for machine in (remote.element for remote in self._equations.remote if removed):
            if self._has_one_solution and self._hangs(machine, removed):
                idle = self.searched({**changed, machine.name: evolve(machine, limit_a=0.0)})
                return idle is not None and machine.wanted_a(idle.governing_v[machine.name]) > 0.0
        return False

    def _hangs(self, machine: Regulated, removed: Container[str]) -> bool:
        """Whether nothing but the machine is left at one of its ends."""
        others = [e for e in self._elements.values() if e.name not in removed and e is not machine]
        return any(all(end not in element.ends for element in others) for end in machine.ends)

    def element(self, name: str) -> Element:
        """The element of that name before any change."""
        return self._elements[name]

    def searched(self, changed: Changed) -> Solution | None:
        """What a search in all nodes finds, which begins at the base; None if nothing."""
        try:
            return solution_of(self._equations.altered(changed), self.base.voltage_v)
        except NetworkError:
            return None

    def near(self, changed: Changed) -> Solution | None:
        """The solution found from the base; None where that is not sure, or does not balance."""
        straight = self._straightly_in(changed)
        if straight is None:
            return None
        ports = self._ports_with(changed, straight)
        first = self._at_base_of(ports)
        across = settled(ports, self._columns_with(straight), first)
        if across is None:
            return None
        beyond = zip(ports, beyond_at(ports, across, first), strict=True)
        voltages = less(self._voltages, ((port.response_v, a) for port, (a, _) in beyond))
        if self._most_left_a(ports, voltages) > MOST_LEFT_A:
            return None
        loose = self._loose(ports, across)
        if not self._fed.isdisjoint(loose):
            return None
        network = self.base.network.altered(changed)
        return solution_at(self._equations, network, voltages, loose, self.base.steps)

    def _most_left_a(self, ports: Sequence[Port], voltages: Sequence[float]) -> float:
        """Largest current that does not balance at a node: all resistors, then the ports. [A]"""
        left = self._equations.leaving_resistors(voltages)
        for number, port in enumerate(ports):
            (one, other), (plus, minus), element = port.ends, port.senses, port.element
            across_v = voltages[plus] - voltages[minus]
            current_a = element.law(across_v)[0] if element else 0.0
            if number >= len(self._ports):  # counted above as it was
                current_a -= port.slope_s * across_v
            left[one] += current_a
            left[other] -= current_a
        return max(map(abs, left[:-1]))

    def _straightly_in(self, changed: Changed) -> tuple[str, ...] | None:
        """Names of the resistors that are changed; None if there are too many."""
        if not self._ports or len(changed) > MOST_CHANGED + len(self._ports):
            return None
        names = tuple(n for n in changed if n not in self._numbers and self._is_joined(n))
        return names if len(names) <= MOST_CHANGED else None

    def _ports_with(self, changed: Changed, straight: Iterable[str]) -> list[Port]:
        """All ports, those of the changed elements among them."""
        ports = [*self._ports]
        for name in changed.keys() & self._numbers.keys():
            number = self._numbers[name]
            ports[number] = ports[number]._replace(element=changed[name])
        return ports + [self._straight(name)._replace(element=changed[name]) for name in straight]

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

    def _columns_with(self, straight: tuple[str, ...]) -> Columns:
        """Transfer resistances, kept: the same resistors are changed in more than one way."""
        if straight not in self._wider:
            more = [self._straight(name) for name in straight]
            columns = [
                column + [at.sensed(port.response_v) for at in more]
                for column, port in zip(self._columns, self._ports, strict=True)
            ]
            ports = [*self._ports, *more]
            columns += [[at.sensed(port.response_v) for at in ports] for port in more]
            self._wider[straight] = columns
        return self._wider[straight]

    def _at_base_of(self, ports: Sequence[Port]) -> list[Beyond]:
        """What the ports take beyond their lines at the voltages of the base."""
        known = [
            beyond if port is before else port.beyond(port.base_v)
            for port, before, beyond in zip(ports, self._ports, self._at_base, strict=False)
        ]
        return known + [port.beyond(port.base_v) for port in ports[len(known) :]]

    def _loose(self, ports: Sequence[Port], across: Sequence[float]) -> Iterable[int]:
        bent = zip(ports, across, self._ports, self._holding, strict=False)
        pairs = (
            port.ends
            for port, across_v, before, held in bent
            if (held if port is before and across_v == port.base_v else _holds(port, across_v))
        )
        removed = [port for port in ports[len(self._ports) :] if port.element is None]
        if not removed:
            return self._equations.islands.unheld(pairs)
        held = [*self._equations.resistors]
        for port in removed:
            held.remove((*port.ends, port.slope_s))
        return Joined(self._equations.size, ((a, b) for a, b, _ in held)).unheld(pairs)


def _holds(port: Port, across_v: float) -> bool:
    """Whether an element, if it is not removed, holds its ends together."""
    return port.element is not None and holds_together(port.element, across_v)
