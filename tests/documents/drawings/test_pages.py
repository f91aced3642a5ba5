"""Pictures on pages: what is said to fit does fit, and equal input gives equal pictures."""

import subprocess
import sys
from datetime import date
from io import BytesIO
from types import SimpleNamespace

import pytest
from attrs import evolve
from drawn import (
    QUICK,
    lines_through_boxes,
    text_on_text,
    texts,
)
from every_case import every_case
from pair_facts import compared, loaded, planned
from pypdf import PdfReader

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.documents.drawings.chart import chart_of, printed
from upgrade_planner.documents.drawings.key import HEIGHT
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.marks import svg_marks
from upgrade_planner.documents.drawings.pages import (
    HEADING,
    change_pictures,
    formats,
    paged,
    shelved,
)
from upgrade_planner.documents.drawings.picture import Effort, Picture
from upgrade_planner.documents.drawings.shapes.boxes import BoxedPart
from upgrade_planner.documents.drawings.shapes.signs import small_sign
from upgrade_planner.documents.drawings.svg import inline_svg
from upgrade_planner.documents.drawings.tracks import Tally
from upgrade_planner.documents.drawings.union import union_of
from upgrade_planner.documents.shared.html import template_html
from upgrade_planner.documents.shared.pdf import page_pdf
from upgrade_planner.documents.worksheet.drawing_book import DrawingBook, chart_book
from upgrade_planner.documents.worksheet.drawing_pages import drawing_pages
from upgrade_planner.documents.worksheet.picture_views import (
    DrawingPageView,
    DrawingView,
    ShelfView,
)
from upgrade_planner.planning.way_back import way_back

LEAST = Effort(starts=1, sifted=0, finished=1, further=0)
NONE_OF = ("battery", "ground point")
VAN = ("van_original_resistance", "van_upgraded")

DRAWN_ANEW = """
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.marks import svg_marks
from upgrade_planner.documents.drawings.pages import change_pictures, formats
from upgrade_planner.documents.drawings.picture import Effort, Picture
from upgrade_planner.documents.drawings.tracks import Tally
from upgrade_planner.documents.drawings.union import union_of
from upgrade_planner.electrical.sizing import load_sized
union = union_of(compare(*load_sized("tractor_original", "tractor_upgraded")))
effort = Effort(starts=2, sifted=1, finished=2, further=0)
for picture in change_pictures(union, formats("A4"), Lettering(), effort):
    print(svg_marks(picture.marks))
"""


@every_case("paper", ["A4", "Letter"])
def test_a_page_holds_the_largest_picture_of_its_format(paper):
    views = tuple(
        DrawingPageView(
            heading="What changes",
            is_wide=form.is_wide,
            shelves=(
                ShelfView(
                    columns=((_blank(form.width, form.height - HEADING),),), height=form.height
                ),
            ),
            key=inline_svg((), form.width, HEIGHT, "key"),
        )
        for form in formats(paper)
    )
    book = DrawingBook(title="t", head="h", code="c", drawings=views)
    html = template_html(
        "drawings/book.html.jinja", paper=paper, embed_fonts=False, view=book, language="en"
    )
    assert len(PdfReader(BytesIO(page_pdf(html, date(2026, 1, 2)))).pages) == len(views)


def _blank(width, height):
    return DrawingView(title="Ignition", svg=inline_svg((), width, height, "nothing"))


def test_every_picture_stands_on_one_page_and_pages_are_not_overfull():
    union = union_of(compared("saloon_original", "saloon_negative_alternator"))
    forms = formats("A4")
    pictures = change_pictures(union, forms, Lettering(), QUICK)
    pages = paged(pictures, forms)
    placed = [picture for page in pages for picture in page.pictures]
    assert sorted(map(id, placed)) == sorted(map(id, pictures))
    assert pages[0].shelves[0][0][0] is pictures[0]
    for page in pages:
        for shelf in page.shelves:
            assert sum(column[0].width for column in shelf) <= page.form.width


