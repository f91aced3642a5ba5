"""First page of a stage: where it stands, what may be driven after it, what is fitted ahead."""

from collections.abc import Callable, Iterator, Sequence

from upgrade_planner.checks.findings import Finding
from upgrade_planner.comparison.fitting_ahead import NotAhead, Worse
from upgrade_planner.comparison.why import Reason
from upgrade_planner.configuration.model import Wire
from upgrade_planner.documents.words.amounts import hours_range_words
from upgrade_planner.documents.words.findings import finding_words, title_words
from upgrade_planner.documents.words.reasons import clause_words, reason_words
from upgrade_planner.documents.words.standing import reading_words
from upgrade_planner.documents.words.wire_words import brief_words
from upgrade_planner.documents.words.wording import IN_DATA, NBSP, length_words, role_words
from upgrade_planner.documents.worksheet.reading_rows import leads, side_words
from upgrade_planner.documents.worksheet.stage_shape import SpecData, StageData, TotalsData
from upgrade_planner.documents.worksheet.views import (
    AheadRow,
    BetweenView,
    FindingView,
    StageRow,
    StageView,
    TotalRow,
)
from upgrade_planner.kit.job_totals import JobTotals, job_totals
from upgrade_planner.kit.labour import labour
from upgrade_planner.planning.plan import Plan
from upgrade_planner.planning.stages import Between, StagedJob, between
from upgrade_planner.planning.standing_data import Reading


def stage_view(job: StagedJob, number: int, files: Sequence[str], units: str) -> StageView:
    """
    The first page of one stage.

    Args:
        job: The whole job.
        number: The stage, from 1.
        files: Names of the files of all stages.
        units: `metric`, `us` or `both`.
    """
    count = len(job.plans)
    return StageView(
        place=f"Stage {number} of {count}",
        stages=tuple(_stage_rows(job, number, files)),
        between=_between_view(job, number, units) if number < count else None,
        ahead=tuple(_ahead_rows(job, number, units)),
        ahead_before=tuple(
            f"{item.fitted.id} ({brief_words(item.fitted, units)}) in stage {item.stage}"
            for item in job.staging.ahead
            if item.for_stage == number
        ),
        not_ahead=tuple(
            _not_ahead_words(item, units) for item in job.staging.not_ahead if item.stage == number
        ),
        undone=tuple(
            f"{role_words(item.what) if item.is_part else 'wire ' + item.what} "
            f"(out again in stage {item.by_stage})"
            for item in job.staging.undone
            if item.stage == number
        ),
        totals=tuple(_total_rows(job, units)),
        has_without=bool(job.without_ahead),
    )


def _not_ahead_words(item: NotAhead, units: str) -> str:
    now, wanted = brief_words(item.planned, units), brief_words(item.wanted, units)
    return (
        f"{item.planned.id}: {now} now, {wanted} in stage {item.for_stage}; "
        f"not fitted ahead, {_why_words(item.why, units)}."
    )


def _stage_rows(job: StagedJob, number: int, files: Sequence[str]) -> Iterator[StageRow]:
    for index, plan in enumerate(job.plans, start=1):
        yield StageRow(
            number=str(index),
            is_this=index == number,
            leads_to=plan.comparison.after.title,
            file=files[index - 1],
            steps=str(len(plan.steps)),
            hours=hours_range_words(labour(plan).total),
        )


def _between_view(job: StagedJob, number: int, units: str) -> BetweenView:
    plan = job.plans[number - 1]
    found = between(plan)
    verdict, text = _verdict(found)
    return BetweenView(
        heading=f"Between stage {number} and stage {number + 1}",
        verdict=verdict,
        text=text,
        blocked=bool(found.dangers),
        findings=tuple(_finding(f, found, units) for f in (*found.dangers, *found.warnings)),
        watched=tuple(_watched_words(reading, plan, units) for reading in found.watched),
    )


def _verdict(found: Between) -> tuple[str, str]:
    if found.dangers:
        text = "danger finding stands" if len(found.dangers) == 1 else "danger findings stand"
        return "MAY NOT BE DRIVEN", (
            f"{len(found.dangers)} {text} after this stage. Leave the battery disconnected until "
            "the next stage is done, or settle them first."
        )
    if found.warnings:
        return "WITH CARE", (
            "No danger was computed. It may be driven as far as the wiring is concerned, with "
            "these warnings in mind:"
        )
    return "NOTHING AGAINST IT", (
        "Nothing was computed that speaks against driving it as far as the wiring is concerned."
    )


