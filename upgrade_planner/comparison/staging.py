"""
An upgrade in stages: no wire is fitted twice where one fitting can serve.

A wire that one stage fits and a later stage would replace by a larger or better one between the
same ends is given the later size at once, unless that harms the stage in between.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.chain import Fits, stages_of
from upgrade_planner.comparison.fitting_ahead import FittedAhead, NotAhead, with_wires_ahead
from upgrade_planner.comparison.results import Comparison, Policy
from upgrade_planner.comparison.undone import Undone, undone_work
from upgrade_planner.comparison.wire_changes import WireChange
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.errors import PlannerError


class NoStage(PlannerError):
    """Two stages in a row are the same wiring."""


@frozen(kw_only=True, eq=False)
class Staging:
    """
    A chain of jobs.

    Attributes:
        planned: The configurations as given, the vehicle as it is first.
        configurations: The same with wires fitted ahead; first and last are unchanged.
        comparisons: One for each stage, each from the vehicle as the stage before leaves it.
        ahead: Wires that are fitted in their later size.
        not_ahead: Wires that are fitted twice.
        undone: What a stage fits and a later one takes out again.
    """

    planned: tuple[Configuration, ...]
    configurations: tuple[Configuration, ...]
    comparisons: tuple[Comparison, ...]
    ahead: tuple[FittedAhead, ...]
    not_ahead: tuple[NotAhead, ...]
    undone: tuple[Undone, ...]


def staged(configurations: Sequence[Configuration], policy: Policy = Policy.REVERSIBLE) -> Staging:
    """
    The stages of a job, wires sized for the last stage that needs them.

    Args:
        configurations: The vehicle as it is, then as each stage leaves it.
        policy: As at `compare`.

    Raises:
        DifferentVehicles: not all belong to one vehicle.
        NoStage: two in a row are the same wiring.
    """
    planned = tuple(configurations)
    _require_differences(planned)
    made, ahead, not_ahead = with_wires_ahead(planned, policy)
    comparisons = _with_reasons(stages_of(made, policy), ahead)
    return Staging(
        planned=planned,
        configurations=made,
        comparisons=comparisons,
        ahead=ahead,
        not_ahead=not_ahead,
        undone=tuple(sorted(undone_work(comparisons))),
    )


def _require_differences(configurations: Sequence[Configuration]) -> None:
    for number, (one, other) in enumerate(pairwise(configurations), start=1):
        same_vehicle = one.vehicle.name == other.vehicle.name
        if len(configurations) > 2 and same_vehicle and one.digest == other.digest:
            raise NoStage(
                f"stage {number}: found the same wiring before and after it ('{one.name}', "
                f"'{other.name}'); expected each stage to change something"
            )


def _with_reasons(
    comparisons: Iterable[Comparison], ahead: Iterable[FittedAhead]
) -> tuple[Comparison, ...]:
    reasons = {(item.stage, item.fitted.id): item.reason for item in ahead}

    def told(stage: int, change: WireChange) -> WireChange:
        why = reasons.get((stage, change.wire.id))
        if why is None or not isinstance(change, Fits):
            return change
        return evolve(change, reasons=(*change.reasons, why))

    return tuple(
        evolve(comparison, wires=tuple(told(stage, change) for change in comparison.wires))
        for stage, comparison in enumerate(comparisons, start=1)
    )