def test_pictures_do_not_depend_on_hash_seeds():
    seen = {
        subprocess.run(
            [sys.executable, "-c", DRAWN_ANEW],
            env={"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "77")
    }
    assert len(seen) == 1


def test_the_order_of_the_input_changes_nothing():
    whole = compared(*VAN)
    first = change_pictures(union_of(whole), formats("A4"), Lettering(), QUICK)
    turned = union_of(evolve(whole, parts=whole.parts[::-1]))
    again = change_pictures(turned, formats("A4"), Lettering(), QUICK)
    assert [sorted(svg_marks([m]) for m in p.marks) for p in first] == [
        sorted(svg_marks([m]) for m in p.marks) for p in again
    ]


def test_way_back_is_drawn_too():
    plan = way_back(planned(*VAN)).plan
    pictures = change_pictures(union_of(plan.comparison), formats("A4"), Lettering(), QUICK)
    sorts = {getattr(mark, "sort", "") for picture in pictures for mark in picture.marks}
    assert "wire rejoin" in sorts


def _threefold(whole):
    """A vehicle with every wire three times."""
    wires, runs = list(whole.wires), dict(whole.runs)
    for number in range(2):
        for wire in whole.wires:
            another = evolve(wire, id=f"{wire.id}-{number}")
            wires.append(another)
            runs[another.id] = whole.runs[wire.id]
    return evolve(whole, wires=tuple(sorted(wires, key=lambda w: w.id)), runs=runs)


def test_two_hundred_wires_are_a_chart_in_which_nothing_lies_on_anything(monkeypatch):
    monkeypatch.setattr("upgrade_planner.documents.drawings.chart.LITTLE_EFFORT", LEAST)
    picture = chart_of(_threefold(loaded("pickup_original")), "both")
    assert len(picture.scene.lines) > 200
    assert text_on_text(picture) == []
    assert lines_through_boxes(picture) == []


def test_a_part_without_sign_is_a_box_with_its_name(monkeypatch):
    monkeypatch.setattr("upgrade_planner.documents.drawings.chart.EFFORT", LEAST)
    picture = chart_of(loaded("tractor_upgraded"), "both")
    shown = " ".join(text.text for text in texts(picture))
    plain = [
        figure
        for figure in picture.draft.figures.values()
        if isinstance(figure, BoxedPart) and small_sign(figure.part) is None
    ]
    assert plain
    assert all(word in shown for figure in plain for word in figure.name.split())


def test_two_hundred_wires_are_many_pictures_that_all_fit():
    """The vehicle with everything three times: told in two until each picture fits its page."""
    before = loaded("pickup_original")
    after = _threefold(before)
    union = union_of(compare(before, after))
    forms = formats("A4")
    pictures = change_pictures(union, forms, Lettering(), LEAST)
    assert all(any(form.holds((p.width, p.height)) for form in forms) for p in pictures)
    drawn = [line.key for p in pictures for line in p.scene.lines if not line.stays]
    assert sorted(drawn) == sorted(line.key for line in union.lines if not line.stays)


def test_a_vehicle_without_battery_and_ground_is_drawn(monkeypatch):
    monkeypatch.setattr("upgrade_planner.documents.drawings.chart.EFFORT", LEAST)
    whole = loaded("tractor_original")
    kept = [part for part in whole.components if str(part.family) not in NONE_OF]
    roles = {part.role for part in kept}
    wires = tuple(w for w in whole.wires if roles.issuperset(end.role for end in w.ends))
    bare = evolve(whole, components=tuple(kept), wires=wires)
    for pair in ((whole, bare), (bare, whole)):
        assert change_pictures(union_of(compare(*pair)), formats("A4"), Lettering(), LEAST)
    assert chart_of(bare, "both").scene.lines


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_a_chart_with_a_long_heading_stays_on_its_sheet(paper, monkeypatch):
    """On A3 the words that it is printed smaller begin another line of the note."""
    monkeypatch.setattr("upgrade_planner.documents.drawings.chart.EFFORT", LEAST)
    book = chart_book(loaded("tractor_upgraded"), "A4", "both", paper)
    html = template_html(
        "drawings/book.html.jinja", paper="A4", embed_fonts=False, view=book, language="en"
    )
    assert len(PdfReader(BytesIO(page_pdf(html, date(2026, 1, 2)))).pages) == 1


def test_pictures_stand_on_as_few_pages_as_they_can():
    """The two of 70 mm fill the first page; with the tallest beside the first it takes three."""
    sizes = ((90, 140), (60, 200), (70, 170), (70, 140), (110, 80))
    pictures = [_sized(*size) for size in sizes]
    pages = paged(pictures, formats("A4"))
    placed = [id(picture) for page in pages for picture in page.pictures]
    assert len(pages) == 2
    assert sorted(placed) == sorted(map(id, pictures))


def test_shelves_are_as_low_together_as_they_can():
    """The two tall ones stand side by side, though another one comes between them."""
    sizes = ((90, 200), (170, 60), (80, 190), (60, 60))
    pictures = [_sized(*size) for size in sizes]
    upright, _ = formats("A4")
    shelves = shelved(pictures, upright)
    first, *_ = shelves
    assert [column[0].width for column in first] == [90, 80]
    placed = [id(one) for shelf in shelves for column in shelf for one in column]
    assert sorted(placed) == sorted(map(id, pictures))


def test_pictures_of_a_sheet_stand_upright():
    (page,) = drawing_pages(planned("van_original_resistance", "van_upgraded"), "A4", "both")
    assert not page.is_wide


def _sized(width, height):
    return Picture(title="", marks=(), width=width, height=height, tally=Tally(), draft=None)


@every_case(("size", "paper"), [((250, 360), "A3"), ((400, 500), "A2"), ((500, 700), "A1")])
def test_chart_takes_the_smallest_paper_that_prints_its_type_in_full_size(size, paper):
    picture = SimpleNamespace(width=size[0], height=size[1])
    chart = printed(picture, "", heading="Wiring", note="All wires.")
    assert (chart.paper, chart.scale) == (paper, 1.0)
