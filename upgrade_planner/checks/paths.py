"""
Which terminals are joined to which, through what: wires, closed contacts, metal, resistances.

Rules ask for a path to say which wires make it; how much current flows is for operating points.
"""

from collections.abc import Iterator, Mapping
from enum import StrEnum
from functools import lru_cache

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Subject, at_part, at_wire
from upgrade_planner.configuration.composing.this import This
from upgrade_planner.configuration.kinds import Family, Passing, When
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
)
from upgrade_planner.electrical import batteries
from upgrade_planner.electrical.models.context import case_terminals, metal_node, node_of
from upgrade_planner.electrical.passing import Way, ways_through
from upgrade_planner.electrical.states import Engine, State, position_of

RESTING_START = State("", "key in start, all else released", "start", Engine.CRANKING)
"""Key in start while every other switch, the interlock among them, is in its position of rest."""

RESTING_RUN = State("", "key in run, all else released", "run", Engine.STOPPED)
"""Key in run while every other switch is in its position of rest."""


ISOLATOR = "isolator"
"""What the role of a battery isolator contains."""


KEPT = 64
"""Lists of links that are kept: rules ask for those of the same states. Our choice."""

KEPT_PATHS = 256
"""Searches that are kept: rules begin at the same terminals. Our choice."""


class LinkMedium(StrEnum):
    """What a link is made of, so that a search can refuse to cross it."""

    WIRE = "wire"
    CONTACT = "contact"
    METAL = "metal"
    RESISTANCE = "resistance"
    LAMP = "lamp"


PLAIN = frozenset({LinkMedium.WIRE, LinkMedium.CONTACT})
WITH_RESISTANCE = PLAIN | {LinkMedium.RESISTANCE}
GROUND = frozenset({LinkMedium.WIRE, LinkMedium.METAL})


@frozen
class Link:
    """One piece between two nodes; `name` is a wire id or the role of a part."""

    one: str
    other: str
    medium: LinkMedium
    name: str
    is_wire: bool = False


Path = tuple[Link, ...]


def at_link(link: Link) -> Subject:
    """The wire or part that a link stands for."""
    return at_wire(link.name) if link.is_wire else at_part(link.name)


@lru_cache(maxsize=KEPT)
def links_of(configuration: Configuration, state: State) -> tuple[Link, ...]:
    """Every link of a configuration in a state; loads and machines join nothing."""
    links: list[Link] = []
    for part, bonds, ways in _insides(configuration):
        links += bonds
        links += [link for way, link in ways if _is_open_to(way, part, state, configuration)]
    return (*links, *wires_of(configuration))


@lru_cache(maxsize=KEPT)
def wires_of(configuration: Configuration) -> tuple[Link, ...]:
    """The wires alone; over splices and studs they are one joint."""
    return tuple(
        Link(
            node_of(wire.start),
            node_of(wire.end),
            LinkMedium.RESISTANCE if wire.conductor is Conductor.RESISTANCE else LinkMedium.WIRE,
            wire.id,
            is_wire=True,
        )
        for wire in configuration.wires
    )


def paths_from(
    links: tuple[Link, ...], start: str, crossing: frozenset[LinkMedium] = PLAIN
) -> Mapping[str, Path]:
    """Each node that `start` is joined to, with a shortest path to it; `start` has an empty one."""
    return _paths_from(This(links), start, crossing)


@lru_cache(maxsize=KEPT)
def _joined_at(
    links: This[tuple[Link, ...]], crossing: frozenset[LinkMedium]
) -> Mapping[str, list[Link]]:
    """The links at each node."""
    at: dict[str, list[Link]] = {}
    for link in links.value:
        if link.medium in crossing:
            at.setdefault(link.one, []).append(link)
            at.setdefault(link.other, []).append(link)
    return at


