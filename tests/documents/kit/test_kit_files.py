"""Files of a kit: pages, tables, data."""

import csv
import io
from datetime import date, datetime
from decimal import Decimal

import openpyxl
import pytest
from as_data import data_of
from attrs import evolve
from kit_sample import demo_kit, jobs, poor_kit
from page_layout import pages_of, words_on

from upgrade_planner.configuration.tables.cells import harmless
from upgrade_planner.documents.kit.kit_json import kit_json
from upgrade_planner.documents.kit.kit_page import kit_view
from upgrade_planner.documents.kit.kit_tables import COLUMNS, PAPER_COLUMNS, kit_csv, kit_xlsx
from upgrade_planner.errors import printable
from upgrade_planner.jobs.kit import kit_html
from upgrade_planner.kit.matching import Alternative, Otherwise

ISSUED = date(2026, 3, 1)


def rows(kit):
    return list(csv.DictReader(io.StringIO(kit_csv(kit, kit_view(kit, date="2026-03-01")))))


def workbook_of(kit, issued, **paper):
    return kit_xlsx(kit, kit_view(kit, date=issued.isoformat()), issued, **paper)


MOST_PAGES = 12
"""Of an order for three vehicles in which hardly a line has a price."""


@pytest.fixture(scope="module")
def pages():
    """The words of the pages."""
    found = pages_of(kit_html(kit_view(poor_kit(), date="2026-03-01")))
    assert len(found) <= MOST_PAGES
    return " ".join(map(words_on, found))


def test_csv_has_one_row_a_line_and_no_figure_where_there_is_none():
    found = rows(poor_kit())
    assert len(found) == len(poor_kit().order.lines)
    assert all((row["amount"] == "") == bool(row["open"]) for row in found)
    amounts = [Decimal(row["amount"]) for row in found if row["amount"]]
    assert sum(amounts) == poor_kit().order.total


@pytest.fixture
def live_kit():
    """Its first listed line has a number that a spreadsheet would compute."""
    kit = poor_kit()
    sold = next(line for line in kit.order.lines if line.sale)
    others = (line for line in kit.order.lines if line is not sold)
    listed = evolve(sold.line, number="=1+1")
    taken = Alternative(line=listed, otherwise=(Otherwise("@SUM(A1)", "a", "b"),))
    line = evolve(sold, line=listed, stand_ins=(taken,))
    return evolve(kit, order=evolve(kit.order, lines=(line, *others)))


def test_a_number_that_looks_like_a_formula_stays_text(live_kit):
    row = rows(live_kit)[0]
    assert (row["number"], row["remark"]) == ("'=1+1", "'@SUM(A1) a for b")


@pytest.mark.parametrize("live", ["=1+1", "+1", "-1", "@a", "\t=1", "\r=1", "\x01=1"])
def test_no_text_is_computed_by_a_spreadsheet(live):
    assert harmless(printable(live)).startswith("'")


def test_xlsx_has_numbers_as_numbers_and_texts_as_texts(live_kit):
    book = openpyxl.load_workbook(io.BytesIO(workbook_of(live_kit, ISSUED)))
    assert book.sheetnames == ["Order", "Bags", "Cutting"]
    head, *body, total = book["Order"].iter_rows()
    assert total[COLUMNS.index("amount")].value == pytest.approx(float(poor_kit().order.total))
    assert tuple(cell.value for cell in head) == COLUMNS
    assert not any(cell.data_type == "f" for sheet in book for row in sheet for cell in row)
    column = COLUMNS.index("to pack")
    assert all(row[column].data_type == "n" and row[column].value > 0 for row in body)
    amounts = [row[COLUMNS.index("amount")].value for row in body]
    assert sum(value is None for value in amounts) == len(poor_kit().order.open_lines)


def test_rows_of_the_csv_name_their_job_and_list():
    view = kit_view(poor_kit(), date="2026-03-01")
    papers = {tuple(row[name] for name in PAPER_COLUMNS) for row in rows(poor_kit())}
    jobs = "; ".join(job.name for job in poor_kit().jobs)
    assert papers == {(jobs, view.number, "2026-03-01", view.code)}


