"""
How long the operations of a plan take: minutes by sort of work, by place, setting up once a place.

The minutes come from a shop's file; see `labour_table`. Where no published figure was seen they are
our assumption, and the range is wide.
"""

from collections.abc import Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.ways import Run
from upgrade_planner.kit.labour_table import (
    LabourTable,
    Minutes,
    OperationTimes,
    added,
    shipped_labour_table,
)
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    CareForPart,
    CareForWire,
    DetachEnd,
    FindCause,
    FitPart,
    InsertFuse,
    JoinEnds,
    LeadAcross,
    Operation,
    Procedure,
    RebuildPart,
    RemovePart,
    RemoveWire,
    RunWire,
    SwitchOn,
    TakeOffEnds,
    UncapWire,
    Work,
)
from upgrade_planner.planning.plan import Plan


@frozen(kw_only=True)
class LabourLine:
    """Time of one operation, access included."""

    operation_id: str
    minutes: Minutes


@frozen(kw_only=True)
class Labour:
    """
    Time of a job.

    Attributes:
        lines: One for each operation of the plan, in its order.
        setting_up: Getting to each place that is opened, once, by place id.
    """

    lines: tuple[LabourLine, ...]
    setting_up: Mapping[str, Minutes]

    @property
    def total(self) -> Minutes:
        """All lines and all setting up."""
        return added(line.minutes for line in self.lines) + added(self.setting_up.values())


def labour(plan: Plan, table: LabourTable | None = None) -> Labour:
    """
    The time that a plan takes, operation by operation.

    Args:
        plan: The plan.
        table: Times of a shop; those that ship with the program if None.
    """
    table = table or shipped_labour_table()
    places = plan.comparison.before.place_by_id
    visited = sorted({op.place for op in plan.operations if op.place and is_opened(op)})
    return Labour(
        lines=tuple(
            LabourLine(operation_id=op.id, minutes=_with_access(op, table, plan))
            for op in plan.operations
        ),
        setting_up={place: table.setting_up.at(places[place]) for place in visited},
    )


def is_opened(operation: Operation) -> bool:
    """True if its place must be got at: a lamp is watched from outside as it is switched on."""
    return not isinstance(operation, SwitchOn)


def _with_access(operation: Operation, table: LabourTable, plan: Plan) -> Minutes:
    if isinstance(operation, Procedure):
        bare = _procedure(operation, table, plan)
    else:
        bare = _work(operation, table, plan)
    if not is_opened(operation):
        return bare
    places = plan.comparison.before.place_by_id
    return bare.times(table.access.at(places[operation.place]) if operation.place else 1.0)


def _work(operation: Operation, table: LabourTable, plan: Plan) -> Minutes:
    before, after, times = plan.comparison.before, plan.comparison.after, table.operations
    match operation:
        case DetachEnd() | TakeOffEnds():
            return times.detach_end
        case AttachEnd() | JoinEnds():
            made = len(plan.meetings[operation.id].made)
            return times.attach_end + times.make_end.times(made)
        case RemoveWire():
            run = before.runs[operation.wire.id]
            return times.take_out_wire + _along(times.take_out_metre, run, table)
        case RunWire():
            run = after.runs[operation.wire.id]
            return times.run_wire + _along(times.run_metre, run, table)
        case LeadAcross():
            return times.lead_across
        case CapWire():
            return times.cap_wire
        case UncapWire():
            return times.uncap_wire
        case RemovePart():
            return table.taking_off(operation.part.kind)
        case FitPart() | RebuildPart():
            return table.fitting(operation.part.kind)
        case AdjustPart():
            return times.other_fuses
        case CareForWire() | CareForPart() | FindCause():
            return _care(operation, times)
        case InsertFuse() | SwitchOn():
            is_trial = isinstance(operation, SwitchOn)
            return table.steps.trial if is_trial else table.steps.step
    raise TypeError(f"no minutes for {type(operation).__name__}")


def _care(operation: CareForWire | CareForPart | FindCause, times: OperationTimes) -> Minutes:
    if isinstance(operation, FindCause):
        return times.find_cause
    return times.care_for_wire if isinstance(operation, CareForWire) else times.care_for_part


def _along(metre: Minutes, run: Run, table: LabourTable) -> Minutes:
    return metre.times(run.length_m * (table.operations.in_loom if run.in_loom else 1.0))


def _procedure(operation: Procedure, table: LabourTable, plan: Plan) -> Minutes:
    steps = table.steps
    if operation.work is Work.PHOTOGRAPHS:
        return steps.photograph.times(len(operation.views))
    if operation.work is Work.TAGS:
        return steps.tag.times(len(operation.ends))
    base = steps.hold if operation.hold else steps.step
    if operation.is_standing:
        base = steps.longer.get(operation.code, base)
    return base + steps.reading.times(len(plan.readings_in(operation)))
