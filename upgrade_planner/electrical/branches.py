"""
What a way for current is made of: branches, what guards each, which contacts can close.

`feed_ways` joins them.
"""

from collections.abc import Iterable, Iterator
from enum import StrEnum

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse, When
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.passing import ways_through


class Guard(StrEnum):
    """What a branch does to a fault current."""

    NONE = "none"
    FUSE = "fuse"
    LINK = "fusible link"
    LOAD = "load or resistance"


@frozen(kw_only=True)
class Branch:
    """
    One element as part of a way.

    Attributes:
        name: Of the element in the network.
        guard: What it does to a fault current.
        limit_a: Current that opens it, or that it lets pass at battery voltage; else infinite. [A]
        rating_a: Rating of a fuse. [A]
        ohms: For finding the shortest way. [Ω]
        one_way: A diode: it feeds nothing behind it from the battery.
        wire_id: Of the wire that it is; None if it is another thing.
    """

    name: str
    ends: tuple[str, str]
    guard: Guard
    limit_a: float
    ohms: float
    rating_a: float = 0.0
    one_way: bool = False
    wire_id: str | None = None

    @property
    def owner(self) -> str:
        """Id of the wire that it is, else the name of the element."""
        return self.name if self.wire_id is None else self.wire_id


def wires_on(way: Iterable[Branch]) -> list[str]:
    """Ids of the wires on a way, in its order."""
    return [branch.wire_id for branch in way if branch.wire_id is not None]


def is_out_of_work(part: Component, configuration: Configuration) -> bool:
    """True for a starter relay of which nothing but the battery stud is used, as a junction."""
    if part.family is not Family.STARTER_RELAY:
        return False
    ends = {part.terminal_as(TerminalUse.START_SIGNAL), *(way.other for way in ways_through(part))}
    return not any(configuration.wires_at.get(TerminalRef(part.role, str(e))) for e in ends)


def key_positions(configuration: Configuration) -> tuple[str | None, ...]:
    """Every position of every key switch; None alone if there is no key switch."""
    found = [
        position
        for part in configuration.parts_that(Capability.KEY)
        for position in part.ratings["positions"]
    ]
    return tuple(dict.fromkeys(found)) or (None,)


def closable(part: Component, key: str | None) -> Iterator[tuple[str, str]]:
    """Pairs of terminals that contacts of a part can join."""
    is_key = part.can(Capability.KEY)
    for way in ways_through(part):
        positions = {
            When.BY_POSITION: way.position if is_key else key,
            When.CRANKING: "start",
            When.PULLED_IN: key,
        }
        if way.when in positions and key in (None, positions[way.when]):
            yield way.one, way.other


def fuse_ratings_by_element(configuration: Configuration) -> Iterator[tuple[str, float]]:
    """Name of the element and rating of every fuse. [A]"""
    for part in configuration.parts_of(Family.PROTECTION):
        if "fuses" in part.ratings:
            for way in part.ratings["fuses"]:
                yield f"{part.role}:{way.end}", float(way.rated_current_a)
        else:
            yield part.role, float(part.ratings["rated_current"])
