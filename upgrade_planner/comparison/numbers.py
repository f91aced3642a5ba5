"""
One number for each conductor of a job: names repeat, old and new, numbers do not.

Conductors that are in the vehicle have the numbers of their places in its list, from 1. New ones
go on with the next full hundred and one, so that anybody sees which is which.
"""

from collections.abc import Iterable, Mapping
from itertools import count

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.wire_changes import (
    ON_THE_WAY_BACK,
    IntoTarget,
    Kept,
    Moved,
    WireChange,
)
from upgrade_planner.configuration.model import Wire


@frozen
class WireNumbers:
    """
    Numbers of conductors.

    Attributes:
        old: Of the vehicle as it is, by wire id; those that lie dead in it with them.
        new: Of the target, by wire id; what serves on has the same number.
    """

    old: Mapping[str, int]
    new: Mapping[str, int]


def conductor_numbers(
    before: Iterable[Wire],
    changes: Iterable[WireChange],
    known: WireNumbers | None,
) -> WireNumbers:
    """
    The numbers of a job.

    Args:
        before: Wires in use before it.
        changes: What happens to each wire.
        known: Numbers that an earlier job gave: `old` to the wires in use now, `new` to wires that
            it took off or capped and that may serve again.
    """
    ids = [wire.id for wire in before]
    old = dict(known.old) if known else {name: i for i, name in enumerate(ids, 1)}
    again = known.new if known else {}
    highest = max((*old.values(), *again.values()), default=0)
    fresh = count((highest // 100 + 1) * 100 + 1)
    new: dict[str, int] = {}
    for change in changes:
        if isinstance(change, Kept | Moved):
            new[change.after.id] = old[change.before.id]
        elif isinstance(change, IntoTarget):
            name = change.after.id
            serves_again = change.disposition in ON_THE_WAY_BACK and name in again
            new[name] = again[name] if serves_again else next(fresh)
    return WireNumbers(old=old, new=new)
