"""From names to files: the calls behind the commands, for the command line and for scripts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Severity
from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.model import Vehicle
from upgrade_planner.documents.shared.writing import (
    require_target,
    write_all,
    write_whole,
)
from upgrade_planner.documents.words.english import language_for
from upgrade_planner.documents.words.own_car import beyond_words, with_remarks
from upgrade_planner.documents.worksheet.plan_json import plan_json
from upgrade_planner.documents.worksheet.title_block import SheetOptions, identity_of
from upgrade_planner.documents.worksheet.way_back_data import bag_data, way_back_data
from upgrade_planner.errors import PlannerError
from upgrade_planner.kit.job_file import NO_JOB_FILE, JobFile
from upgrade_planner.planning.own_car import load_job
from upgrade_planner.planning.plan import Plan, plan_upgrade
from upgrade_planner.planning.way_back import bag_of, way_back

if TYPE_CHECKING:
    from upgrade_planner.documents.worksheet.views import SheetView
    from upgrade_planner.library.collected import Say
    from upgrade_planner.planning.stages import StagedJob

SUFFIXES = (".pdf", ".html", ".json", ".csv")

FIRST_REVISION = "A"
NOTHING: Mapping[str, Any] = MappingProxyType({})


class WrongNumber(PlannerError):
    """Too few configurations for a sheet, or too many for a way back."""


@frozen(kw_only=True)
class SheetRequest:
    """
    What a work sheet shall be.

    Attributes:
        before: Name or path of the configuration as it is.
        after: Name or path of the configuration as it shall be.
        target: File to write; its suffix decides the format.
        issued: Date of issue; the only date that enters the file.
        paper: `A4` or `Letter`.
        stages: Names or paths of the configurations on the way, if the job is done in stages.
        way_back: True for the sheet that undoes the upgrade.
        drawings: False to leave the pictures out.
        reasons: True to print why each wire and part is treated as it is.
        english: `us` or `uk` words; "" for those of the vehicle's trade.
        job: What the shop writes down about the job: number, revision, customer.
        record_page: True for a page with all readings, to be filed alone.
        all_wires: True to list the wires that stay where nobody works, too.
        packed: Kit as JSON that was packed for the job, with what stands in for its cables.
    """

    before: str
    after: str
    target: Path
    issued: date
    policy: Policy = field(default=Policy.REVERSIBLE, converter=Policy)
    paper: str = "A4"
    units: str = "both"
    stages: tuple[str, ...] = ()
    way_back: bool = False
    drawings: bool = True
    reasons: bool = False
    record_page: bool = False
    job: JobFile = NO_JOB_FILE
    english: str = ""
    all_wires: bool = False
    packed: Path | None = None

    @property
    def own_number(self) -> str:
        """Number of the sheet; "" for the one from its check code."""
        return self.job.job.number


@frozen(kw_only=True, eq=False)
class Sheet:
    """
    A written sheet: its file and its plan.

    Attributes:
        remarks: What comes from the car and not from the upgrade, a sentence each.
    """

    target: Path
    plan: Plan
    remarks: tuple[str, ...] = ()


def worksheet(request: SheetRequest, say: Say = lambda _: None) -> tuple[Sheet, ...]:
    """
    Plans the upgrade, in stages or back if asked for, and writes its sheets, all of them or none.

    Args:
        request: What to plan and where to write.
        say: Told what is being done, for a person who waits.

    Raises:
        PlannerError: faulty input, or a target that cannot be written; nothing is left half done.
    """
    if request.way_back:
        return (_make_way_back(request, say),)
    if request.stages:
        return _make_stages(request, say)
    return (_one_sheet(request, say),)


def _one_sheet(request: SheetRequest, say: Say = lambda _: None) -> Sheet:
    """
    Plans the upgrade in one job and writes its work sheet.

    Args:
        request: What to plan and where to write.
        say: Told what is being done, for a person who waits.

    Raises:
        PlannerError: faulty input, or a target that cannot be written; nothing is left half done.
    """
    require_target(request.target, SUFFIXES, inputs=_inputs(request))
    say("reading")
    loaded = load_job(request.before, request.after)
    before, after = with_remarks(loaded)
    plan = plan_upgrade(before, after, request.policy)
    say("laying out")
    options = _with_packed(_options(request, before.vehicle), plan, request)
    extra = {"bag": bag_data(bag_of(plan))} if request.policy is Policy.REVERSIBLE else NOTHING
    content = _rendered(plan, lambda: _laid_out(plan, options), request, options, extra)
    write_whole(request.target, content)
    remarks = tuple(map(beyond_words, loaded.beyond))
    return Sheet(target=request.target, plan=plan, remarks=remarks)


def stage_targets(target: Path, count: int) -> tuple[Path, ...]:
    """`sheet_1.pdf`, `sheet_2.pdf`, … beside each other for the target `sheet.pdf`."""
    return tuple(
        target.with_name(f"{target.stem}_{number}{target.suffix}") for number in range(1, count + 1)
    )


def danger_stands(plan: Plan) -> bool:
    """True if the target configuration still has a danger finding."""
    return any(finding.severity is Severity.DANGER for finding in plan.findings)


# Stages -----------------------------------------------------------------------------------------


def _make_stages(request: SheetRequest, say: Say) -> tuple[Sheet, ...]:
    from upgrade_planner.planning.stages import staged_job

    targets = stage_targets(request.target, len(request.stages) + 1)
    for target in targets:
        require_target(target, SUFFIXES, inputs=_inputs(request))
    say("reading")
    job = staged_job(
        with_remarks(load_job(request.before, *request.stages, request.after)), request.policy
    )
    contents = {}
    for number, target in enumerate(targets, start=1):
        say(f"laying out stage {number}")
        contents[target] = _stage(job, number, targets, request)
    write_all(contents)
    return tuple(
        Sheet(target=target, plan=plan) for target, plan in zip(targets, job.plans, strict=True)
    )


def _stage(job: StagedJob, number: int, targets: Sequence[Path], request: SheetRequest) -> bytes:
    from upgrade_planner.documents.worksheet.stage_pages import stage_data, stage_view

    plan, files = job.plans[number - 1], [target.name for target in targets]
    options = evolve(
        _options(request, job.plans[0].comparison.before.vehicle),
        heading=f"Work sheet, stage {number} of {len(job.plans)}",
        sheet_number=f"{request.own_number}-{number}" if request.own_number else "",
    )
    options = _with_packed(options, plan, request)

    def view() -> SheetView:
        stage = stage_view(job, number, files, request.units)
        return evolve(_laid_out(plan, options), stage=stage)

    extra = {"stage": stage_data(job, number, files), "bag": bag_data(bag_of(plan))}
    return _rendered(plan, view, request, options, extra)


# The way back -----------------------------------------------------------------------------------


def _make_way_back(request: SheetRequest, say: Say) -> Sheet:
    if request.stages:
        raise WrongNumber(
            f"--way-back: found {len(request.stages) + 2} configurations; expected two, BEFORE and "
            "AFTER of the sheet that shall be undone"
        )
    require_target(request.target, SUFFIXES, inputs=_inputs(request))
    say("reading")
    before, after = load_job(request.before, request.after).configurations
    way = way_back(plan_upgrade(before, after, request.policy))
    say("laying out")
    number = request.own_number or f"WB-{way.forward.check_code[:4].upper()}"
    options = evolve(
        _options(request, before.vehicle),
        heading="Work sheet, the way back",
        sheet_number=number,
    )

    def view() -> SheetView:
        from upgrade_planner.documents.worksheet.way_back import way_back_bag, way_back_view

        bag = way_back_bag(way, request.units)
        return evolve(
            _laid_out(way.plan, options), way_back=way_back_view(way, options.units), bag=bag
        )

    content = _rendered(way.plan, view, request, options, {"way_back": way_back_data(way)})
    write_whole(request.target, content)
    return Sheet(target=request.target, plan=way.plan)


# One sheet --------------------------------------------------------------------------------------


def _inputs(request: SheetRequest) -> tuple[Path | str | None, ...]:
    return (request.before, *request.stages, request.after, request.packed)


def _with_packed(options: SheetOptions, plan: Plan, request: SheetRequest) -> SheetOptions:
    """With what the kit has in place of what is planned."""
    if request.packed is None:
        return options
    from upgrade_planner.jobs.packed_kit import packed_instead

    return evolve(options, packed=packed_instead(request.packed, plan))


def _options(request: SheetRequest, vehicle: Vehicle) -> SheetOptions:
    papers = request.job.job
    is_page = request.target.suffix.lower() in (".pdf", ".html")
    return SheetOptions(
        date=request.issued.isoformat(),
        units=request.units,
        sheet_number=request.own_number,
        revision=papers.revision or FIRST_REVISION,
        owner=request.job.customer.name if request.job.customer else "",
        papers=request.job.vehicle.words,
        with_reasons=request.reasons,
        with_record=request.record_page,
        with_all_wires=request.all_wires,
        language=language_for(request.english, vehicle),
        drawn_on=request.paper if request.drawings and is_page else "",
    )


def _laid_out(plan: Plan, options: SheetOptions) -> SheetView:
    """The view; pages and pictures are imported here, for the plan as data needs none."""
    from upgrade_planner.documents.worksheet.sheet import sheet_view

    return sheet_view(plan, options)


def _rendered(
    plan: Plan,
    view: Callable[[], SheetView],
    request: SheetRequest,
    options: SheetOptions,
    extra: Mapping[str, Any],
) -> bytes:
    """The file's content; the view is made where it is laid out, and not for the plan as data."""
    suffix = request.target.suffix.lower()
    if suffix == ".json":
        return plan_json(plan, options, extra).encode()
    if suffix == ".csv":
        from upgrade_planner.configuration.tables.csv_files import csv_bytes
        from upgrade_planner.documents.worksheet.steps_csv import steps_csv

        return csv_bytes(steps_csv(view()))
    from upgrade_planner.documents.shared.html import worksheet_html

    if suffix == ".html":
        return worksheet_html(view(), paper=request.paper, embed_fonts=True).encode()
    from upgrade_planner.documents.shared.pdf import midnight, worksheet_pdf

    return worksheet_pdf(
        worksheet_html(view(), paper=request.paper),
        identity=identity_of(plan, options),
        plan_json=plan_json(plan, options, extra),
        created=midnight(request.issued),
    )
