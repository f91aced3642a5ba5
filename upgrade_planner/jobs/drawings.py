"""From names to pictures: the call behind the command, for scripts too."""

from datetime import date
from pathlib import Path

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.drawings.chart import PAPERS as CHART_PAPERS
from upgrade_planner.documents.shared.writing import require_target, write_all
from upgrade_planner.documents.words.english import language_for, page_in
from upgrade_planner.documents.worksheet import drawing_book, flow_book
from upgrade_planner.documents.worksheet.drawing_book import DrawingBook
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.errors import PlannerError
from upgrade_planner.library.collected import Say
from upgrade_planner.planning.plan import Plan, plan_upgrade

SUFFIXES = (".pdf", ".html", ".svg")


class UnknownChartPaper(PlannerError):
    """A paper that no chart is printed on."""


class NothingToCompare(PlannerError):
    """Before and after of one configuration, or the currents of two."""


@frozen(kw_only=True)
class DrawingRequest:
    """
    What shall be drawn.

    Attributes:
        before: Name or path of the configuration as it is, or of the only one.
        after: Name or path of the configuration as it shall be; "" for the chart of one alone.
        target: File to write; an SVG target is the beginning of the names of several.
        paper: `A4` or `Letter`.
        chart_paper: `A4` to `A1`; "" for the smallest of A3, A2, A1 that holds it in full size.
        is_glued: True for the chart in full size on several sheets of `paper`.
        state: Name of the state whose currents are drawn, of one configuration; "" for none.
        before_after: True for pairs of pictures, before and after, instead of all others.
        english: `us` or `uk` words; "" for those of the vehicle's trade.
    """

    before: str
    after: str = ""
    target: Path
    issued: date
    policy: Policy = field(default=Policy.REVERSIBLE, converter=Policy)
    paper: str = "A4"
    chart_paper: str = ""
    is_glued: bool = False
    before_after: bool = False
    state: str = ""
    units: str = "both"
    english: str = ""


def drawings(request: DrawingRequest, say: Say = lambda _: None) -> tuple[Path, ...]:
    """
    Draws where a job is, what changes and the finished vehicle, or one vehicle alone.

    Args:
        request: What to draw and where to write.
        say: Told what is being done, for a person who waits.

    Returns:
        The files that were written, all of them or none.

    Raises:
        PlannerError: faulty input, or a target that cannot be written; nothing is left half done.
    """
    names = [name for name in (request.before, request.after) if name]
    require_target(request.target, SUFFIXES, inputs=names)
    if request.chart_paper not in ("", *CHART_PAPERS):
        raise UnknownChartPaper(
            f"chart paper: found '{request.chart_paper}'; expected {', '.join(CHART_PAPERS)}"
        )
    if request.state and request.after:
        raise NothingToCompare("currents in a state: expected one configuration, found two")
    if request.before_after and not request.after:
        raise NothingToCompare("before and after: expected two configurations, found one")
    say("reading")
    contents = _drawn(request, names, say)
    write_all(contents)
    return tuple(contents)


def _drawn(request: DrawingRequest, names: list[str], say: Say) -> dict[Path, bytes]:
    configurations = load_sized(*names)
    units, chart_paper = request.units, request.chart_paper
    language = language_for(request.english, configurations[0].vehicle)
    is_svg = request.target.suffix.lower() == ".svg"
    if len(configurations) == 1:
        say("drawing")
        if request.state:
            return _flow(request, configurations[0], language, is_svg=is_svg)
        if is_svg:
            chart = drawing_book.chart_file(configurations[0], units)
            return {request.target: page_in(chart, language).encode()}
        book = drawing_book.chart_book(
            configurations[0], request.paper, units, chart_paper, is_glued=request.is_glued
        )
        return _book(book, request, language)
    before, after = configurations
    plan = plan_upgrade(before, after, request.policy)
    say("drawing")
    if not is_svg:
        return _book(_job_book(plan, request), request, language)
    files_of = drawing_book.pair_files if request.before_after else drawing_book.job_files
    files = files_of(plan, request.paper, units)
    target = request.target
    found = {
        target.with_name(f"{target.stem}_{name}{target.suffix}"): page_in(text, language).encode()
        for name, text in files.items()
    }
    for path in found:
        require_target(path, SUFFIXES, inputs=names)
    return found


def _flow(
    request: DrawingRequest, configuration: Configuration, language: str, *, is_svg: bool
) -> dict[Path, bytes]:
    if is_svg:
        text = flow_book.flow_file(configuration, request.state, request.units)
        return {request.target: page_in(text, language).encode()}
    book = flow_book.flow_book(configuration, request.state, request.units, request.chart_paper)
    return _book(book, request, language)


def _job_book(plan: Plan, request: DrawingRequest) -> DrawingBook:
    if request.before_after:
        return drawing_book.pair_book(plan, request.paper, request.units)
    return drawing_book.job_book(
        plan, request.paper, request.units, request.chart_paper, is_glued=request.is_glued
    )


def _book(book: DrawingBook, request: DrawingRequest, language: str) -> dict[Path, bytes]:
    from upgrade_planner.documents.shared.html import template_html

    for_browser = request.target.suffix.lower() == ".html"
    html = template_html(
        "drawings/book.html.jinja",
        paper=request.paper,
        embed_fonts=for_browser,
        view=book,
        language=language,
    )
    if for_browser:
        return {request.target: html.encode()}
    from upgrade_planner.documents.shared.pdf import page_pdf

    return {request.target: page_pdf(html, request.issued)}
