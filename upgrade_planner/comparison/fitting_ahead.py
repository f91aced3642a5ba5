"""
Wires that a stage fits in the size that a later stage needs, so that none is fitted twice.

Ahead goes what does no harm in the stages between: no new danger or warning, the same kind of
conductor, long enough.
"""

from collections.abc import Sequence

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding
from upgrade_planner.comparison.chain import Fits, new_findings, next_change, stages_of
from upgrade_planner.comparison.results import Comparison, Policy
from upgrade_planner.comparison.reuse import reaches
from upgrade_planner.comparison.why import Reason, because
from upgrade_planner.comparison.wire_changes import IntoTarget, Moved, Resized, WireChange
from upgrade_planner.configuration.composing.digest import digest_of
from upgrade_planner.configuration.model import Conductor, Configuration, Wire

FITTED_AHEAD = "fitted-ahead"
"""Code of the reason of such a wire."""


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
            FITTED_AHEAD,
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
    why: Reason | Worse


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


def with_wires_ahead(
    planned: tuple[Configuration, ...], policy: Policy
) -> tuple[tuple[Configuration, ...], tuple[FittedAhead, ...], tuple[NotAhead, ...]]:
    """
    The configurations with every wire ahead that may be, those wires, and those that may not.

    What was refused is tried again after each wire that could: a heavier link may come once the
    wires behind it are heavier.
    """
    made, found = planned, _fitted_twice(stages_of(planned, policy))
    ahead: dict[tuple[int, str], FittedAhead] = {}
    refused: dict[tuple[int, str], NotAhead] = {}
    while True:
        twice = next((t for t in found if t.key not in ahead and t.key not in refused), None)
        if twice is None:
            return made, tuple(ahead.values()), tuple(refused.values())
        own = made[twice.stage].wire_by_id[twice.ids[0]]
        why, trial = _tried(twice, made)
        still = found if why is not None else _fitted_twice(stages_of(trial, policy))
        if why is None and twice.key in {other.key for other in still}:
            why = because("twice-all-the-same")
        if why is not None:
            refused[twice.key] = _not_ahead(twice, own, why)
        else:
            ahead[twice.key] = _ahead(twice, own, trial)
            made, found = trial, still
            refused.clear()


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
        change = next_change(comparisons[number - 1], ids[-1])
        if not isinstance(change, IntoTarget) or isinstance(change, Moved):
            break
        if isinstance(change, Resized):
            found = _Twice(stage, number, tuple(ids), change.after)
        ids.append(change.after.id)
    return found


# Whether it may be fitted ahead -----------------------------------------------------------------


def _tried(
    twice: _Twice, made: tuple[Configuration, ...]
) -> tuple[Reason | Worse | None, tuple[Configuration, ...]]:
    """Why it may not be fitted ahead, or None; and the configurations, then with it."""
    why = _objection(twice, made)
    if why is not None:
        return why, made
    trial = list(made)
    for number, wire_id in enumerate(twice.ids, start=twice.stage):
        trial[number] = _with_ahead(made[number], wire_id, twice)
        grave = new_findings(check(made[number]), check(trial[number]))
        if grave:
            return Worse(stage=number, finding=grave[0]), made
    return None, tuple(trial)


def _objection(twice: _Twice, made: Sequence[Configuration]) -> Reason | None:
    wanted, later = twice.wanted, twice.for_stage
    own = [made[n].wire_by_id[i] for n, i in enumerate(twice.ids, start=twice.stage)]
    if any(wire.conductor is not wanted.conductor for wire in own):
        return because("wrong-before", stage=later, wanted=wanted.conductor)
    if wanted.conductor is Conductor.RESISTANCE:
        return because("own-resistance")
    if any(wire.circuit != wanted.circuit for wire in own):
        return because("other-circuit-before", stage=later)
    if wanted.conductor is Conductor.LINK and any(wire.size > wanted.size for wire in own):
        return because("thinner-link-later", stage=later)
    run = made[twice.stage].runs[twice.ids[0]]
    if not reaches(run, made[twice.for_stage].runs[wanted.id]):
        return because("longer-way-later", stage=later)
    return None


def _with_ahead(made: Configuration, wire_id: str, twice: _Twice) -> Configuration:
    wires = tuple(_grown(w, twice) if w.id == wire_id else w for w in made.wires)
    return evolve(made, wires=wires, digest=digest_of((made.digest, wires)))


def _grown(wire: Wire, twice: _Twice) -> Wire:
    """Never thinner and never in worse insulation than its own stage wants it."""
    wanted = twice.wanted
    larger = wanted.size if wanted.size.area_mm2 >= wire.size.area_mm2 else wire.size
    better = wanted.insulation.rated_c >= wire.insulation.rated_c
    return evolve(
        wire,
        size=larger,
        insulation=wanted.insulation if better else wire.insulation,
        colour=wanted.colour,
    )


def _ahead(twice: _Twice, own: Wire, made: Sequence[Configuration]) -> FittedAhead:
    return FittedAhead(
        stage=twice.stage,
        for_stage=twice.for_stage,
        planned=own,
        fitted=made[twice.stage].wire_by_id[own.id],
    )


def _not_ahead(twice: _Twice, own: Wire, why: Reason | Worse) -> NotAhead:
    return NotAhead(
        stage=twice.stage, for_stage=twice.for_stage, planned=own, wanted=twice.wanted, why=why
    )
