"""
Which battery posts are ground and live, and what the cables at them are: of one battery, of a pair
in series, of several side by side.

Batteries whose posts follow each other over cables make a string; the string begins at the battery
whose grounded post no other battery stands behind, and ends at the live post that none follows.
"""

from collections.abc import Iterator, Mapping
from enum import StrEnum
from functools import lru_cache

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Family, Passing
from upgrade_planner.configuration.model import (
    OTHER_POST,
    Component,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.electrical.passing import reached_through

KEPT = 64
"""Wirings whose batteries are kept: every rule and every network asks for their posts."""

CABLE = frozenset({Passing.CONTACT})
"""What a cable between two batteries may pass."""


class Cable(StrEnum):
    """
    What a wire is at the battery post it is joined to.

    Attributes:
        GROUNDED: It leads from the grounded end of a string to the metal.
        LIVE: It leads from the live end of a string to the vehicle.
        LINK: It leads to another battery.
    """

    GROUNDED = "grounded"
    LIVE = "live"
    LINK = "link"


@frozen
class Posts:
    """
    The posts of all batteries.

    Attributes:
        grounded: The grounded end of each string.
        live: The live end of each string.
        inner: All others; inside a string there is voltage on both sides of a cable.
    """

    grounded: tuple[TerminalRef, ...]
    live: tuple[TerminalRef, ...]
    inner: tuple[TerminalRef, ...]

    def __contains__(self, ref: TerminalRef) -> bool:
        return ref in self.grounded or ref in self.live or ref in self.inner


def batteries_of(configuration: Configuration) -> tuple[Component, ...]:
    """All batteries, by role."""
    return configuration.parts_of(Family.BATTERY)


@lru_cache(maxsize=KEPT)
def strings_of(configuration: Configuration) -> tuple[tuple[Component, ...], ...]:
    """
    The strings of batteries, each from its grounded end to its live end; () without any.

    Of strings side by side those with a cable to the metal come first: one may be grounded through
    another.
    """
    batteries = batteries_of(configuration)
    if len(batteries) < 2:
        return (batteries,) if batteries else ()
    after = {part.role: _next(part, configuration) for part in batteries}
    followers = {role for role in after.values() if role is not None}
    firsts = [part for part in batteries if part.role not in followers]
    firsts.sort(key=lambda part: not _has_ground_cable(part, configuration))
    return tuple(tuple(_string(first, after, configuration)) for first in firsts or batteries[:1])


def _has_ground_cable(part: Component, configuration: Configuration) -> bool:
    post = TerminalRef(part.role, configuration.vehicle.ground)
    wires = configuration.wires_at.get(post, ())
    return any(
        configuration.component(w.other_end(post).role).family is not Family.BATTERY for w in wires
    )


@lru_cache(maxsize=KEPT)
def posts_of(configuration: Configuration) -> Posts:
    """The posts of all batteries, strings in the order of `strings_of`."""
    strings, ground = strings_of(configuration), configuration.vehicle.ground
    grounded = tuple(TerminalRef(string[0].role, ground) for string in strings)
    live = tuple(TerminalRef(string[-1].role, OTHER_POST[ground]) for string in strings)
    every = [TerminalRef(b.role, pole) for b in batteries_of(configuration) for pole in OTHER_POST]
    return Posts(grounded, live, tuple(ref for ref in every if ref not in grounded + live))


def grounded_post(configuration: Configuration) -> TerminalRef | None:
    """The battery post that is joined to the metal, to which all voltages are referred."""
    return next(iter(posts_of(configuration).grounded), None)


def live_post(configuration: Configuration) -> TerminalRef | None:
    """The post at the live end of the string that begins at `grounded_post`."""
    return next(iter(posts_of(configuration).live), None)


@lru_cache(maxsize=KEPT)
def cables_of(configuration: Configuration) -> Mapping[tuple[str, TerminalRef], Cable]:
    """What each wire at a battery post is there, by wire id and post."""
    posts = posts_of(configuration)
    return {
        (wire.id, end): _cable(wire, end, posts)
        for wire in configuration.wires
        for end in wire.ends
        if end in posts
    }


def _cable(wire: Wire, end: TerminalRef, posts: Posts) -> Cable:
    far = wire.other_end(end)
    if end in posts.grounded and far not in posts.grounded:
        return Cable.GROUNDED
    return Cable.LIVE if end in posts.live and far not in posts else Cable.LINK


@lru_cache(maxsize=KEPT)
def second_returns(configuration: Configuration) -> frozenset[str]:
    """
    Ids of the wires at the grounded posts that lead to a part which has a ground of its own.

    With the main ground off or loose the whole vehicle, its starter too, draws through such a part.
    """
    found = set()
    for (wire_id, post), cable in cables_of(configuration).items():
        far = configuration.wire_by_id[wire_id].other_end(post)
        ground = configuration.component(far.role).return_terminal
        if cable is Cable.GROUNDED and ground not in (None, far.terminal):
            found.add(wire_id)
    return frozenset(found)


def emf_of(configuration: Configuration) -> float:
    """Voltage of the string without load. [V]"""
    strings = strings_of(configuration)
    return sum(float(part.ratings["emf"]) for part in strings[0]) if strings else 0.0


def _string(
    first: Component, after: dict[str, str | None], configuration: Configuration
) -> Iterator[Component]:
    seen: set[str] = set()
    role: str | None = first.role
    while role is not None and role not in seen:
        seen.add(role)
        yield configuration.component(role)
        role = after[role]


def _next(part: Component, configuration: Configuration) -> str | None:
    """The battery whose grounded post a cable joins to this one's live post."""
    ground = configuration.vehicle.ground
    start = TerminalRef(part.role, OTHER_POST[ground])
    roles = {other.role for other in batteries_of(configuration)} - {part.role}
    for ref in _reached(start, configuration):
        if ref.role in roles and ref.terminal == ground:
            return ref.role
    return None


def _reached(start: TerminalRef, configuration: Configuration) -> list[TerminalRef]:
    """Terminals that cables join to one; what lies beyond the metal is no part of a string."""
    found = [start]
    for ref in found:
        part = configuration.component(ref.role)
        if part.family is Family.GROUND_POINT:
            continue
        others = [wire.other_end(ref) for wire in configuration.wires_at.get(ref, ())]
        others += reached_through(ref, part, CABLE)
        found += [other for other in dict.fromkeys(others) if other not in found]
    return found
