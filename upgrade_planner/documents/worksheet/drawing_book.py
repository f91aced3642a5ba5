"""The pictures by themselves: a book of pages, or one SVG file for each."""

from collections.abc import Iterator, Mapping
from itertools import groupby
from math import floor

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.drawings.alternative import alternative_of, state_in_words
from upgrade_planner.documents.drawings.cards import cards_of
from upgrade_planner.documents.drawings.chart import Chart, chart_of, printed
from upgrade_planner.documents.drawings.glued import glued
from upgrade_planner.documents.drawings.joints import JointPicture
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.pages import change_pictures, formats
from upgrade_planner.documents.drawings.pair import pair_pictures
from upgrade_planner.documents.drawings.picture import Effort, Picture
from upgrade_planner.documents.drawings.plan_view import plan_view
from upgrade_planner.documents.drawings.plots import WIDTH as PLOT_WIDTH
from upgrade_planner.documents.drawings.svg import inline_svg, svg_file
from upgrade_planner.documents.drawings.union import Union, union_of
from upgrade_planner.documents.drawings.whereabouts import whereabouts
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.worksheet.curve_plots import DrawnPlot, curve_plots
from upgrade_planner.documents.worksheet.drawing_pages import (
    drawing_pages,
    pair_pages,
    step_of_lines,
)
from upgrade_planner.documents.worksheet.joint_pictures import joint_pictures
from upgrade_planner.documents.worksheet.picture_views import (
    DrawingPageView,
    DrawingView,
    WhereView,
)
from upgrade_planner.documents.worksheet.where_page import where_alternative, where_view
from upgrade_planner.planning.plan import Plan

_COLOURS = "Lines have the colours of the insulation; the letters beside them count."
_SPARES = "Dead wires that are capped in the looms are not drawn"


@frozen(kw_only=True)
class ChartView:
    """The chart of a whole vehicle."""

    heading: str
    note: str
    size: str
    """Paper and how it lies, as a style sheet says it."""
    sheets: tuple[DrawingView, ...]
    """One sheet; several with their names if they are glued together."""
    findings: tuple[str, ...] = ()
    """Findings by their numbers, on a page of their own if they are too many for the note."""


@frozen(kw_only=True)
class CardGroup:
    """The cards of one place."""

    place: str
    cards: tuple[DrawingView, ...]


@frozen(kw_only=True)
class DrawingBook:
    """All pictures of a job, or the chart of one configuration."""

    title: str
    head: str
    """Running head."""
    code: str
    """Check code of the job, or fingerprint of the configuration."""
    where: WhereView | None = None
    drawings: tuple[DrawingPageView, ...] = ()
    cards: tuple[CardGroup, ...] = ()
    joints: tuple[DrawingView, ...] = ()
    plots: tuple[DrawingView, ...] = ()
    chart: ChartView | None = None


def job_book(
    plan: Plan, paper: str, units: str, chart_paper: str = "", *, is_glued: bool = False
) -> DrawingBook:
    """
    All pictures of a job; those of what changes only where something does.

    Args:
        plan: The job.
        paper: `A4` or `Letter`.
        units: `metric`, `us` or `both`.
        chart_paper: As at `printed`.
        is_glued: True for the chart on several sheets of `paper`, to glue.
    """
    comparison = plan.comparison
    title = comparison.before.vehicle.title
    return DrawingBook(
        title=f"Drawings: {title}",
        head=f"Drawings · {title}",
        code=f"{plan.sheet_number} · {plan.check_code}",
        where=where_view(comparison, paper) if plan.steps else None,
        drawings=drawing_pages(plan, paper, units) if plan.steps else (),
        cards=tuple(_card_groups(plan, units)),
        joints=tuple(map(_joint_view, joint_pictures(plan, units))) if plan.steps else (),
        plots=tuple(map(_plot_view, curve_plots(comparison))) if plan.steps else (),
        chart=_chart(comparison.after, paper, units, chart_paper, is_glued=is_glued),
    )


def pair_book(plan: Plan, paper: str, units: str) -> DrawingBook:
    """What changes as it is and as it shall be, side by side; arguments as at `job_book`."""
    title = plan.comparison.before.vehicle.title
    return DrawingBook(
        title=f"Before and after: {title}",
        head=f"Before and after · {title}",
        code=f"{plan.sheet_number} · {plan.check_code}",
        drawings=pair_pages(plan.comparison, paper, units),
    )


def pair_files(plan: Plan, paper: str, units: str) -> Mapping[str, str]:
    """The same pictures as SVG files, by what their names shall end in."""
    lettering = Lettering(units=units)
    found = pair_pictures(plan.comparison, formats(paper), lettering, Effort())
    return {
        f"{('before', 'after')[number % 2]}_{number // 2 + 1}": svg_file(
            picture.marks,
            picture.width,
            picture.height,
            title=picture.title,
            alternative=state_in_words(picture),
        )
        for number, picture in enumerate(found)
    }


def chart_book(
    configuration: Configuration,
    paper: str,
    units: str,
    chart_paper: str = "",
    *,
    is_glued: bool = False,
) -> DrawingBook:
    """The chart of one configuration alone; arguments as at `job_book`."""
    title = configuration.vehicle.title
    return DrawingBook(
        title=f"Wiring: {title}",
        head=f"Wiring · {title}",
        code=configuration.digest[:8],
        chart=_chart(configuration, paper, units, chart_paper, is_glued=is_glued),
    )


def _joint_view(picture: JointPicture) -> DrawingView:
    told = f"{picture.title}: {picture.told}"
    return DrawingView(
        title=picture.title,
        svg=inline_svg(picture.marks, picture.width, picture.height, told),
    )


