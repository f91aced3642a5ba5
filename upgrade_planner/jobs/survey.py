"""The form to take to the car as PDF, HTML or CSV: the call behind `survey`, and for scripts."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.tables.csv_files import csv_bytes
from upgrade_planner.documents.shared.writing import require_target, write_whole
from upgrade_planner.documents.survey.form import survey_html, survey_view
from upgrade_planner.documents.survey.form_csv import survey_csv
from upgrade_planner.documents.words.english import language_for
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.inspection.walk import Inspection, inspection

SUFFIXES = (".pdf", ".html", ".csv")
FILLED = (".pdf", ".csv")
"""Forms that people fill in the file itself."""


@frozen(kw_only=True)
class SurveyRequest:
    """
    What a survey form shall be.

    Attributes:
        configuration: Name or path.
        target: File to write; its suffix decides the format.
        issued: Date of issue; the only date that enters the file.
        paper: `A4` or `Letter`.
        units: `metric`, `us` or `both`.
        english: `us` or `uk` words; "" for those of the vehicle's trade.
        replace: A form that is there already may be lost.
        in_full: True for the state of every part and wire, too; the CSV form always asks for it.
    """

    configuration: str
    target: Path
    issued: date
    paper: str = "A4"
    units: str = "both"
    english: str = ""
    replace: bool = False
    in_full: bool = False


def survey(request: SurveyRequest, say: Callable[[str], None] = lambda _: None) -> Inspection:
    """
    Writes the survey form of a configuration.

    Raises:
        PlannerError: faulty input, or a target that cannot be written; nothing is left half done.
    """
    suffix = request.target.suffix.lower()
    require_target(
        request.target,
        SUFFIXES,
        inputs=[request.configuration],
        is_edited=suffix in FILLED,
        replace=request.replace,
    )
    say("reading")
    (configuration,) = load_sized(request.configuration)
    walked = inspection(configuration)
    say("laying out")
    write_whole(request.target, _rendered(walked, request, suffix), is_edited=True)
    return walked


def _rendered(walked: Inspection, request: SurveyRequest, suffix: str) -> bytes:
    if suffix == ".csv":
        return csv_bytes(survey_csv(walked, request.units, request.issued.isoformat()))
    view = survey_view(walked, request.issued.isoformat(), request.units, in_full=request.in_full)
    language = language_for(request.english, walked.configuration.vehicle)
    if suffix == ".html":
        return survey_html(
            view,
            paper=request.paper,
            embed_fonts=True,
            language=language,
        ).encode()
    from upgrade_planner.documents.shared.pdf import page_pdf

    html = survey_html(
        view,
        paper=request.paper,
        language=language,
    )
    return page_pdf(html, request.issued, fillable=True)
