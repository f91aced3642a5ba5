"""Which end of a wire is nearer to the battery: that one is joined last and taken off first."""

from collections import deque
from collections.abc import Mapping

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Configuration, TerminalRef, Wire
from upgrade_planner.electrical.batteries import posts_of
from upgrade_planner.electrical.passing import reached_through

_FAR = 1_000_000


def steps_from_battery(configuration: Configuration) -> Mapping[TerminalRef, int]:
    """Number of wires and parts between the nearest live post and each terminal it can reach."""
    found = dict.fromkeys(posts_of(configuration).live, 0)
    queue = deque(found)
    while queue:
        ref = queue.popleft()
        for other in _neighbours(configuration, ref):
            if other not in found:
                found[other] = found[ref] + 1
                queue.append(other)
    return found


def _neighbours(configuration: Configuration, ref: TerminalRef) -> list[TerminalRef]:
    along = [wire.other_end(ref) for wire in configuration.wires_at.get(ref, ())]
    return [*reached_through(ref, configuration.component(ref.role)), *along]


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
