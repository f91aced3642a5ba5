"""The book of one state: what flows in the vehicle, and the findings that are marked in it."""

from collections.abc import Sequence

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.drawings.chart import printed
from upgrade_planner.documents.drawings.flow import flow_of
from upgrade_planner.documents.drawings.picture import Picture
from upgrade_planner.documents.drawings.svg import svg_file
from upgrade_planner.documents.words.findings import title_words
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.worksheet.drawing_book import ChartView, DrawingBook, chart_svg
from upgrade_planner.documents.worksheet.picture_views import DrawingView
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import STATES

_READING = (
    "Wide lines carry much, dashed ones nothing; arrows show the way of the current, volts stand"
    " behind the terminals, counted from the grounded battery post."
)
_NEXT_PAGE = "The findings stand on the next page, by their numbers."
_MOST_HEAD = 1 / 4
"""Share of a sheet that heading and note may take; findings that need more have a page."""


def flow_book(
    configuration: Configuration, state: str, units: str, chart_paper: str = ""
) -> DrawingBook:
    """
    One configuration in one state, on one sheet.

    Args:
        configuration: What is drawn.
        state: Name of the state.
        units: `metric`, `us` or `both`.
        chart_paper: As at `printed`.

    Raises:
        NotSolved: the state has no solution.
    """
    findings = _findings(configuration)
    picture = _picture(configuration, state, findings, units)
    heading = f"{picture.title} ({configuration.title})"
    note = f"{_READING} {_listed(findings)}"
    listed: tuple[str, ...] = ()
    chart = printed(picture, chart_paper, heading=heading, note=note)
    if chart.head > _MOST_HEAD:
        note, listed = f"{_READING} {_NEXT_PAGE}", tuple(map(_told_once, findings))
        chart = printed(picture, chart_paper, heading=heading, note=note)
    title = configuration.vehicle.title
    return DrawingBook(
        title=f"Currents: {title}",
        head=f"Currents · {title}",
        code=configuration.digest[:8],
        chart=ChartView(
            heading=heading,
            note=note,
            size=f"{chart.paper} {'landscape' if chart.is_wide else 'portrait'}",
            sheets=(DrawingView(title="", svg=chart_svg(chart, _told(picture, findings))),),
            findings=listed,
        ),
    )


def flow_file(configuration: Configuration, state: str, units: str) -> str:
    """The same as an SVG file in full size; arguments as at `flow_book`."""
    findings = _findings(configuration)
    picture = _picture(configuration, state, findings, units)
    return svg_file(
        picture.marks,
        picture.width,
        picture.height,
        title=picture.title,
        alternative=_told(picture, findings),
    )


def _findings(configuration: Configuration) -> tuple[Finding, ...]:
    return tuple(one for one in check(configuration) if one.severity is not Severity.NOTE)


def _picture(
    configuration: Configuration, state: str, findings: Sequence[Finding], units: str
) -> Picture:
    asked = next(one for one in STATES if one.name == state)
    return flow_of(operating_point(configuration, asked), findings, units)


def _listed(findings: Sequence[Finding]) -> str:
    """Each finding behind its number; what stands at no drawn place is read here alone."""
    if not findings:
        return "No findings."
    told = "; ".join(f"{number} {_told_once(one)}" for number, one in enumerate(findings, start=1))
    return f"{counted(len(findings), 'finding')}: {told}."


def _told_once(finding: Finding) -> str:
    return f"{title_words(finding)} ({finding.severity})"


def _told(picture: Picture, findings: Sequence[Finding]) -> str:
    return f"{picture.title}. {counted(len(picture.scene.lines), 'wire')}. {_listed(findings)}"
