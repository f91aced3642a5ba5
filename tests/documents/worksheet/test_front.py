"""The first pages: pictures stand among text, whole, and little paper stays blank before them."""

from attrs import evolve
from every_case import every_case
from sample import sheet

from upgrade_planner.documents.worksheet.front import page_room, with_front
from upgrade_planner.documents.worksheet.front_heights import (
    rows_height,
    section_height,
    title_height,
    where_table_height,
)
from upgrade_planner.documents.worksheet.picture_views import (
    FRONT_SECTIONS,
    DrawingPageView,
    DrawingView,
    ShelfView,
    WhereRow,
    WhereView,
)

LOOM = WhereRow(mark="A", where="Engine loom", between="1 to 2", what="ADD sensing.")


def where(height, *, is_brief=False):
    return WhereView(svg="<svg/>", rows=(LOOM,) * 5, height=height, is_brief=is_brief)


def page(*heights, is_wide=False):
    picture = DrawingView(title="Charging", svg="<svg/>")
    shelves = tuple(ShelfView(columns=((picture,),), height=height) for height in heights)
    return DrawingPageView(heading="What changes", is_wide=is_wide, shelves=shelves, key="key")


def laid(view, paper="A4"):
    """Page on which each part begins, by heights as reckoned."""
    room, end = page_room(paper), title_height(view)
    for part in view.front:
        whole = flowing = 0.0
        if part.section == "where":
            whole, flowing = view.where.height + 7.5, where_table_height(view.where)
        elif part.shelf:
            whole = part.shelf.height + (18.5 if part.key else 0)
        elif part.section == "changed":
            flowing = rows_height(view, *part.rows)
        elif part.section != "page":
            flowing = section_height(view, part.section)
        left = room - end % room
        skipped = left if whole > left else 0.0
        yield part, int((end + skipped) // room) + 1, skipped
        end += skipped + whole + flowing


@every_case("height", [90, 150, 180, 230])
@every_case("paper", ["A4", "Letter"])
def test_where_it_is_begins_on_the_first_or_second_page_before_what_changes(height, paper):
    view = with_front(sheet(), [where(height)], [page(150, 200)], paper)
    begins = {part.section: number for part, number, _ in reversed(list(laid(view, paper)))}
    order = [part.section for part in view.front]
    assert begins["where"] <= 2
    assert order.index("where") < order.index("shelf")


def test_little_paper_stays_blank():
    view = with_front(sheet(), [where(170)], [page(140, 200, 90)], "A4")
    assert sum(skipped for *_, skipped in laid(view)) < 120


def test_text_keeps_its_order_and_every_row_and_picture_stands_once():
    view = with_front(sheet(), [where(200)], [page(200, 230, 120), page(150, is_wide=True)], "A4")
    names = [part.section for part in view.front if part.section in FRONT_SECTIONS]
    assert list(dict.fromkeys(names)) == list(FRONT_SECTIONS)
    parted = [part.rows for part in view.front if part.section == "changed"]
    assert [row for rows in parted for row in range(*rows)] == list(range(len(view.changed)))
    assert [part.shelf.height for part in view.front if part.shelf] == [200, 230, 120]
    assert [bool(part.key) for part in view.front if part.shelf] == [True, False, False]
    assert view.front[-1].page.is_wide


def test_a_view_that_names_its_parts_is_taken_where_it_costs_no_more():
    room = page_room("A4") - title_height(sheet())
    full, brief = where(room - 40), where(room - 60, is_brief=True)
    assert with_front(sheet(), [full, brief], [], "A4").where is full
    assert with_front(evolve(sheet(), changed=()), [where(260), brief], [], "A4").where is brief
