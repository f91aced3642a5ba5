"""
How long the operations of a plan take: minutes by sort of work, by place, setting up once a place.

The minutes come from a shop's file; see `labour_table`. Where no published figure was seen they are
our assumption, and the range is wide.
"""

from collections.abc import Iterator, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Component, Wire
from upgrade_planner.configuration.ways import Run
from upgrade_planner.kit.harness import opened_looms_m
from upgrade_planner.kit.kinds_of_work import WIRING, work_of
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
    Phase,
    Procedure,
    RebuildPart,
    RemovePart,
    RemoveWire,
    RunWire,
    SwitchOn,
    TakeOffEnds,
    UncapWire,
    Work,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.plan import Plan

KEY = "ignition_switch"
"""Role of the switch that is turned from the driver's seat."""


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
    visited = sorted({op.place for op in plan.operations if op.place and is_opened(op, plan)})
    looms_m, in_hand = opened_looms_m(plan), len(items_in_hand(plan))
    lines = []
    for operation in plan.operations:
        bare = _bare(operation, table, plan, in_hand)
        if operation.id in looms_m:
            bare += _loom(looms_m[operation.id], table)
        own = table.own.of(work_of(operation))
        minutes = bare.times(_access(operation, table, plan) * own)
        lines.append(LabourLine(operation_id=operation.id, minutes=minutes))
    wiring = table.own.of(WIRING)
    return Labour(
        lines=tuple(lines),
        setting_up={place: table.setting_up.at(places[place]).times(wiring) for place in visited},
    )


def items_in_hand(plan: Plan) -> frozenset[str]:
    """Wires and parts that the work changes, or takes off and puts back, by id and role."""
    return frozenset(name for operation in plan.operations for name in _in_hand(operation))


def _in_hand(operation: Operation) -> Iterator[str]:
    if isinstance(operation, Procedure | SwitchOn):
        return
    yield from (end.wire.id for end in ends_taken_off(operation))
    yield from (end.wire.id for end in ends_joined(operation))
    item: object = getattr(operation, "wire", None) or getattr(operation, "part", None)
    if isinstance(item, Wire | Component):
        yield item.id if isinstance(item, Wire) else item.role


def is_opened(operation: Operation, plan: Plan) -> bool:
    """
    True if its place must be got at.

    A lamp is watched from outside as it is switched on, and the key is turned from the seat.
    """
    if isinstance(operation, SwitchOn):
        return False
    is_live = operation.phase in (Phase.TEST_LIVE, Phase.RUN_ENGINE)
    if not isinstance(operation, Procedure) or not is_live:
        return True
    sides = (plan.comparison.before, plan.comparison.after)
    keys = {side.component_by_role[KEY].place for side in sides if KEY in side.component_by_role}
    return operation.place not in keys


def _access(operation: Operation, table: LabourTable, plan: Plan) -> float:
    if not operation.place or not is_opened(operation, plan):
        return 1.0
    return table.access.at(plan.comparison.before.place_by_id[operation.place])


def _loom(length_m: float, table: LabourTable) -> Minutes:
    """Opening and closing looms, once for all wires that come or go."""
    times = table.operations
    return (times.open_loom_metre + times.close_loom_metre).times(length_m)


def _bare(operation: Operation, table: LabourTable, plan: Plan, in_hand: int) -> Minutes:
    if isinstance(operation, Procedure):
        return _procedure(operation, table, plan, in_hand)
    return _work(operation, table, plan)


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


def _procedure(operation: Procedure, table: LabourTable, plan: Plan, in_hand: int) -> Minutes:
    steps = table.steps
    if operation.work is Work.PHOTOGRAPHS:
        return steps.photograph.times(len(operation.views))
    if operation.work is Work.TAGS:
        return steps.tag.times(len(operation.ends))
    base = steps.hold if operation.hold else steps.step
    if operation.is_standing:
        base = steps.longer.get(operation.code, base)
        base += steps.each.get(operation.code, Minutes()).times(in_hand)
    return base + steps.reading.times(len(plan.readings_in(operation)))
