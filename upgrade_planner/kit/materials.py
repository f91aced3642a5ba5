"""
What each operation consumes and gives back; parts lists, orders and quotations add these up.

`cable`, `ends`, `harness` and `parts` know what is taken; `allowances` holds what is added.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from attrs import evolve

from upgrade_planner.configuration.model import Configuration, Joint
from upgrade_planner.kit.articles import Material, totals
from upgrade_planner.kit.cable import cable, cut_length_m, first_piece_m
from upgrade_planner.kit.ends import caps, connector_passed, made_end, splice
from upgrade_planner.kit.harness import harness
from upgrade_planner.kit.parts import adjusted, fitted, given_back
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    FitPart,
    Operation,
    RunWire,
)
from upgrade_planner.planning.plan import Plan

__all__ = [
    "consumption",
    "cut_length_m",
    "first_piece_m",
    "gives_back",
    "totals",
]


def consumption(plan: Plan) -> Mapping[str, tuple[Material, ...]]:
    """
    Materials by operation id, for every operation that consumes any, in the order of the plan.

    What comes from the bag takes nothing but ties, tape and new splices.
    """
    along = harness(plan)
    splices = _closing_ends(plan.operations, plan.comparison.after)
    found = {}
    for operation in plan.operations:
        taken = (*_materials(operation, plan, splices), *along.get(operation.id, ()))
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


def _materials(operation: Operation, plan: Plan, splices: Mapping[str, str]) -> Iterable[Material]:
    match operation:
        case RunWire() if not operation.from_bag:
            return _new_wire(operation, plan.comparison.after)
        case AttachEnd() if operation.remade:
            return _end(operation, plan.comparison.after, splices)
        case CapWire():
            return caps(operation.wire)
        case FitPart():
            return fitted(operation, plan)
        case AdjustPart():
            return adjusted(operation)
    return ()


def _new_wire(operation: RunWire, after: Configuration) -> Iterator[Material]:
    wire = operation.wire
    yield cable(wire, after)
    for role in after.runs[wire.id].connectors:
        connector = after.component(role)
        yield from connector_passed(wire, connector, after.place_by_id[connector.place].space)


def _end(
    operation: AttachEnd, after: Configuration, splices: Mapping[str, str]
) -> Iterable[Material]:
    """A terminal for each end; one splice joins all its cables, taken with the last of them."""
    end = operation.end
    terminal = after.component(end.role).terminal(end.terminal)
    assert terminal is not None
    if terminal.connection.joint is not Joint.SPLICE:
        return made_end(operation.wire, terminal.connection, after.place_of(end).space)
    if splices[end.role] != operation.id:
        return ()
    return splice((wire.size for wire in after.wires_at[end]), operation.wire.id)


def _closing_ends(operations: Iterable[Operation], after: Configuration) -> Mapping[str, str]:
    """For each splice that is made, the operation that closes it."""
    last: dict[str, str] = defaultdict(str)
    for operation in operations:
        if isinstance(operation, AttachEnd) and operation.remade:
            terminal = after.component(operation.end.role).terminal(operation.end.terminal)
            if terminal is not None and terminal.connection.joint is Joint.SPLICE:
                last[operation.end.role] = operation.id
    return last
