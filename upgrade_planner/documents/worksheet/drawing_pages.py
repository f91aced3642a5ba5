"""The pictures of a work sheet as views: pages of what changes."""

from collections.abc import Callable, Iterable, Iterator

from upgrade_planner.comparison.results import Comparison
from upgrade_planner.documents.drawings.alternative import alternative_of, state_in_words
from upgrade_planner.documents.drawings.key import HEIGHT as KEY_HEIGHT
from upgrade_planner.documents.drawings.key import key_marks, pair_key_marks
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.marks import Mark
from upgrade_planner.documents.drawings.pages import (
    Page,
    change_pictures,
    formats,
    height_of_shelf,
    paged,
    shelved,
)
from upgrade_planner.documents.drawings.pair import pair_pictures
from upgrade_planner.documents.drawings.picture import Effort, Picture
from upgrade_planner.documents.drawings.svg import inline_svg
from upgrade_planner.documents.drawings.union import line_key, union_of
from upgrade_planner.documents.worksheet.picture_views import (
    DrawingPageView,
    DrawingView,
    ShelfView,
)
from upgrade_planner.documents.worksheet.wire_steps import changes_by_conductor
from upgrade_planner.planning.operations import (
    CapWire,
    LeadAcross,
    RemoveWire,
    RunWire,
    UncapWire,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.plan import Plan


def drawing_pages(plan: Plan, paper: str, units: str) -> tuple[DrawingPageView, ...]:
    """
    What changes.

    Pictures stand upright on shelves, one below the other over as many pages as they take, so that
    text may share their pages; a picture that fits so by no means has a page that lies.

    Args:
        plan: The job.
        paper: `A4` or `Letter`.
        units: `metric`, `us` or `both`.
    """
    upright, wide = formats(paper)
    lettering = Lettering(units=units, steps=step_of_lines(plan))
    pictures = change_pictures(union_of(plan.comparison), (upright,), lettering, Effort())
    fitting = [one for one in pictures if upright.holds((one.width, one.height))]
    others = [one for one in pictures if one not in fitting]
    flow = [Page(form=upright, shelves=shelved(fitting, upright))] if fitting else []
    return tuple(_page(page, "What changes") for page in (*flow, *paged(others, (upright, wide))))


def pair_pages(comparison: Comparison, paper: str, units: str) -> tuple[DrawingPageView, ...]:
    """What changes, before and after side by side; arguments as at `drawing_pages`."""
    forms = formats(paper)
    pictures = pair_pictures(comparison, forms, Lettering(units=units), Effort())
    pages = paged(pictures, forms, keeps_order=True)
    return tuple(
        _laid(
            page,
            f"Before and after, {number} of {len(pages)}",
            pair_key_marks(page.form.width),
            state_in_words,
        )
        for number, page in enumerate(pages, start=1)
    )


def _page(page: Page, heading: str) -> DrawingPageView:
    actions = frozenset(line.action for picture in page.pictures for line in picture.scene.lines)
    return _laid(page, heading, key_marks(page.form.width, actions), alternative_of)


def _laid(
    page: Page, heading: str, key: Iterable[Mark], told: Callable[[Picture], str]
) -> DrawingPageView:
    return DrawingPageView(
        heading=heading,
        is_wide=page.form.is_wide,
        shelves=tuple(
            ShelfView(
                columns=tuple(
                    tuple(_drawing(picture, told) for picture in column) for column in shelf
                ),
                height=height_of_shelf(shelf),
            )
            for shelf in page.shelves
        ),
        key=inline_svg(
            key,
            page.form.width,
            KEY_HEIGHT,
            "Key to the lines of the drawings",
        ),
    )


def _drawing(picture: Picture, told: Callable[[Picture], str]) -> DrawingView:
    svg = inline_svg(picture.marks, picture.width, picture.height, told(picture))
    return DrawingView(title=picture.title, svg=svg)


def step_of_lines(plan: Plan) -> dict[str, str]:
    """
    Number of the step that does what the drawing says, by the key of its conductor.

    It is the step that takes the whole conductor in hand; of a moved one that stays where it
    lies, the first at its ends.
    """
    whole, ends = dict[str, str](), dict[str, str]()
    for key, number, is_whole in _handled(plan):
        (whole if is_whole else ends).setdefault(key, number)
    return ends | whole


def _handled(plan: Plan) -> Iterator[tuple[str, str, bool]]:
    changes = changes_by_conductor(plan)
    for step in plan.steps:
        match step.operation:
            case RunWire() | UncapWire() | LeadAcross() as operation:
                yield line_key(changes[operation.conductor]), step.number, True
            case RemoveWire(for_resize=False) | CapWire(for_resize=False) as operation:
                yield line_key(changes[operation.conductor]), step.number, True
            case other:
                taken_off = [end.conductor for end in ends_taken_off(other)]
                for key in taken_off + [end.conductor for end in ends_joined(other)]:
                    yield line_key(changes[key]), step.number, False
