"""What passes a current from one terminal of a part to another, and when; from its kind's data."""

from collections import Counter
from collections.abc import Collection, Iterator
from functools import lru_cache

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.composing.this import KEPT, This
from upgrade_planner.configuration.kinds import Passage, Passing, TerminalUse, When
from upgrade_planner.configuration.model import Component, TerminalRef
from upgrade_planner.configuration.registry import kinds


@frozen
class Way:
    """One way through a part; `position` of its switch, if that decides."""

    one: str
    other: str
    passing: Passing
    when: When
    position: str = ""

    def other_end(self, terminal: str) -> str:
        """The terminal that is not `terminal`."""
        return self.other if terminal == self.one else self.one


def ways_through(part: Component) -> tuple[Way, ...]:
    """Every way through a part between terminals that it has, in the order of its data."""
    return _ways_through(This(part))


@lru_cache(KEPT)
def _ways_through(this: This[Component]) -> tuple[Way, ...]:
    return tuple(_found_in(this.value))


def _found_in(part: Component) -> Iterator[Way]:
    for passage in kinds()[part.kind].passes:
        if passage.by:
            yield from _listed(passage, part)
        elif all(part.terminal(name) is not None for name in passage.between):
            one, other = passage.between
            yield Way(one, other, passage.passing, passage.when)


def reached_through(
    ref: TerminalRef, part: Component, among: Collection[Passing] = tuple(Passing)
) -> Iterator[TerminalRef]:
    """Terminals of a part that one way of these passings through it joins to one of them."""
    for way in ways_through(part):
        if way.passing in among and ref.terminal in (way.one, way.other):
            yield TerminalRef(ref.role, way.other_end(ref.terminal))


def joined_in_one_position(
    ref: TerminalRef, part: Component, among: Collection[Passing]
) -> Iterator[TerminalRef]:
    """Terminals of a part that ways of these passings join to one of them in some one position."""
    by_position: dict[str, list[Way]] = {}
    for way in ways_through(part):
        if way.passing in among:
            by_position.setdefault(way.position, []).append(way)
    for ways in by_position.values():
        joined = [ref.terminal]
        for name in joined:
            far = [way.other_end(name) for way in ways if name in (way.one, way.other)]
            joined += [other for other in far if other not in joined]
        yield from (TerminalRef(ref.role, name) for name in joined[1:])


def _listed(passage: Passage, part: Component) -> Iterator[Way]:
    listed = part.ratings[passage.by]
    if passage.when is When.ALWAYS:
        yield from (Way(way.start, way.end, passage.passing, passage.when) for way in listed)
        return
    for position, groups in listed.items():
        for group in groups:
            for one, other in contacts(group, part):
                yield Way(one, other, passage.passing, passage.when, position)


def contacts(group: tuple[str, ...], part: Component) -> Iterator[tuple[str, str]]:
    """
    Contacts that join a group of terminals: from the one that feeds to each of the others.

    That is the supply; else the terminal that most groups of the switch have. The order in which a
    group is listed is none of the switch.
    """
    groups = [one for several in part.ratings["positions"].values() for one in several]
    uses = Counter(name for one in groups for name in one)
    supply = part.terminal_as(TerminalUse.SUPPLY)
    hub = min(group, key=lambda name: (name != supply, -uses[name], name))
    yield from ((hub, name) for name in group if name != hub)
