"""What one stage of a job fits and a later one takes out again."""

from collections.abc import Iterator, Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.chain import Fits, next_change
from upgrade_planner.comparison.part_changes import (
    PartExchanged,
    PartFitted,
    PartGoes,
    PartRebuilt,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import IntoTarget, Resized
from upgrade_planner.configuration.kinds import Capability


@frozen(kw_only=True, order=True)
class Undone:
    """Work of one stage that a later one undoes: the name of a wire, or the role of a part."""

    stage: int
    by_stage: int
    what: str
    is_part: bool = False


def undone_work(comparisons: Sequence[Comparison]) -> Iterator[Undone]:
    """All of it, the first stage first."""
    for stage, comparison in enumerate(comparisons, start=1):
        for change in comparison.wires:
            if isinstance(change, Fits):
                by = _out_in(change.wire.id, comparisons, stage)
                if by:
                    yield Undone(stage=stage, by_stage=by, what=change.wire.id)
        yield from _parts_undone(comparisons, stage)


def _out_in(wire_id: str, comparisons: Sequence[Comparison], stage: int) -> int:
    """The later stage in which nothing takes a wire's place any more; 0 if something does."""
    for number in range(stage + 1, len(comparisons) + 1):
        change = next_change(comparisons[number - 1], wire_id)
        if not isinstance(change, IntoTarget):
            return number
        if isinstance(change, Resized):
            return 0
        wire_id = change.after.id
    return 0


def _parts_undone(comparisons: Sequence[Comparison], stage: int) -> Iterator[Undone]:
    for part in comparisons[stage - 1].parts:
        if not isinstance(part, PartFitted | PartExchanged | PartRebuilt) or part.part.can(
            Capability.MADE_OF_WIRE
        ):
            continue
        for number in range(stage + 1, len(comparisons) + 1):
            if isinstance(comparisons[number - 1].part_by_role[part.role], PartGoes):
                yield Undone(stage=stage, by_stage=number, what=part.role, is_part=True)
                break