def _finding(finding: Finding, found: Between, units: str) -> FindingView:
    words = finding_words(finding, units)
    since = "new with this stage" if finding in found.new else "as before this stage"
    return FindingView(
        severity=str(finding.severity),
        code=finding.code,
        where=", ".join(finding.where),
        what=f"{words.title}. {words.what} ({since})",
        remedy=words.remedy,
    )


def _why_words(why: Reason | Worse, units: str) -> str:
    """Why a wire is not fitted ahead."""
    if isinstance(why, Reason):
        return clause_words(why, units)
    finding, where = why.finding, ", ".join(why.finding.where)
    title = title_words(finding, units)
    return (
        f"stage {why.stage} would then have a {finding.severity}: "
        f"{title[:1].lower()}{title[1:]} ({finding.code}, {where})"
    )


def _watched_words(reading: Reading, plan: Plan, units: str) -> str:
    number = [one.id for one in plan.readings].index(reading.id) + 1
    side = plan.expected[reading.id].after
    red, black = leads(side, plan.comparison.after)
    condition = reading_words(reading, units).condition
    return f"T{number}, {condition}, {red} to {black}: {side_words(side)}"


def _ahead_rows(job: StagedJob, number: int, units: str) -> Iterator[AheadRow]:
    for item in job.staging.ahead:
        if item.stage == number:
            yield AheadRow(
                wire=item.fitted.id,
                planned=f"{brief_words(item.planned, units)}, {item.planned.insulation.name}",
                fitted=f"{brief_words(item.fitted, units)}, {item.fitted.insulation.name}",
                for_stage=str(item.for_stage),
            )


# Totals -----------------------------------------------------------------------------------------


def _total_rows(job: StagedJob, units: str) -> Iterator[TotalRow]:
    stages, direct = job_totals(job.plans), job_totals([job.direct])
    without = job_totals(job.without_ahead) if job.without_ahead else None
    figures: tuple[tuple[str, Callable[[JobTotals], str]], ...] = (
        ("hours, likely (low to high)", lambda t: hours_range_words(t.minutes)),
        ("steps", lambda t: str(t.steps)),
        ("cable", lambda t: length_words(t.cable_m, units)),
        ("parts", lambda t: str(t.parts)),
        ("terminals, splices, pins", lambda t: str(t.terminals)),
        ("caps, tags, clips", lambda t: str(t.small)),
    )
    for subject, words in figures:
        yield TotalRow(
            subject=subject,
            stages=words(stages),
            direct=words(direct),
            without=words(without) if without else "",
        )


# As data ----------------------------------------------------------------------------------------


def stage_data(job: StagedJob, number: int, files: Sequence[str]) -> StageData:
    """The same as data; hours in h, cable in m."""
    plan = job.plans[number - 1]
    found = between(plan) if number < len(job.plans) else None
    staging = job.staging
    return {
        "number": number,
        "of": len(job.plans),
        "files": list(files),
        "may_be_driven_after": None if found is None else not found.dangers,
        "watch": [] if found is None else [reading.id for reading in found.watched],
        "fitted_ahead": [
            {
                "wire": i.fitted.id,
                "for_stage": i.for_stage,
                "planned": _spec(i.planned),
                "fitted": _spec(i.fitted),
                "reason": reason_words([i.reason], IN_DATA),
            }
            for i in staging.ahead
            if i.stage == number
        ],
        "not_ahead": [
            {
                "wire": i.planned.id,
                "for_stage": i.for_stage,
                "planned": _spec(i.planned),
                "wanted": _spec(i.wanted),
                "why": _why_words(i.why, IN_DATA),
            }
            for i in staging.not_ahead
            if i.stage == number
        ],
        "undone": [
            {"what": i.what, "is_part": i.is_part, "by_stage": i.by_stage}
            for i in staging.undone
            if i.stage == number
        ],
        "totals": {
            "this_stage": _totals_data(job_totals([plan])),
            "all_stages": _totals_data(job_totals(job.plans)),
            "one_job": _totals_data(job_totals([job.direct])),
        },
    }


def _spec(wire: Wire) -> SpecData:
    return {"size": wire.size.label.replace(NBSP, " "), "insulation": wire.insulation.name}


def _totals_data(totals: JobTotals) -> TotalsData:
    low, likely, high = (round(hours, 2) for hours in totals.minutes.hours)
    return {
        "steps": totals.steps,
        "hours": {"low": low, "likely": likely, "high": high},
        "cable_m": round(totals.cable_m, 4),
        "parts": totals.parts,
        "terminals": totals.terminals,
        "small_parts": totals.small,
    }