@pytest.mark.parametrize(("paper", "code"), [("A4", 9), ("Letter", 1)])
def test_a_workbook_is_printed_without_touching_it(paper, code):
    kit = poor_kit(of=jobs()[:1])
    book = openpyxl.load_workbook(io.BytesIO(workbook_of(kit, ISSUED, paper=paper)))
    for page in book:
        assert (page.freeze_panes, page.print_title_rows) == ("A2", "$1:$1")
        assert page.auto_filter.ref.startswith("A1:")
        assert page.page_setup.orientation == "landscape"
        assert int(page.page_setup.paperSize) == code
        assert page.sheet_properties.pageSetUpPr.fitToPage
        assert page.page_setup.fitToHeight in (0, "0")
        assert page.oddFooter.right.text == "&P / &N"
        assert "check code" in page.oddFooter.left.text
    order = book["Order"]
    assert order.auto_filter.ref.endswith(str(order.max_row - 1)), "the total is not filtered"
    amount = order.cell(order.max_row, COLUMNS.index("amount") + 1)
    assert (amount.number_format, amount.font.bold) == ('#,##0.00 "EUR"', True)
    assert {row[3].number_format for row in book["Cutting"].iter_rows(min_row=2)} >= {"0.00"}


def test_xlsx_is_the_same_at_any_time_of_day(monkeypatch):
    kit = poor_kit(of=jobs()[1:])
    first = workbook_of(kit, ISSUED)
    import openpyxl.writer.excel as writer

    class Later(datetime):
        @classmethod
        def now(cls, tz=None):
            return datetime(2031, 5, 6, 7, 8, 9, tzinfo=tz)

    class Times:
        datetime, timezone = Later, __import__("datetime").timezone

    monkeypatch.setattr(writer, "datetime", Times)
    assert workbook_of(kit, ISSUED) == first
    assert workbook_of(kit, date(2026, 3, 2)) != first


def test_json_has_money_as_texts_and_null_for_what_is_open():
    data = data_of(kit_json(poor_kit(), "2026-03-01"), ("kit", 3), parse_float=Decimal)
    assert data["total"] == {
        "amount": str(poor_kit().order.total),
        "currency": "EUR",
        "open_lines": len(poor_kit().order.open_lines),
    }
    assert {line["amount"] is None for line in data["lines"] if line["is_open"]} == {True}
    total = sum(Decimal(line["amount"]) for line in data["lines"] if line["amount"] is not None)
    assert total == poor_kit().order.total
    assert all(isinstance(line["amount"], str | None) for line in data["lines"])
    needed = [(line["needed"], line["unit"]) for line in data["lines"]]
    assert needed == [(line.needed, line.articles[0].unit) for line in poor_kit().order.lines]


def test_data_says_that_prices_are_invented():
    assert data_of(kit_json(demo_kit(), "2026-03-01"))["prices"]["invented"] is True
    assert {row["prices from"] for row in rows(demo_kit())} == {"invented demo prices"}
    assert {row["prices from"] for row in rows(poor_kit())} == {"poor.csv"}


def test_the_page_says_what_is_open_and_shows_no_price_but_the_total(pages):
    order = poor_kit().order
    assert f"Total {order.total} EUR, excluding {len(order.open_lines)} open lines" in pages
    assert "no article" in pages
    assert "no price" in pages
    assert pages.count("EUR") == 1
    assert "invented" not in pages


def test_the_page_has_every_bag_and_every_wire(pages):
    view = kit_view(poor_kit(), date="2026-03-01")
    for bag in view.bags:
        assert f"Bag {bag.number} of {len(view.bags)}: {bag.whereto}" in pages
    for wire in {wire.id for bag in view.bags for wire in bag.wires}:
        assert wire in pages.replace("- ", "-")


def test_html_escapes_what_a_shop_writes():
    view = evolve(kit_view(poor_kit(), date="2026-03-01"), prices="<script>x</script>")
    assert "<script>" not in kit_html(view, embed_fonts=True)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_pages_have_the_paper_that_was_asked_for(paper):
    html = kit_html(kit_view(poor_kit(), date="2026-03-01"), paper=paper)
    assert f"size: {paper}" in html
