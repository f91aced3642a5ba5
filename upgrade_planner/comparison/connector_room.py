"""
Room in connectors: a dead wire that was to stay capped comes out where its cavity is needed.

Over several jobs, wires that an earlier one left dead hold cavities too.
"""

from collections.abc import Sequence

from attrs import evolve

from upgrade_planner.comparison.reasons import STAYS
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.why import Reason, because
from upgrade_planner.comparison.wire_changes import CappedOff, Removed, Resized
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component


def with_own_room(comparison: Comparison) -> Comparison:
    """The same job; a dead wire whose cavity a new one needs comes out instead of being capped."""
    made = [comparison]
    for part in _connectors(comparison):
        _make_room(made, 0, part, because("cavity-needed", connector=part.role))
    return made[0]


def with_room(comparisons: Sequence[Comparison]) -> tuple[Comparison, ...]:
    """
    The same jobs; a dead wire whose cavity a later one needs comes out instead of being capped.

    Args:
        comparisons: Jobs on one vehicle, one after the other.
    """
    made = list(comparisons)
    for number in range(len(made)):
        for part in _connectors(made[number]):
            why = because("stage-needs-cavity", stage=number + 1, connector=part.role)
            _make_room(made, number, part, why)
    return tuple(made)


def _connectors(comparison: Comparison) -> list[Component]:
    return list(comparison.after.parts_of(Family.CONNECTOR))


def _make_room(made: list[Comparison], number: int, connector: Component, why: Reason) -> None:
    while _occupied(made, number, connector.role) > connector.ratings["cavities"]:
        held = [
            (stage, change)
            for stage in range(number + 1)
            for change in _holding(made[stage], connector.role)
        ]
        if not held:
            return  # too many live wires: a finding, not a matter of policy
        stage, first = min(held, key=lambda item: (item[0], item[1].wire.circuit, item[1].mark))
        out = _taken_out(first, why)
        wires = tuple(out if change is first else change for change in made[stage].wires)
        made[stage] = evolve(made[stage], wires=wires)


def _occupied(made: Sequence[Comparison], number: int, connector: str) -> int:
    """Cavities taken by live and dead wires; a wire that passes the connector twice takes two."""
    runs = [
        *made[number].after.runs.values(),
        *(
            job.before.runs[change.before.id]
            for job in made[: number + 1]
            for change in _holding(job, connector)
        ),
    ]
    return sum(run.connectors.count(connector) for run in runs)


def _holding(comparison: Comparison, connector: str) -> list[CappedOff | Resized]:
    """Changes that leave a dead wire in the connector."""
    runs = comparison.before.runs
    return [
        change
        for change in comparison.wires
        if isinstance(change, CappedOff | Resized)
        and change.capped_wire is not None
        and connector in runs[change.before.id].connectors
    ]


def _taken_out(change: CappedOff | Resized, why: Reason) -> Removed | Resized:
    reasons = (*(reason for reason in change.reasons if reason.code not in STAYS), why)
    if isinstance(change, CappedOff):
        return Removed(before=change.before, reasons=reasons)
    return evolve(change, old_stays=False, reasons=reasons)
