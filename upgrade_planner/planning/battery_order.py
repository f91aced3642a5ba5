"""
The order at the battery posts, first in making safe and last in joining again.

Off: what is grounded, then what leads from the live posts to the vehicle, then the links between
batteries. On: the links, the live cables, the test lamp with its hold point; only then what is
grounded. So the lamp carries the first current through everything, and until then no loose end is
live.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeVar

from attrs import evolve

from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.batteries import Cable
from upgrade_planner.planning.operations import (
    Dependency,
    FitPart,
    Operation,
    Wait,
    ends_joined,
    ends_taken_off,
)

Cables = Mapping[tuple[str, TerminalRef], Cable]

_OFF = (
    (Cable.GROUNDED, Wait.IN_TURN),
    (Cable.LIVE, Wait.GROUND_OFF),
    (Cable.LINK, Wait.VEHICLE_OFF_FIRST),
)
_ON = (
    (Cable.LINK, Wait.BEFORE_ANY_CABLE),
    (Cable.LIVE, Wait.BATTERIES_FIRST),
)
_LAMP = Wait.ALL_BUT_GROUNDED
_GROUNDED = Wait.THROUGH_TEST_LAMP

Op = TypeVar("Op", bound=Operation)


def cable_at(operation: Operation, cables: Cables) -> Cable | None:
    """What an operation takes off a battery post or joins to it; None for all others."""
    ends = ends_joined(operation) or ends_taken_off(operation)
    return cables.get((ends[0].wire.id, ends[0].end)) if ends else None


def taken_off(work: Sequence[Operation], cables: Cables) -> list[Operation]:
    """The work of making safe, cables of the configuration before: each group waits."""
    return _in_groups(work, (), cables, _OFF)


def joined_again(
    work: Sequence[Operation],
    before: Sequence[Operation],
    after: Sequence[Operation],
    cables: Cables,
) -> list[Operation]:
    """
    The work of joining again, woven with its standing steps.

    Args:
        work: What goes on the battery posts, and batteries that are fitted.
        before: Standing steps before any of it, in their order.
        after: Test lamp and hold point, in their order.
        cables: Of the configuration after.
    """
    fitted = [op for op in work if isinstance(op, FitPart)]
    if before:
        before = [waiting_for(before[0], fitted, Wait.PART_IN_PLACE), *before[1:]]
    work = [op for op in work if op not in fitted]
    grounded = [op for op in work if cable_at(op, cables) is Cable.GROUNDED]
    others = _in_groups([op for op in work if op not in grounded], before[-1:], cables, _ON)
    lamp = [waiting_for(op, others or before[-1:], _LAMP) for op in after[:1]]
    closing = [waiting_for(op, after[-1:] or others or before[-1:], _GROUNDED) for op in grounded]
    return [*fitted, *before, *others, *lamp, *after[1:], *closing]


def _in_groups(
    work: Sequence[Operation],
    first: Sequence[Operation],
    cables: Cables,
    groups: Iterable[tuple[Cable, Wait]],
) -> list[Operation]:
    """
    The work in its groups; each operation waits for `first` and all groups before its own.

    What is no cable is done with the links, while nothing is live.
    """
    done: list[Operation] = []
    for cable, reason in groups:
        group = [op for op in work if (cable_at(op, cables) or Cable.LINK) is cable]
        done += [waiting_for(op, [*first, *done], reason) for op in group]
    return done


def waiting_for(operation: Op, others: Iterable[Operation], reason: Wait) -> Op:
    """The operation with more to wait for."""
    waits = tuple(Dependency(other.id, reason) for other in others)
    return evolve(operation, after=operation.after + waits)


def link_ids(cables: Cables) -> set[str]:
    """Ids of the cables that join one battery to another."""
    return {wire_id for (wire_id, _), cable in cables.items() if cable is Cable.LINK}
