"""What was found at the vehicle, item by item, with the steps that deal with it."""

from collections.abc import Iterable, Iterator

from upgrade_planner.comparison.part_changes import PartChange, PartFitted
from upgrade_planner.comparison.wire_changes import FromVehicle
from upgrade_planner.configuration.model import Component, Wire
from upgrade_planner.documents.words.care import condition_words
from upgrade_planner.documents.words.wire_words import brief_words
from upgrade_planner.documents.words.wording import (
    role_words,
    sentence,
    short_length_words,
)
from upgrade_planner.documents.worksheet.views import SummaryRow
from upgrade_planner.documents.worksheet.wire_steps import ends_words
from upgrade_planner.planning.operations import (
    AdjustPart,
    CapWire,
    CareForPart,
    CareForWire,
    FindCause,
    FitPart,
    LeadAcross,
    Operation,
    RebuildPart,
    RemovePart,
    RemoveWire,
    RunWire,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.plan import Plan

NOTHING_WORN = "not as in the profile"
ADDED = "as found"
"""Slot of what an earlier owner added."""


def found_rows(plan: Plan, units: str) -> Iterator[SummaryRow]:
    """A row for each wire and part of the vehicle that is worn or was altered."""
    for change in plan.comparison.wires:
        if isinstance(change, FromVehicle) and _is_noted(change.before):
            yield _wire_row(change, plan, units)
    for part in plan.comparison.parts:
        if not isinstance(part, PartFitted) and _is_noted(part.before):
            yield _part_row(part.before, part, plan)


def _is_noted(item: Wire | Component) -> bool:
    return item.as_found or bool(item.condition)


def _wire_row(change: FromVehicle, plan: Plan, units: str) -> SummaryRow:
    wire, length = change.before, change.before.measured_length_m
    told = (
        _state(wire),
        wire.circuit if wire.slot == ADDED else "",
        f"{brief_words(wire, units)} {wire.insulation.name}",
        "" if length is None else short_length_words(length, units),
        ends_words(plan.comparison.before, wire.ends),
        wire.note,
    )
    names = {old_or_new.id for old_or_new in change.wires}
    steps = (s.number for s in plan.steps if names & _wires_of(s.operation))
    return SummaryRow(
        subject=f"wire {wire.id}",
        before=sentence("; ".join(filter(None, told))),
        after=_done(str(change.disposition), steps),
    )


def _part_row(part: Component, change: PartChange, plan: Plan) -> SummaryRow:
    steps = (s.number for s in plan.steps if _role_of(s.operation) == part.role)
    return SummaryRow(
        subject=role_words(part.role),
        before=sentence("; ".join(filter(None, (_state(part), part.name, part.note)))),
        after=_done(str(change.disposition), steps),
    )


def _state(item: Wire | Component) -> str:
    return condition_words(item.condition) or NOTHING_WORN


def _done(disposition: str, steps: Iterable[str]) -> str:
    numbers = ", ".join(steps)
    return f"{disposition}: {numbers}" if numbers else disposition


def _wires_of(operation: Operation) -> set[str]:
    match operation:
        case FindCause(item=Wire(id=name)):
            return {name}
        case (
            RemoveWire(wire=wire)
            | CapWire(wire=wire)
            | CareForWire(wire=wire)
            | LeadAcross(wire=wire)
            | RunWire(wire=wire)
        ):
            return {wire.id}
    off = {end.wire.id for end in ends_taken_off(operation)}
    return off | {end.wire.id for end in ends_joined(operation)}


def _role_of(operation: Operation) -> str:
    match operation:
        case FindCause(item=Component(role=role)):
            return role
        case (
            RemovePart(part=part)
            | FitPart(part=part)
            | AdjustPart(part=part)
            | RebuildPart(part=part)
            | CareForPart(part=part)
        ):
            return part.role
    return ""
