"""An upgrade in stages as plans: one for each visit, the direct one, the time between."""

from collections.abc import Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.chain import new_findings, stages_of
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.staging import Staging, staged
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.planning.plan import Plan, plan_for, plan_upgrade
from upgrade_planner.planning.standing_data import Reading

MOST_WATCHED = 4
"""More readings than this nobody takes along on the road. Source: our assumption."""

_ALWAYS_WATCHED = ("charging-voltage", "charging-idling")


@frozen(kw_only=True, eq=False)
class StagedJob:
    """
    An upgrade in stages.

    Attributes:
        staging: Configurations and comparisons.
        plans: One for each stage.
        direct: The same upgrade in one job.
        without_ahead: The stages if no wire were fitted ahead; empty if none is.
    """

    staging: Staging
    plans: tuple[Plan, ...]
    direct: Plan
    without_ahead: tuple[Plan, ...]


@frozen(kw_only=True)
class Between:
    """
    What is known of driving between one stage and the next.

    Attributes:
        dangers: Findings that forbid it.
        warnings: Findings to have in mind.
        new: Those of both that the vehicle did not have before the stage.
        watched: Readings to take again while it is driven so; none if it may not be.
    """

    dangers: tuple[Finding, ...]
    warnings: tuple[Finding, ...]
    new: tuple[Finding, ...]
    watched: tuple[Reading, ...]


def staged_job(
    configurations: Sequence[Configuration], policy: Policy = Policy.REVERSIBLE
) -> StagedJob:
    """
    Plans for a job in stages.

    Args:
        configurations: The vehicle as it is, then as each stage leaves it.
        policy: As at `compare`.

    Raises:
        DifferentVehicles, NoStage: as at `staged`.
    """
    staging = staged(configurations, policy)
    without = stages_of(staging.planned, policy) if staging.ahead else ()
    return StagedJob(
        staging=staging,
        plans=tuple(plan_for(comparison) for comparison in staging.comparisons),
        direct=plan_upgrade(staging.planned[0], staging.planned[-1], policy),
        without_ahead=tuple(plan_for(comparison) for comparison in without),
    )


def between(plan: Plan) -> Between:
    """What the findings of a stage say of driving after it."""
    dangers = tuple(f for f in plan.findings if f.severity is Severity.DANGER)
    return Between(
        dangers=dangers,
        warnings=tuple(f for f in plan.findings if f.severity is Severity.WARNING),
        new=new_findings(plan.findings_before, plan.findings),
        watched=() if dangers else _watched(plan),
    )


def _watched(plan: Plan) -> tuple[Reading, ...]:
    """Readings with the engine running that the warned wires move most; else charging."""
    warned = {
        subject.name
        for finding in plan.findings
        if finding.severity is Severity.WARNING
        for subject in finding.subjects
        if not subject.terminal
    }
    running = [reading for reading in plan.readings if reading.group == "running"]

    def moved_by(reading: Reading) -> int:
        suspects = plan.expected[reading.id].suspects
        return len({s.wire or s.part for s in suspects} & warned)

    moved = [reading for reading in running if moved_by(reading)]
    chosen = sorted(moved, key=lambda reading: -moved_by(reading))[:MOST_WATCHED]
    if not chosen:
        chosen = [reading for reading in running if reading.id in _ALWAYS_WATCHED]
    return tuple(reading for reading in plan.readings if reading in chosen)
