"""
The way back from an upgrade: the reverse plan, what the first job put into the bag, what stays.

The reverse is a plan like any other, ordered and proven by simulation; see
`comparison.reversing` for how each decision is turned round.
"""

from collections.abc import Iterable
from enum import StrEnum

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.cut_links import is_crimped_link
from upgrade_planner.comparison.part_changes import PartFitted, PartRelocated
from upgrade_planner.comparison.reversing import is_reusable, reversed_comparison
from upgrade_planner.comparison.wire_changes import Added
from upgrade_planner.configuration.model import Component, Wire
from upgrade_planner.configuration.ways import Run
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    FitPart,
    Operation,
    RebuildPart,
    RemovePart,
    RemoveWire,
    RunWire,
    Side,
    ends_joined,
)
from upgrade_planner.planning.plan import NumberedOperation, Plan, plan_for


@frozen(kw_only=True)
class Bagged:
    """
    Something that a job takes off and that is kept.

    Attributes:
        step: Number of the step that takes it off.
        number: Number of the wire; 0 of a part.
        mark: What its tag says: the id of a wire, the role of a part.
        wire: The wire, or None.
        part: The part, or None; of fuses, the part they were in.
        length_m: Length of the wire. [m]
        place: Id of the place it comes from; of a wire, of its nearer end while one works.
        fuses: True if only the fuses of the part are meant.
        insides: What was in a part that stayed; "" if the part itself, or a wire, is meant.
        reusable: False if it can hardly go in again, as a wire drawn out of a taped loom.
    """

    step: str
    mark: str
    number: int = 0
    wire: Wire | None = None
    part: Component | None = None
    length_m: float = 0.0
    place: str
    fuses: bool = False
    insides: str = ""
    reusable: bool = True


class Trace(StrEnum):
    """What a job leaves for good."""

    TAPE_OPENED = "tape-opened"
    PINS_DRAWN = "pins-drawn"
    ENDS_CUT = "ends-cut"
    CAPS_CUT = "caps-cut"
    HOLES_DRILLED = "holes-drilled"
    CLIPS_FITTED = "clips-fitted"
    USED_UP = "used-up"


@frozen(kw_only=True)
class Lasting:
    """
    A trace of a job that its way back does not undo.

    Attributes:
        trace: What it is.
        concerned: Wires or parts; () where ends are counted.
        connectors: Roles of the connectors in which it is left.
        ends: How many made ends it is about, 0 where things are named.
    """

    trace: Trace
    concerned: tuple[str, ...] = ()
    connectors: tuple[str, ...] = ()
    ends: int = 0


@frozen(kw_only=True, eq=False)
class WayBack:
    """
    A job and its reverse.

    Attributes:
        forward: The job.
        plan: The reverse: from the vehicle as the job left it to the vehicle as it was.
        bag: What the job took off, in the order of its steps.
        lasting: What cannot be undone.
        new_wires: Wires that must be made of new cable, by their ids in the original.
    """

    forward: Plan
    plan: Plan
    bag: tuple[Bagged, ...]
    lasting: tuple[Lasting, ...]
    new_wires: tuple[str, ...]


def way_back(forward: Plan) -> WayBack:
    """
    The reverse of a plan.

    Raises:
        ImpossibleStep: the reverse does not stand the proof by simulation; a fault of this program.
    """
    plan = plan_for(reversed_comparison(forward.comparison))
    return WayBack(
        forward=forward,
        plan=plan,
        bag=bag_of(forward),
        lasting=lasting_traces(forward),
        new_wires=tuple(
            change.mark for change in plan.comparison.wires if isinstance(change, Added)
        ),
    )


def bag_of(plan: Plan) -> tuple[Bagged, ...]:
    """What a plan takes off and does not fit again, in the order of its steps."""
    found = (_bagged(step, plan) for step in plan.steps)
    return tuple(item for item in found if item is not None)


def _bagged(step: NumberedOperation, plan: Plan) -> Bagged | None:
    match step.operation:
        case RemoveWire(wire=wire, place=place, conductor=conductor):
            run = plan.comparison.before.runs[wire.id]
            return Bagged(
                step=step.number,
                mark=wire.id,
                number=plan.number_of(conductor),
                wire=wire,
                length_m=run.length_m,
                place=place,
                reusable=is_reusable(run) and not is_crimped_link(wire, plan.comparison.before),
            )
        case RemovePart(part=part, place=place):
            if isinstance(plan.comparison.part_by_role[part.role], PartRelocated):
                return None
            return Bagged(step=step.number, mark=part.role, part=part, place=place)
        case RebuildPart(before=part, place=place, leaves=leaves) if leaves:
            return Bagged(step=step.number, mark=part.role, part=part, place=place, insides=leaves)
        case AdjustPart(before=part, place=place):
            return Bagged(step=step.number, mark=part.role, part=part, place=place, fuses=True)
    return None


# What cannot be undone --------------------------------------------------------------------------


def lasting_traces(plan: Plan) -> tuple[Lasting, ...]:
    """What stays of a job after its way back, drawn from the operations that it really has."""
    operations = plan.operations
    found = (
        *_opened(plan, operations),
        _lasting(
            Trace.ENDS_CUT,
            (end.wire.id for op in operations for end in ends_joined(op) if _is_cut(end)),
        ),
        _lasting(
            Trace.CAPS_CUT,
            (op.wire.id for op in operations if isinstance(op, CapWire)),
        ),
        _lasting(
            Trace.HOLES_DRILLED,
            (op.part.role for op in operations if isinstance(op, FitPart) and _is_new(op, plan)),
        ),
        _lasting(
            Trace.CLIPS_FITTED,
            (op.wire.id for op in operations if isinstance(op, RunWire)),
        ),
        Lasting(trace=Trace.USED_UP, ends=_made_ends(operations)),
    )
    return tuple(item for item in found if item.concerned or item.ends)


def _opened(plan: Plan, operations: Iterable[Operation]) -> tuple[Lasting, ...]:
    before, after = plan.comparison.before.runs, plan.comparison.after.runs
    out = [op.wire for op in operations if isinstance(op, RemoveWire)]
    new = [op.wire for op in operations if isinstance(op, RunWire)]
    drawn = [wire.id for wire in out if before[wire.id].in_loom]
    pins = [w.id for w in out if before[w.id].connectors] + [
        w.id for w in new if after[w.id].connectors
    ]
    runs: list[Run] = [before[w.id] for w in out] + [after[w.id] for w in new]
    connectors = sorted({role for run in runs for role in run.connectors})
    return (
        _lasting(Trace.TAPE_OPENED, drawn),
        _lasting(Trace.PINS_DRAWN, pins, connectors),
    )


def _is_cut(end: AttachEnd) -> bool:
    """True if a conductor that was in use is given a new end."""
    return end.remade and end.conductor.side is Side.OLD


def _is_new(operation: FitPart, plan: Plan) -> bool:
    """True if nothing sat there before."""
    change = plan.comparison.part_by_role[operation.part.role]
    return isinstance(change, PartFitted | PartRelocated)


def _made_ends(operations: Iterable[Operation]) -> int:
    return sum(end.remade for op in operations for end in ends_joined(op))


def _lasting(trace: Trace, concerned: Iterable[str], connectors: Iterable[str] = ()) -> Lasting:
    named = tuple(sorted(set(concerned)))
    return Lasting(trace=trace, concerned=named, connectors=tuple(connectors))
