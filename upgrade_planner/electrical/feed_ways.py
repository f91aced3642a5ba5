"""
The ways that battery current can take, with every switch closed, and what limits it on each.

A way is as well guarded as its weakest guard: the fuse, link or resistance that opens or limits at
the least current. Of several ways to a wire the one with the greatest such current counts, for it
is the one that a fault would use. So a wire beside a fuse is found to be unguarded.
"""

import heapq
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property, lru_cache
from math import inf

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Passing
from upgrade_planner.configuration.model import (
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.electrical.batteries import emf_of, live_post
from upgrade_planner.electrical.branches import (
    Branch,
    Guard,
    closable,
    fuse_ratings_by_element,
)
from upgrade_planner.electrical.circuit import elements_of, reference_node, wire_name
from upgrade_planner.electrical.fusible_links import sustained_melting_current_of
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.network.blocks import Blocks
from upgrade_planner.electrical.network.elements import Diode, Regulated, Resistor, Source
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.passing import ways_through
from upgrade_planner.electrical.states import OFF

__all__ = ["Branch", "FeedWays", "Guard"]

OPENING_MULTIPLE = 1.35
"""A fuse is sure to open at this multiple of its rating. [1] Source: UL 248-14 and DIN 72581-3, as
quoted in data/fuse_times.csv."""

PLAIN_OHM = 0.05
"""Contacts, shunts and mountings have less, windings and loads more. [Ω] Source: our assumption."""


BYPASS = ":battery-bypass"
"""End of the name of a bypass contact."""

CUT_OUT = ":cut-out"
"""End of the name of a dynamo's cut-out."""


KEPT = 8
"""Configurations whose elements are kept, for each position of the key has them. Our choice."""

Came = dict[str, tuple[Branch, str]]
"""Of each node the branch and the node before it on a way."""


@frozen(eq=False)
class FeedWays:
    """
    All branches of a configuration, every switch, relay and bypass contact closed.

    Attributes:
        key: Position that key switches are held in, for the bypass contact closes only while
            cranking; None closes what any position closes.
        post: Live end of the string of batteries that the ways begin at; None is the first one.
    """

    configuration: Configuration
    key: str | None = None
    post: TerminalRef | None = None

    @cached_property
    def contacts(self) -> tuple[Element, ...]:
        """Contacts that are open with the key off, closed."""
        present = {element.name for element in self.elements}
        found: dict[str, Element] = {}
        for part in self.configuration.components:
            for one, other in closable(part, self.key):
                name = f"{part.role}:{one}-{other}"
                if name not in present:
                    a, b = (node_of(TerminalRef(part.role, item)) for item in (one, other))
                    found[name] = Resistor(name, a, b, assumed.CONTACT_OHM)
        return tuple(found.values())

    @property
    def elements(self) -> tuple[Element, ...]:
        """Elements with the key off and the engine stopped, wires cold."""
        return _elements(self.configuration)

    @property
    def blocks(self) -> Blocks:
        """The blocks of these elements."""
        return _blocks(self.configuration)

    @cached_property
    def reference(self) -> str:
        """The grounded battery post."""
        return reference_node(self.configuration)

    @cached_property
    def live(self) -> str:
        """The live battery post."""
        post = self.post or live_post(self.configuration)
        return "no battery" if post is None else node_of(post)

    @cached_property
    def emf_v(self) -> float:
        """Of the battery, or of the string of batteries. [V]"""
        return emf_of(self.configuration)

    @cached_property
    def branches(self) -> tuple[Branch, ...]:
        """Every element but the battery itself."""
        return (*_branches_at_rest(self.configuration), *self._closed)

    @cached_property
    def _closed(self) -> tuple[Branch, ...]:
        return tuple(_branches(self.contacts, self.configuration))

    @cached_property
    def at(self) -> Mapping[str, list[tuple[Branch, str]]]:
        """Branches by node, each with the node at its other end."""
        found = {**_at_rest(self.configuration)}
        for branch in self._closed:
            for one, other in (branch.ends, branch.ends[::-1]):
                found[one] = [*found.get(one, ()), (branch, other)]
        return found

    def joined(
        self,
        start: str,
        *,
        guards: tuple[Guard, ...] = tuple(Guard),
        without: frozenset[str] = frozenset(),
        cut: str = "",
    ) -> set[str]:
        """
        Nodes that branches of these guards join to a node.

        Args:
            start: The node.
            guards: The guards.
            without: Nodes that do not count.
            cut: A branch that does not.
        """
        found, queue = {start}, [start]
        while queue:
            node = queue.pop()
            for branch, other in self.at.get(node, ()):
                is_new = other not in found and other not in without
                if is_new and branch.guard in guards and branch.name != cut:
                    found.add(other)
                    queue.append(other)
        return found

    @cached_property
    def grounded(self) -> frozenset[str]:
        """Nodes that wires and metal alone join to the grounded post."""
        return frozenset(self.joined(self.reference, guards=(Guard.NONE,)))

    @cached_property
    def hard_live(self) -> frozenset[str]:
        """Nodes that wires, contacts, fuses and links alone join to the live post."""
        guards = (Guard.NONE, Guard.FUSE, Guard.LINK)
        return frozenset(self.joined(self.live, guards=guards))

    def live_without(self, name: str) -> frozenset[str]:
        """What would be hard live without a branch."""
        if name not in self._live_without:
            guards = (Guard.NONE, Guard.FUSE, Guard.LINK)
            found = self.joined(self.live, guards=guards, cut=name)
            self._live_without[name] = frozenset(found)
        return self._live_without[name]

    @cached_property
    def _live_without(self) -> dict[str, frozenset[str]]:
        return {}

    def leads_back(self, start: str, without: frozenset[str]) -> bool:
        """
        Whether a short way that keeps off all that is hard live leads from a node to ground.

        Args:
            start: The node.
            without: Nodes that it must not pass; a longer way round them is not looked for.
        """
        node = start
        while node != self.reference:
            if node in without or node not in self._back:
                return False
            node = self._back[node]
        return True

    @cached_property
    def _back(self) -> dict[str, str]:
        """The next node on a short way to the grounded post."""
        found = {self.reference: self.reference}
        queue = [self.reference]
        for node in queue:
            for _, other in self.at.get(node, ()):
                if other not in found and other not in self.hard_live:
                    found[other] = node
                    queue.append(other)
        return found

    @cached_property
    def fed(self) -> frozenset[str]:
        """
        Nodes that get the battery's current as meant: not through another load.

        A ballast or resistance wire is on the way as meant; the bypass contact is not, for it
        feeds the coil while cranking and nothing else.
        """
        found, queue = {self.live}, [self.live]
        while queue:
            node = queue.pop()
            for branch, other in self.at.get(node, ()):
                meant = branch.guard is not Guard.LOAD or branch.name in self._in_series
                is_new = other not in found and other not in self.grounded
                if meant and is_new and not branch.name.endswith(BYPASS):
                    found.add(other)
                    queue.append(other)
        return frozenset(found)

    @cached_property
    def _in_series(self) -> frozenset[str]:
        configuration = self.configuration
        resistors = [
            part.role
            for part in configuration.components
            if any(way.passing is Passing.RESISTANCE for way in ways_through(part))
        ]
        wires = [
            wire_name(wire.id)
            for wire in configuration.wires
            if wire.conductor is Conductor.RESISTANCE
        ]
        return frozenset((*resistors, *wires))

    @property
    def is_shorted(self) -> bool:
        """Whether wires, contacts, fuses and links alone join the two battery posts."""
        return self.reference in self.hard_live

    @cached_property
    def reach_a(self) -> dict[str, float]:
        """Of each node that the battery can feed: what the weakest guard on its way passes. [A]"""
        found: dict[str, float] = {}
        queue = [(-inf, self.live)]
        while queue:
            negative, node = heapq.heappop(queue)
            if node in found:
                continue
            found[node] = -negative
            for branch, other in self.at.get(node, ()):
                if branch.one_way or other in found or other in self.grounded:
                    continue
                heapq.heappush(queue, (max(negative, -branch.limit_a), other))
        return found

    def way(
        self,
        start: str,
        end: str,
        least_a: float = 0.0,
        *,
        through_metal: bool = False,
        through_cut_out: bool = False,
    ) -> tuple[Branch, ...] | None:
        """
        The way of least resistance over branches that pass at least so much; None if none.

        Unless through_metal, it keeps off everything that is grounded. Diodes bar it, except, with
        through_cut_out, that of a dynamo's cut-out: the way of its output.
        """
        exempt = end if end in self.grounded and not through_metal else ""
        key = (start, least_a, through_metal, through_cut_out, exempt)
        if key not in self._came:
            self._came[key] = self._shortest(*key)
        came = self._came[key]
        return tuple(_traced(came, start, end)) if end in came or end == start else None

    @cached_property
    def _came(self) -> dict[tuple[str, float, bool, bool, str], Came]:
        return {}

    def _shortest(
        self, start: str, least_a: float, through_metal: bool, through_cut_out: bool, exempt: str
    ) -> Came:
        """Before each node that can be reached: the branch and node on the way of least ohms."""
        barred = frozenset() if through_metal else self.grounded - {exempt}
        best = {start: 0.0}
        came: Came = {}
        queue = [(0.0, start)]
        while queue:
            ohms, node = heapq.heappop(queue)
            if ohms > best[node] or (node == exempt != start):
                continue
            for branch, other in self.at.get(node, ()):
                total = ohms + branch.ohms
                is_cut_out = through_cut_out and branch.name.endswith(CUT_OUT)
                is_barred = other in barred or (branch.one_way and not is_cut_out)
                if is_barred or branch.limit_a < least_a or total >= best.get(other, inf):
                    continue
                best[other], came[other] = total, (branch, node)
                heapq.heappush(queue, (total, other))
        return came


def _traced(came: Came, start: str, end: str) -> list[Branch]:
    way, node = [], end
    while node != start:
        branch, node = came[node]
        way.append(branch)
    return way[::-1]


@lru_cache(maxsize=KEPT)
def _elements(configuration: Configuration) -> tuple[Element, ...]:
    return tuple(elements_of(configuration, OFF))


@lru_cache(maxsize=KEPT)
def _blocks(configuration: Configuration) -> Blocks:
    return Blocks(_elements(configuration))


@lru_cache(maxsize=KEPT)
def _branches_at_rest(configuration: Configuration) -> tuple[Branch, ...]:
    """The branches that every position of the key has."""
    return tuple(_branches(_elements(configuration), configuration))


@lru_cache(maxsize=KEPT)
def _at_rest(configuration: Configuration) -> Mapping[str, list[tuple[Branch, str]]]:
    """The same by node, each with the node at its other end."""
    found: dict[str, list[tuple[Branch, str]]] = defaultdict(list)
    for branch in _branches_at_rest(configuration):
        one, other = branch.ends
        found[one].append((branch, other))
        found[other].append((branch, one))
    return found


def _branches(elements: Iterable[Element], configuration: Configuration) -> Iterator[Branch]:
    fuses, wires = _fuses_and_wires(configuration)
    emf_v = emf_of(configuration)
    for element in elements:
        if not isinstance(element, Source | Regulated):
            rating_a, wire = fuses.get(element.name, 0.0), wires.get(element.name)
            yield _branch(element, rating_a, wire, emf_v)


@lru_cache(maxsize=KEPT)
def _fuses_and_wires(
    configuration: Configuration,
) -> tuple[Mapping[str, float], Mapping[str, Wire]]:
    """Ratings of fuses [A], and wires, by the names of their elements."""
    fuses = dict(fuse_ratings_by_element(configuration))
    return fuses, {wire_name(wire.id): wire for wire in configuration.wires}


def _branch(element: Element, rating_a: float, wire: Wire | None, emf_v: float) -> Branch:
    guard, limit_a = Guard.NONE, inf
    path_ohm = element.on_resistance_ohm if isinstance(element, Diode) else inf
    ohms = element.resistance_ohm if isinstance(element, Resistor) else inf
    if rating_a:
        guard, limit_a = Guard.FUSE, OPENING_MULTIPLE * rating_a
    elif wire is not None and wire.conductor is Conductor.LINK:
        guard, limit_a = Guard.LINK, sustained_melting_current_of(wire.size)
    elif ohms > PLAIN_OHM and (wire is None or wire.conductor is Conductor.RESISTANCE):
        guard, limit_a = Guard.LOAD, abs(element.law(emf_v)[0])
    a, b = (str(end) for end in element.ends)
    return Branch(
        name=element.name,
        ends=(a, b),
        guard=guard,
        limit_a=limit_a,
        rating_a=rating_a,
        ohms=min(ohms, path_ohm, 1e3),
        one_way=isinstance(element, Diode),
        wire_id=None if wire is None else wire.id,
    )