@lru_cache(maxsize=KEPT_PATHS)
def _paths_from(
    links: This[tuple[Link, ...]], start: str, crossing: frozenset[LinkMedium]
) -> Mapping[str, Path]:
    at = _joined_at(links, crossing)
    found: dict[str, Path] = {start: ()}
    queue = [start]
    for node in queue:
        for link in at.get(node, ()):
            far = link.other if link.one == node else link.one
            if far not in found:
                found[far] = (*found[node], link)
                queue.append(far)
    return found


def names_on(path: Path) -> tuple[str, ...]:
    """Wires of a path in its order."""
    return tuple(link.name for link in path if link.is_wire)


def wires_before_switch(path: Path) -> tuple[str, ...]:
    """Wires of a path up to the first contact it crosses."""
    found = []
    for link in path:
        if link.medium is LinkMedium.CONTACT:
            break
        if link.is_wire:
            found.append(link.name)
    return tuple(found)


def live_node(configuration: Configuration) -> str:
    """Node of the live battery post; without a battery a node that nothing joins."""
    return _node(batteries.live_post(configuration))


def grounded_node(configuration: Configuration) -> str:
    """Node of the battery post that is joined to the metal; as at `live_node`."""
    return _node(batteries.grounded_post(configuration))


def _node(post: TerminalRef | None) -> str:
    return "no battery" if post is None else node_of(post)


def return_of(part: Component) -> str | None:
    """Node through which a part returns its current, or None if it has no such terminal."""
    name = part.return_terminal
    return None if name is None else f"{part.role}.{name}"


def is_grounded(part: Component, configuration: Configuration, links: tuple[Link, ...]) -> bool:
    """True if wires and metal alone lead from a part's return to the grounded battery post."""
    back = return_of(part)
    return back is not None and grounded_node(configuration) in paths_from(links, back, GROUND)


_MEDIA = {
    Passing.CONTACT: LinkMedium.CONTACT,
    Passing.CUT_OUT: LinkMedium.CONTACT,
    Passing.RESISTANCE: LinkMedium.RESISTANCE,
    Passing.LAMP: LinkMedium.LAMP,
}
"""What of a part makes a path; a winding or a diode does not."""


Inside = tuple[Component, tuple[Link, ...], tuple[tuple[Way, Link], ...]]
"""A part, its bonds to metal, and the ways through it that make a path in some state."""


@lru_cache(maxsize=KEPT)
def _insides(configuration: Configuration) -> tuple[Inside, ...]:
    return tuple(
        (part, tuple(_bonds(part, configuration)), tuple(_ways_inside(part)))
        for part in configuration.components
    )


def _ways_inside(part: Component) -> Iterator[tuple[Way, Link]]:
    for way in ways_through(part):
        if way.passing in _MEDIA:
            # a closed isolator is a piece of battery cable: a ground path may pass it
            is_cable = way.when is When.BY_POSITION and ISOLATOR in part.role
            medium = LinkMedium.WIRE if is_cable else _MEDIA[way.passing]
            ends = f"{part.role}.{way.one}", f"{part.role}.{way.other}"
            yield way, Link(*ends, medium, part.role)


def _is_open_to(way: Way, part: Component, state: State, configuration: Configuration) -> bool:
    """True if current passes in a state; what a relay moves is for operating points to say."""
    if way.when is When.BY_POSITION:
        return way.position == position_of(part, state, configuration)
    cranks = way.when is When.CRANKING and state.engine is Engine.CRANKING
    return cranks or way.when is When.ALWAYS


def _bonds(part: Component, configuration: Configuration) -> Iterator[Link]:
    metal = configuration.place_by_id[part.place].metal
    names = case_terminals(part)
    if part.family is Family.GROUND_POINT:
        names = [terminal.name for terminal in part.terminals]
    if metal:
        for name in names:
            yield Link(f"{part.role}.{name}", metal_node(metal), LinkMedium.METAL, part.role)


def wires_reached(ref: TerminalRef, configuration: Configuration) -> tuple[str, ...]:
    """Ids of the wires that are joined with a terminal, at it or through other wires, in order."""
    reached = paths_from(wires_of(configuration), str(ref))
    return tuple(sorted({link.name for path in reached.values() for link in path if link.is_wire}))
