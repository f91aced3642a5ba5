"""
An upgrade in stages: no wire is fitted twice where one fitting can serve.

A wire that one stage fits and a later stage would replace by a larger or better one between the
same ends is given the later size at once, unless that harms the stage in between.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from attrs import evolve, frozen

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.as_built import as_built
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.connector_room import with_room
from upgrade_planner.comparison.part_changes import PartExchanged, PartFitted, PartGoes
from upgrade_planner.comparison.results import Comparison, Policy
from upgrade_planner.comparison.reuse import reaches
from upgrade_planner.comparison.why import Reason, because
from upgrade_planner.comparison.wire_changes import (
    Added,
    FromVehicle,
    IntoTarget,
    Moved,
    Resized,
    WireChange,
)
from upgrade_planner.configuration.composing.digest import digest_of
from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Conductor, Configuration, Wire
from upgrade_planner.errors import PlannerError

Fits = Added | Resized
"""Changes that fit a new wire."""

_GRAVE = (Severity.DANGER, Severity.WARNING)


class NoStage(PlannerError):
    """Two stages in a row are the same wiring."""


@frozen(kw_only=True)
class FittedAhead:
    """
    A wire that a stage fits in the size that a later stage needs.

    Attributes:
        stage: The stage that fits it, from 1.
        for_stage: The later stage that needs it so.
        planned: The wire as the stage by itself would have it.
        fitted: The wire as it is fitted.
    """

    stage: int
    for_stage: int
    planned: Wire
    fitted: Wire

    @property
    def reason(self) -> Reason:
        """Why."""
        return because(
            "fitted-ahead",
            stage=self.stage,
            for_stage=self.for_stage,
            planned=self.planned.size,
            planned_insulation=self.planned.insulation.name,
            fitted=self.fitted.size,
            fitted_insulation=self.fitted.insulation.name,
        )


@frozen(kw_only=True)
class Worse:
    """A danger or warning that a stage would have if a wire were fitted ahead."""

    stage: int
    finding: Finding


@frozen(kw_only=True)
class NotAhead:
    """A wire that is fitted twice all the same, and why it is not given its later size at once."""

    stage: int
    for_stage: int
    planned: Wire
    wanted: Wire
    why: str | Worse


@frozen(kw_only=True, order=True)
class Undone:
    """Work of one stage that a later one undoes: the name of a wire, or the role of a part."""

    stage: int
    by_stage: int
    what: str
    is_part: bool = False


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


@frozen
class _Twice:
    """A wire that stage `stage` fits and stage `for_stage` would fit again as `wanted`."""

    stage: int
    for_stage: int
    ids: tuple[str, ...]
    """Its id in the configurations from `stage` to the one before `for_stage`."""
    wanted: Wire

    @property
    def key(self) -> tuple[int, str]:
        """Names it, whatever else is fitted ahead meanwhile."""
        return self.stage, self.ids[0]


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
    made, ahead, not_ahead = _fitted_ahead(planned, policy)
    comparisons = _with_reasons(stages_of(made, policy), ahead)
    return Staging(
        planned=planned,
        configurations=made,
        comparisons=comparisons,
        ahead=ahead,
        not_ahead=not_ahead,
        undone=tuple(sorted(_undone(comparisons))),
    )


def _fitted_ahead(
    planned: tuple[Configuration, ...], policy: Policy
) -> tuple[tuple[Configuration, ...], tuple[FittedAhead, ...], tuple[NotAhead, ...]]:
    """
    The configurations with every wire ahead that may be, those wires, and those that may not.

    What was refused is tried again after each wire that could: a heavier link may come once the
    wires behind it are heavier.
    """
    made = planned
    ahead: dict[tuple[int, str], FittedAhead] = {}
    refused: dict[tuple[int, str], NotAhead] = {}
    while True:
        found = _fitted_twice(stages_of(made, policy))
        twice = next((t for t in found if t.key not in ahead and t.key not in refused), None)
        if twice is None:
            return made, tuple(ahead.values()), tuple(refused.values())
        own = made[twice.stage].wire_by_id[twice.ids[0]]
        why, made = _tried(twice, made, policy)
        if why:
            refused[twice.key] = _not_ahead(twice, own, why)
        else:
            ahead[twice.key] = _ahead(twice, own, made)
            refused.clear()


def stages_of(configurations: Sequence[Configuration], policy: Policy) -> tuple[Comparison, ...]:
    """One comparison for each stage, each from the vehicle as the stage before leaves it."""
    before = configurations[0]
    found = []
    for after in configurations[1:]:
        comparison = compare(before, after, policy)
        found.append(comparison)
        before = as_built(comparison)
    return with_room(found)


def new_findings(before: Iterable[Finding], after: Iterable[Finding]) -> tuple[Finding, ...]:
    """Dangers and warnings of `after` that `before` did not have, of the same rule, as bad."""
    gravity = list(Severity)
    known = tuple(before)
    return tuple(
        finding
        for finding in after
        if finding.severity in _GRAVE
        and not any(
            old.code == finding.code
            and gravity.index(old.severity) <= gravity.index(finding.severity)
            and set(finding.subjects) <= set(old.subjects)
            for old in known
        )
    )


def _require_differences(configurations: Sequence[Configuration]) -> None:
    for number, (one, other) in enumerate(pairwise(configurations), start=1):
        same_vehicle = one.vehicle.name == other.vehicle.name
        if len(configurations) > 2 and same_vehicle and one.digest == other.digest:
            raise NoStage(
                f"stage {number}: found the same wiring before and after it ('{one.name}', "
                f"'{other.name}'); expected each stage to change something"
            )


# Which wires ------------------------------------------------------------------------------------


def _fitted_twice(comparisons: Sequence[Comparison]) -> list[_Twice]:
    """Of all stages, the first stage first."""
    found = (
        _last_resize(change, comparisons, stage)
        for stage, comparison in enumerate(comparisons, start=1)
        for change in comparison.wires
        if isinstance(change, Fits)
    )
    return [twice for twice in found if twice is not None]


def _last_resize(
    fitted: WireChange, comparisons: Sequence[Comparison], stage: int
) -> _Twice | None:
    found, ids = None, [fitted.wire.id]
    for number in range(stage + 1, len(comparisons) + 1):
        change = _next_change(comparisons[number - 1], ids[-1])
        if not isinstance(change, IntoTarget) or isinstance(change, Moved):
            break
        if isinstance(change, Resized):
            found = _Twice(stage, number, tuple(ids), change.after)
        ids.append(change.after.id)
    return found


def _next_change(comparison: Comparison, wire_id: str) -> FromVehicle:
    found = (c for c in comparison.wires if isinstance(c, FromVehicle))
    return next(change for change in found if change.before.id == wire_id)


# Whether it may be fitted ahead -----------------------------------------------------------------


def _tried(
    twice: _Twice, made: tuple[Configuration, ...], policy: Policy
) -> tuple[str | Worse, tuple[Configuration, ...]]:
    """Why it may not be fitted ahead, or "" and the configurations with it."""
    why = _objection(twice, made)
    if why:
        return why, made
    trial = list(made)
    for number, wire_id in enumerate(twice.ids, start=twice.stage):
        trial[number] = _with_ahead(made[number], wire_id, twice)
        grave = new_findings(check(made[number]), check(trial[number]))
        if grave:
            return Worse(stage=number, finding=grave[0]), made
    if twice.key in {other.key for other in _fitted_twice(stages_of(trial, policy))}:
        return "it would still be fitted twice", made
    return "", tuple(trial)


def _objection(twice: _Twice, made: Sequence[Configuration]) -> str:
    wanted = twice.wanted
    own = [made[n].wire_by_id[i] for n, i in enumerate(twice.ids, start=twice.stage)]
    later = f"stage {twice.for_stage}"
    if any(wire.conductor is not wanted.conductor for wire in own):
        return f"{later} wants {_article(wanted)} there, which would be wrong before"
    if wanted.conductor is Conductor.RESISTANCE:
        return "each stage needs its own resistance there"
    if any(wire.circuit != wanted.circuit for wire in own):
        return f"it serves another circuit until {later}"
    if wanted.conductor is Conductor.LINK and any(wire.size > wanted.size for wire in own):
        return f"{later} wants a thinner link"
    run = made[twice.stage].runs[twice.ids[0]]
    if not reaches(run, made[twice.for_stage].runs[wanted.id]):
        return f"its way is longer in {later}"
    return ""


def _article(wire: Wire) -> str:
    return {
        Conductor.COPPER: "plain copper",
        Conductor.RESISTANCE: "a resistance wire",
        Conductor.LINK: "a fusible link",
    }[wire.conductor]


def _with_ahead(made: Configuration, wire_id: str, twice: _Twice) -> Configuration:
    wires = tuple(_grown(w, twice) if w.id == wire_id else w for w in made.wires)
    return evolve(made, wires=wires, digest=digest_of((made.digest, wires)))


def _grown(wire: Wire, twice: _Twice) -> Wire:
    """Never thinner and never in worse insulation than its own stage wants it."""
    wanted = twice.wanted
    larger = wanted.size if wanted.size.area_mm2 >= wire.size.area_mm2 else wire.size
    better = wanted.insulation.rated_c >= wire.insulation.rated_c
    mark = f"Fitted in the size of stage {twice.for_stage}."
    return evolve(
        wire,
        size=larger,
        insulation=wanted.insulation if better else wire.insulation,
        colour=wanted.colour,
        note=f"{wire.note} {mark}".strip(),
    )


def _ahead(twice: _Twice, own: Wire, made: Sequence[Configuration]) -> FittedAhead:
    return FittedAhead(
        stage=twice.stage,
        for_stage=twice.for_stage,
        planned=own,
        fitted=made[twice.stage].wire_by_id[own.id],
    )


def _not_ahead(twice: _Twice, own: Wire, why: str | Worse) -> NotAhead:
    return NotAhead(
        stage=twice.stage, for_stage=twice.for_stage, planned=own, wanted=twice.wanted, why=why
    )


# What is said of it -----------------------------------------------------------------------------


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


def _undone(comparisons: Sequence[Comparison]) -> Iterator[Undone]:
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
        change = _next_change(comparisons[number - 1], wire_id)
        if not isinstance(change, IntoTarget):
            return number
        if isinstance(change, Resized):
            return 0
        wire_id = change.after.id
    return 0


def _parts_undone(comparisons: Sequence[Comparison], stage: int) -> Iterator[Undone]:
    for part in comparisons[stage - 1].parts:
        if not isinstance(part, PartFitted | PartExchanged) or part.part.can(
            Capability.MADE_OF_WIRE
        ):
            continue
        for number in range(stage + 1, len(comparisons) + 1):
            if isinstance(comparisons[number - 1].part_by_role[part.role], PartGoes):
                yield Undone(stage=stage, by_stage=number, what=part.role, is_part=True)
                break