def _plot_view(plot: DrawnPlot) -> DrawingView:
    return DrawingView(title="", svg=inline_svg(plot.marks, PLOT_WIDTH, plot.height, plot.told))


def _card_groups(plan: Plan, units: str) -> Iterator[CardGroup]:
    places = plan.comparison.after.place_by_id
    cards = cards_of(union_of(plan.comparison), units)
    for place, group in groupby(cards, key=lambda card: card.place):
        views = (
            DrawingView(
                title=card.title,
                svg=inline_svg(card.marks, card.width, card.height, f"{card.title}: {card.told}."),
            )
            for card in group
        )
        yield CardGroup(place=f"{places[place].walk} {places[place].name}", cards=tuple(views))


def _chart(
    configuration: Configuration, paper: str, units: str, chart_paper: str, *, is_glued: bool
) -> ChartView:
    picture = chart_of(configuration, units)
    return (
        _glued_view(configuration, picture, paper)
        if is_glued
        else _chart_view(configuration, picture, chart_paper)
    )


def _glued_view(configuration: Configuration, picture: Picture, paper: str) -> ChartView:
    heading = _chart_heading(configuration)
    note = f"{_COLOURS} {_not_drawn(picture)}"
    most = f"{note} {_to_glue(9, 9)}"
    cut = glued(picture, paper, heading=f"{heading} · Sheet A1", note=most)
    told = alternative_of(picture)
    return ChartView(
        heading=heading,
        note=f"{note} {_to_glue(cut.rows, cut.columns)}",
        size=f"{paper} {'landscape' if cut.is_wide else 'portrait'}",
        sheets=tuple(
            DrawingView(
                title=f"Sheet {sheet.name}",
                svg=inline_svg(sheet.marks, cut.width, cut.height, f"Sheet {sheet.name}. {told}"),
            )
            for sheet in cut.sheets
        ),
    )


def _chart_view(configuration: Configuration, picture: Picture, paper: str) -> ChartView:
    heading = _chart_heading(configuration)
    note = f"{_COLOURS} {_not_drawn(picture)}"
    chart = printed(picture, paper, heading=heading, note=note)
    if chart.scale < 1:
        chart = printed(picture, paper, heading=heading, note=_smaller(note, chart))
        note = _smaller(note, chart)
    return ChartView(
        heading=heading,
        note=note,
        size=f"{chart.paper} {'landscape' if chart.is_wide else 'portrait'}",
        sheets=(DrawingView(title="", svg=chart_svg(chart, alternative_of(picture))),),
    )


def _smaller(note: str, chart: Chart) -> str:
    """A note that says how small the chart is; as long for any two digits."""
    percent = floor(chart.scale * 100)
    return f"{note} Printed at {percent}% of the size in which it is easy to read."


def _to_glue(rows: int, columns: int) -> str:
    return (
        f"{counted(rows, 'row')} of {counted(columns, 'sheet')}: cut or fold at the dashed line,"
        " glue the next one on."
    )


def chart_svg(chart: Chart, told: str) -> str:
    """A chart in the size in which its sheet holds it; `told` is what it shows, in words."""
    picture = chart.picture
    return inline_svg(picture.marks, picture.width, picture.height, told, scale=chart.scale)


def _chart_heading(configuration: Configuration) -> str:
    return f"{configuration.vehicle.title}: {configuration.title}"


def _not_drawn(picture: Picture) -> str:
    """What a chart leaves out, so that it hides nothing."""
    union = picture.scene.union
    without = sorted(
        union.part(role).name for role in union.parts if role not in picture.scene.roles
    )
    parts = f"; parts without a wire neither: {', '.join(without)}" if without else ""
    return f"{_SPARES}{parts}."


def job_files(plan: Plan, paper: str, units: str) -> Mapping[str, str]:
    """Each picture of a job as an SVG file, by what its name shall end in."""
    comparison = plan.comparison
    found: dict[str, str] = {}
    if plan.steps:
        found |= dict(_where_file(plan, paper))
        union = union_of(comparison)
        lettering = Lettering(units=units, steps=step_of_lines(plan))
        pictures = change_pictures(union, formats(paper), lettering, Effort())
        for number, picture in enumerate(pictures, start=1):
            found[f"change_{number}"] = _file(picture, picture.title)
        found |= dict(_card_files(union, units))
        for number, joint in enumerate(joint_pictures(plan, units), start=1):
            found[f"joint_{number}"] = svg_file(
                joint.marks, joint.width, joint.height, title=joint.title, alternative=joint.told
            )
    found["chart"] = chart_file(comparison.after, units)
    return found


def chart_file(configuration: Configuration, units: str) -> str:
    """The chart of a configuration as an SVG file, in full size."""
    return _file(chart_of(configuration, units), _chart_heading(configuration))


def _file(picture: Picture, title: str) -> str:
    return svg_file(
        picture.marks,
        picture.width,
        picture.height,
        title=title,
        alternative=alternative_of(picture),
    )


def _card_files(union: Union, units: str) -> Iterator[tuple[str, str]]:
    for card in cards_of(union, units):
        yield (
            f"card_{card.role}",
            svg_file(
                card.marks, card.width, card.height, title=card.title, alternative=f"{card.told}."
            ),
        )


def _where_file(plan: Plan, paper: str) -> Iterator[tuple[str, str]]:
    found = whereabouts(plan.comparison)
    upright, _ = formats(paper)
    view = plan_view(found, upright.width, 2 * upright.height)
    if view is not None:
        told = where_alternative(found.places)
        yield (
            "where",
            svg_file(view.marks, view.width, view.height, title="Where it is", alternative=told),
        )
