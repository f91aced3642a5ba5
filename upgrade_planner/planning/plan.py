"""
The plan of a job: ordered operations, hold points, readings, messages about danger.

`plan_upgrade` is the whole computation behind a work sheet; documents only lay its result out.
"""

import hashlib
from collections.abc import Iterable, Mapping
from functools import cached_property

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.results import Comparison, Policy
from upgrade_planner.comparison.wire_changes import NAMED_IF_ANY, Disposition
from upgrade_planner.configuration.composing.routing import walking_distances
from upgrade_planner.configuration.model import Configuration, TerminalRef
from upgrade_planner.configuration.ways import Place
from upgrade_planner.electrical.batteries import Cable, cables_of, grounded_post
from upgrade_planner.planning.battery_order import cable_at, joined_again, taken_off, waiting_for
from upgrade_planner.planning.building import wire_and_part_operations
from upgrade_planner.planning.fact_values import Facts
from upgrade_planner.planning.facts import facts_of
from upgrade_planner.planning.functions import functions_to_try
from upgrade_planner.planning.fuses import insertions
from upgrade_planner.planning.joints.grouping import grouped
from upgrade_planner.planning.joints.loosening import LeftBehind, left_behind
from upgrade_planner.planning.joints.meeting import Meeting, meetings
from upgrade_planner.planning.operations import (
    ConductorKey,
    Dependency,
    Operation,
    Phase,
    Procedure,
    Side,
    Wait,
    Work,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.ordering import in_order_of_work
from upgrade_planner.planning.sheet_rows import SheetRow, rows
from upgrade_planner.planning.simulation import ImpossibleStep, VehicleState, state_of
from upgrade_planner.planning.standing_data import (
    Hazard,
    Reading,
    StandingStep,
    hazards,
    readings,
    standing_steps,
)
from upgrade_planner.readings.expecting import Expectation, expectations


@frozen(kw_only=True)
class NumberedOperation:
    """An operation with its step number: that of its row, with a count if it is one of several."""

    number: str
    row: str
    """Number of the row of the sheet that has its tick."""
    operation: Operation


@frozen(kw_only=True, eq=False)
class Plan:
    """Everything that has to be done, in order."""

    comparison: Comparison
    steps: tuple[NumberedOperation, ...]
    rows: tuple[SheetRow, ...]
    """The steps as a sheet groups them: one row a wire, stud, splice, part or test."""
    readings: tuple[Reading, ...]
    hazards: tuple[Hazard, ...]
    facts: Facts
    check_code: str

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What stands against the target configuration, gravest first."""
        return check(self.comparison.after)

    @cached_property
    def findings_before(self) -> tuple[Finding, ...]:
        """What is wrong with the vehicle as it is."""
        return check(self.comparison.before)

    @cached_property
    def expected(self) -> Mapping[str, Expectation]:
        """What each reading should show before and after, and what to doubt, by its id."""
        points = (reading.point for reading in self.readings)
        return expectations(points, self.comparison.before, self.comparison.after)

    @property
    def sheet_number(self) -> str:
        """Number of its papers, if they are given no other."""
        return f"WS-{self.check_code[:4].upper()}"

    @cached_property
    def operations(self) -> tuple[Operation, ...]:
        """The operations without their numbers."""
        return tuple(step.operation for step in self.steps)

    def number_of(self, conductor: ConductorKey) -> int:
        """The number that a conductor carries through all papers."""
        numbers = self.comparison.numbers
        side = numbers.old if conductor.side is Side.OLD else numbers.new
        return side[conductor.wire_id]

    @cached_property
    def meetings(self) -> Mapping[str, Meeting]:
        """What each joining operation leaves at its terminal, by its id."""
        return meetings(self.comparison, self.operations)

    @cached_property
    def left_behind(self) -> Mapping[str, tuple[LeftBehind, ...]]:
        """What stays at nuts that steps loosen and nothing comes to, by id of the operation."""
        return left_behind(self.comparison, self.operations)

    def readings_in(self, procedure: Procedure) -> tuple[Reading, ...]:
        """The readings that are taken in one step, in the order of the test table."""
        return tuple(r for r in self.readings if r.group == procedure.reading_group)


def plan_upgrade(
    before: Configuration, after: Configuration, policy: Policy = Policy.REVERSIBLE
) -> Plan:
    """
    The plan that leads from one configuration to the other.

    Raises:
        DifferentVehicles: the configurations belong to different vehicles.
        ImpossibleStep: the plan does not stand the proof by simulation; a fault of this program.
    """
    return plan_for(compare(before, after, policy))


def plan_for(comparison: Comparison) -> Plan:
    """The plan for a comparison; see `plan_upgrade`."""
    facts = facts_of(comparison)
    operations: tuple[Operation, ...] = ()
    if not comparison.is_empty:
        operations = _ordered(comparison, facts)
        _prove(comparison, operations)
    grouped_in = rows(operations)
    return Plan(
        comparison=comparison,
        steps=_numbered(operations, grouped_in),
        rows=grouped_in,
        readings=readings(facts, comparison.after) if operations else (),
        hazards=hazards(facts) if operations else (),
        facts=facts,
        check_code=check_code_of(comparison),
    )


def _ordered(comparison: Comparison, facts: Facts) -> tuple[Operation, ...]:
    work = (*grouped(wire_and_part_operations(comparison), comparison), *insertions(comparison))
    work = (*work, *functions_to_try(comparison, work))
    optional = {Phase.CAP_OFF, Phase.FIT_PARTS, Phase.RUN_WIRES, Phase.GROUNDS}
    needed = set(Phase) - optional | {operation.phase for operation in work}
    standing = standing_steps(facts, needed)
    distances = walking_distances(
        (place.id for place in comparison.before.places), comparison.before.routes
    )
    records = _records(comparison, work)
    everything = _with_standing([*work, *records], standing, comparison)
    battery = grounded_post(comparison.before)
    start = comparison.before.component(battery.role).place if battery else ""
    return in_order_of_work(everything, distances, start_place=start)


def _with_standing(
    operations: list[Operation], standing: tuple[StandingStep, ...], comparison: Comparison
) -> list[Operation]:
    """Standing steps woven in: each waits for what must stand before it in its phase."""
    woven: list[Operation] = []
    for phase in Phase:
        work = [operation for operation in operations if operation.phase is phase]
        steps = [step for step in standing if step.procedure.phase is phase]
        woven += _woven_phase(phase, work, steps, comparison)
    return woven


def _woven_phase(
    phase: Phase, work: list[Operation], steps: list[StandingStep], comparison: Comparison
) -> list[Operation]:
    before = _chained([s for s in steps if s.side == "before"], comparison, ())
    after = _chained([s for s in steps if s.side == "after"], comparison, ())
    if phase is Phase.RECONNECT:
        return joined_again(work, before, after, cables_of(comparison.after))
    if phase is Phase.TEST_LIVE and before:  # fuses go in before anything is tried
        before[0] = waiting_for(before[0], work, Wait.IN_TURN)
        return [*work, *before, *after]
    if phase is Phase.MAKE_SAFE:
        work = taken_off(work, cables_of(comparison.before))
    if before:
        work = [waiting_for(operation, before[-1:], Wait.IN_TURN) for operation in work]
    if after:
        after[0] = waiting_for(after[0], work or before[-1:], Wait.IN_TURN)
    return [*before, *work, *after]


def _chained(
    steps: list[StandingStep], comparison: Comparison, first: tuple[Dependency, ...]
) -> list[Operation]:
    chained: list[Operation] = []
    for step in steps:
        after = first + tuple(Dependency(op.id, Wait.IN_TURN) for op in chained[-1:])
        place = _place_of(step, comparison)
        chained.append(evolve(step.procedure, place=place, after=after))
    return chained


def _place_of(step: StandingStep, comparison: Comparison) -> str:
    """Where a part is at that phase: parts that move have moved when the new ones are fitted."""
    sides = (comparison.before, comparison.after)
    for side in sides if step.procedure.phase < Phase.FIT_PARTS else reversed(sides):
        part = side.component_by_role.get(step.role)
        if part is not None:
            return part.place
    return ""


def _records(comparison: Comparison, work: Iterable[Operation]) -> list[Procedure]:
    """One round of photographs, and of tags at each place where wires come off and stay."""
    places = comparison.before.place_by_id
    photograph = _photographs([places[place] for place in sorted(_undone(work))])
    tags = [
        _tags(places[place], sorted(ends), photograph.id)
        for place, ends in sorted(_undone(work).items())
        if ends
    ]
    return [photograph, *tags]


def _undone(work: Iterable[Operation]) -> dict[str, set[tuple[str, TerminalRef]]]:
    """Places where something comes off, with the wire ends that stay in the vehicle."""
    undone: dict[str, set[tuple[str, TerminalRef]]] = {}
    for operation in work:
        if operation.phase in (Phase.MAKE_SAFE, Phase.TAKE_OUT, Phase.CAP_OFF):
            ends = undone.setdefault(operation.place, set())
            ends.update((one.wire.id, one.end) for one in ends_taken_off(operation))
    return undone


def _photographs(places: list[Place]) -> Procedure:
    in_walk = sorted(places, key=lambda place: (place.walk, place.id))
    return Procedure(
        id="procedure:photographs",
        phase=Phase.RECORD,
        place="",
        work=Work.PHOTOGRAPHS,
        code="photographs",
        views=tuple(place.name for place in in_walk),
    )


def _tags(place: Place, ends: list[tuple[str, TerminalRef]], photographs: str) -> Procedure:
    return Procedure(
        id=f"procedure:tag:{place.id}",
        phase=Phase.RECORD,
        place=place.id,
        work=Work.TAGS,
        after=(Dependency(photographs, Wait.UNTOUCHED),),
        code="tags",
        facts={"tags": len(ends)},
        ends=tuple(ends),
    )


def _numbered(
    operations: tuple[Operation, ...], grouped_in: tuple[SheetRow, ...]
) -> tuple[NumberedOperation, ...]:
    steps = {
        operation.id: NumberedOperation(number=number, row=row.number, operation=operation)
        for row in grouped_in
        for number, operation in zip(row.step_numbers, row.operations, strict=True)
    }
    return tuple(steps[operation.id] for operation in operations)


def _prove(comparison: Comparison, operations: tuple[Operation, ...]) -> None:
    """
    Carries the plan out on paper.

    At the hold points after phase G no end may be bare but those that phase I joins; when the first
    grounded battery cable is joined, only those of such cables.
    """
    state = state_of(comparison.before, comparison.after, comparison.spares)
    done = {Phase.TEST_DEAD, Phase.RECONNECT, Phase.TEST_LIVE, Phase.RUN_ENGINE, Phase.SIGN}
    cables = cables_of(comparison.after)
    joined = [op for op in operations if ends_joined(op) and op.phase is Phase.RECONNECT]
    closing = [op for op in joined if cable_at(op, cables) is Cable.GROUNDED]
    for operation in operations:
        if operation in closing:
            _prove_no_end_is_bare(state, closing, operation)
        state.carry_out(operation)
        if operation.phase is Phase.RUN_ENGINE and state.fuses_out:
            raise ImpossibleStep(f"{operation.id}: no fuse in {sorted(state.fuses_out)}")
        if isinstance(operation, Procedure) and operation.hold and operation.phase in done:
            _prove_no_end_is_bare(state, joined, operation)


def _prove_no_end_is_bare(
    state: VehicleState, waiting: Iterable[Operation], operation: Operation
) -> None:
    bare = set(state.bare_conductors()) - {
        end.conductor for joining in waiting for end in ends_joined(joining)
    }
    if bare:
        names = ", ".join(key.wire_id for key in sorted(bare))
        raise ImpossibleStep(f"wires with a bare end at {operation.id} {names}")


def check_code_of(comparison: Comparison) -> str:
    """What both configurations and the policy come to: equal jobs have equal codes."""
    text = f"{comparison.before.digest} {comparison.after.digest} {comparison.policy}"
    digest = hashlib.sha256(text.encode()).hexdigest()
    return f"{digest[:4]}-{digest[4:8]}"


def count_words(comparison: Comparison) -> str:
    """`keep 14 · remove 5 · …`."""
    items = (i for i in Disposition if i not in NAMED_IF_ANY or comparison.count(i))
    return " · ".join(f"{item} {comparison.count(item)}" for item in items)
