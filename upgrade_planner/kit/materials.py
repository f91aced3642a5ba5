"""
What each operation consumes and gives back; parts lists, orders and quotations add these up.

`cable`, `ends`, `harness` and `parts` know what is taken; `allowances` holds what is added.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from attrs import evolve

from upgrade_planner.configuration.model import Configuration
from upgrade_planner.kit.articles import Material, totals
from upgrade_planner.kit.cable import cable, cut_length_m, first_piece_m
from upgrade_planner.kit.ends import (
    adapters,
    caps,
    connector_passed,
    distribution_block,
    made_fitting,
)
from upgrade_planner.kit.fitted_parts import adjusted, fitted, given_back, inserted, rebuilt
from upgrade_planner.kit.harness import harness
from upgrade_planner.kit.worn import cleaned, mended
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    CareForPart,
    CareForWire,
    FitPart,
    InsertFuse,
    JoinEnds,
    Operation,
    RebuildPart,
    RunWire,
    ends_joined,
)
from upgrade_planner.planning.plan import Plan

__all__ = [
    "consumption",
    "cut_length_m",
    "first_piece_m",
    "gives_back",
    "totals",
]

KEPT = 16
"""Plans whose materials are at hand. A number of our own; a job of stages has a few."""


@lru_cache(maxsize=KEPT)
def consumption(plan: Plan) -> Mapping[str, tuple[Material, ...]]:
    """
    Materials by operation id, for every operation that consumes any, in the order of the plan.

    Kept for whoever asks next: lists, sheets and quotations of one plan ask again and again.

    What comes from the bag takes nothing but ties, tape and new splices.
    """
    along = harness(plan)
    found = {}
    for operation in plan.operations:
        taken = (*_materials(operation, plan), *along.get(operation.id, ()))
        if taken:
            found[operation.id] = tuple(_of(operation, material) for material in taken)
    return found


def gives_back(plan: Plan) -> Mapping[str, tuple[Material, ...]]:
    """
    Parts that come off and can go back as cores, by the operation that removes them.

    One for each new part of the same family. Whoever wants to keep the old part pays its deposit.
    """
    return {operation.id: (_of(operation, material),) for operation, material in given_back(plan)}


def _of(operation: Operation, material: Material) -> Material:
    return evolve(material, operation_id=operation.id, place=operation.place)


def _materials(operation: Operation, plan: Plan) -> Iterable[Material]:
    match operation:
        case RunWire() if not operation.from_bag:
            return _new_wire(operation, plan.comparison.after)
        case AttachEnd() | JoinEnds():
            return _joined(operation, plan)
        case CapWire():
            return caps(operation.wire)
        case FitPart():
            return fitted(operation, plan)
        case AdjustPart():
            return adjusted(operation)
        case RebuildPart():
            return rebuilt(operation)
        case CareForWire():
            return mended(operation)
        case CareForPart():
            return cleaned(operation)
        case InsertFuse():
            return inserted(operation, plan)
    return ()


def _new_wire(operation: RunWire, after: Configuration) -> Iterator[Material]:
    wire = operation.wire
    yield cable(wire, after)
    for role in after.runs[wire.id].connectors:
        connector = after.component(role)
        yield from connector_passed(wire, connector, after.place_by_id[connector.place].space)


def _joined(operation: Operation, plan: Plan) -> Iterator[Material]:
    """What each new fitting takes, and what makes room for it."""
    meeting = plan.meetings[operation.id]
    after = plan.comparison.after
    space, system = after.place_of(meeting.end).space, after.vehicle.size_system
    for fitting in meeting.made:
        yield from made_fitting(fitting, meeting.connection, space, system)
    wires = tuple(end.wire.id for end in ends_joined(operation))
    yield from adapters(meeting.connection, meeting.adapters, wires)
    yield from distribution_block(meeting.connection, meeting.fittings, space)
