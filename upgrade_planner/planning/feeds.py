"""Which end of a wire is nearer to the battery: that one is joined last and taken off first."""

from collections import deque
from collections.abc import Mapping
from functools import lru_cache

from upgrade_planner.configuration.kinds import Family, Passing
from upgrade_planner.configuration.model import Configuration, TerminalRef, Wire
from upgrade_planner.electrical.batteries import KEPT, posts_of
from upgrade_planner.electrical.passing import Way, ways_through

_FAR = 1_000_000

_BEHIND = 1_000
"""Steps at least to what no feed reaches as meant: more than to anything that one does."""

_ON_THE_WAY = (Passing.CONTACT, Passing.DIODE)
"""What passes a feed on from either terminal; a resistor does so from its first."""


@lru_cache(maxsize=KEPT)
def steps_from_battery(configuration: Configuration) -> Mapping[TerminalRef, int]:
    """
    Number of wires and parts between the nearest live post and each terminal it can reach.

    What is reached only through a lamp or a winding, backwards through a ballast resistor or a
    cut-out, lies behind everything that the battery feeds as meant.
    """
    found = dict.fromkeys(posts_of(configuration).live, 0)
    _spread(found, configuration, least=0)
    _spread(found, configuration, least=_BEHIND)
    return found


def _spread(found: dict[TerminalRef, int], configuration: Configuration, *, least: int) -> None:
    queue = deque(found)
    while queue:
        ref = queue.popleft()
        part = configuration.component(ref.role)
        passed = (
            TerminalRef(ref.role, way.other_end(ref.terminal))
            for way in ways_through(part)
            if ref.terminal in (way.one, way.other) and (least or _is_fed_on(way, ref))
        )
        along = (wire.other_end(ref) for wire in configuration.wires_at.get(ref, ()))
        for other in (*passed, *along):
            if other not in found:
                found[other] = max(found[ref] + 1, least)
                queue.append(other)


def _is_fed_on(way: Way, ref: TerminalRef) -> bool:
    forwards = way.passing is Passing.RESISTANCE and ref.terminal == way.one
    return forwards or way.passing in _ON_THE_WAY


def feed_end(
    wire: Wire, steps: Mapping[TerminalRef, int], configuration: Configuration
) -> TerminalRef:
    """
    The end that is joined last: at the battery or a ground point, else nearer to the live post.

    The written start if both ends are as near.
    """

    def rank(ref: TerminalRef) -> tuple[int, int, bool]:
        return (_fixed_rank(ref, configuration), steps.get(ref, _FAR), ref != wire.start)

    return min(wire.ends, key=rank)


def _fixed_rank(ref: TerminalRef, configuration: Configuration) -> int:
    """Grounded posts, other posts, ground points, all else."""
    posts = posts_of(configuration)
    if ref in posts:
        return 0 if ref in posts.grounded else 1
    return 2 if configuration.component(ref.role).family is Family.GROUND_POINT else 3


def load_end(
    wire: Wire, steps: Mapping[TerminalRef, int], configuration: Configuration
) -> TerminalRef:
    """The end that is joined first; see `feed_end`."""
    return wire.other_end(feed_end(wire, steps, configuration))


def target_ends(old: Wire, new: Wire) -> dict[TerminalRef, TerminalRef]:
    """Where each end of a conductor goes; a common end stays where it is."""
    common = old.joins & new.joins
    if len(common) == 2:
        return {end: end for end in old.ends}
    if common:
        fixed = next(iter(common))
        return {fixed: fixed, old.other_end(fixed): new.other_end(fixed)}
    return {old.start: new.start, old.end: new.end}
