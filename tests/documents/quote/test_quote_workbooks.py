"""Quotations as data: read back by other means, harmless, the same every time."""

import io
import zipfile
from decimal import Decimal

import openpyxl
import pytest
from as_data import data_of
from every_case import every_case
from hypothesis import given, settings
from hypothesis import strategies as st
from quote_sample import DAY, SALOON, SMALL, VAN, own_rates, quoted

from upgrade_planner.configuration.tables.workbooks import WorkbookSheet, workbook_bytes
from upgrade_planner.documents.quote.internal import internal_offer
from upgrade_planner.documents.words.speech import speech_of

FORMULAS = ("=1+1", "+1", "-1+2", "@SUM(A1)", "\t=1", '=HYPERLINK("x")')


def opened(content):
    return openpyxl.load_workbook(io.BytesIO(content))


def as_decimal(value):
    """A number cell as it is shown."""
    return Decimal(str(value))


class TestWorkbook:
    @settings(max_examples=15)
    @given(st.lists(st.decimals(-(10**9), 10**9, places=2, allow_nan=False), min_size=10))
    def test_amounts_come_back_exactly(self, amounts):
        """More than a hundred amounts, for a workbook costs more than its cells."""
        rows = tuple((amount,) for amount in amounts)
        page = opened(workbook_bytes([WorkbookSheet(title="a", rows=rows)], DAY)).active
        assert [as_decimal(cell.value) for cell in page["A"]] == amounts

    @every_case("text", FORMULAS)
    def test_no_text_becomes_a_formula(self, text):
        page = opened(workbook_bytes([WorkbookSheet(title="a", rows=((text,),))], DAY)).active
        assert page["A1"].data_type == "s"
        assert page["A1"].value == f"'{text}"

    def test_control_characters_do_no_harm(self):
        page = opened(workbook_bytes([WorkbookSheet(title="a", rows=(("a\x07b",),))], DAY)).active
        assert page["A1"].value == "a b"

    def test_no_time_of_day_enters(self):
        content = workbook_bytes([WorkbookSheet(title="a", rows=(("x", 1),))], DAY)
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            assert {info.date_time for info in packed.infolist()} == {(1980, 1, 1, 0, 0, 0)}
            core = packed.read("docProps/core.xml").decode()
        assert core.count("2026-03-02T00:00:00Z") == 2


class TestCustomer:
    @pytest.fixture(scope="class")
    @staticmethod
    def book(tmp_path_factory):
        target = tmp_path_factory.mktemp("book") / "quote.xlsx"
        made = quoted(SALOON, target)
        return made.view, openpyxl.load_workbook(target)

    def test_sheets(self, book):
        _, pages = book
        assert pages.sheetnames == ["Comparison", "Offer A", "Parts A", "Offer B", "Parts B"]

    def test_prices_are_those_of_the_page(self, book):
        view, pages = book
        for offer in view.offers:
            rows = {r[0]: r for r in pages[f"Offer {offer.letter}"].iter_rows(values_only=True)}
            for row in (*offer.price, *offer.taxes):
                assert as_decimal(rows[row.words][2]) == row.amount
            assert as_decimal(rows["Before tax"][2]) == offer.net
            assert as_decimal(rows["To pay"][2]) == offer.to_pay
            assert as_decimal(rows["Before tax"][1]) == offer.hours

    def test_parts_add_up_to_what_the_page_charges(self, book):
        view, pages = book
        for offer in view.offers:
            page = pages[f"Parts {offer.letter}"]
            *cells, total = page.iter_rows(min_row=2, values_only=True)
            assert as_decimal(total[3]) == sum(p.amount for p in offer.parts)
            assert page.cell(2, 4).number_format == '"£"#,##0.00'
            assert page.oddFooter.left.text.startswith(view.number)
            assert len(cells) == len(offer.parts)
            assert sum(as_decimal(cell[3]) for cell in cells) == sum(p.amount for p in offer.parts)

    def test_open_items_are_told(self, book):
        view, pages = book
        texts = [row[0] for row in pages["Offer B"].iter_rows(values_only=True)]
        assert "These sums are excluding 1 item without a price:" in texts
        assert view.offers[1].open_items[0] in texts

    def test_a_live_name_of_the_shop_is_dead(self, tmp_path):
        changes = {'name = "Lane End Vehicle Electrics"': "name = '=HYPERLINK(\"x\")'"}
        target = tmp_path / "quote.xlsx"
        quoted(SMALL, target, rates=own_rates(tmp_path, **changes))
        cell = openpyxl.load_workbook(target)["Offer"]["A1"]
        assert (cell.data_type, cell.value) == ("s", '\'=HYPERLINK("x")')

    def test_json_has_money_as_texts_and_adds_up(self, tmp_path):
        target = tmp_path / "quote.json"
        quoted(SALOON, target)
        data = data_of(target.read_text(encoding="utf-8"), ("quotation", 3))
        assert data["currency"] == "GBP"
        for offer in data["offers"]:
            net = Decimal(offer["net"])
            assert sum(Decimal(row["amount"]) for row in offer["price"]) == net
            tax = sum(Decimal(row["amount"]) for row in offer["tax"])
            assert net + tax == Decimal(offer["to_pay"])
            assert all(isinstance(part["amount"], str) for part in offer["parts"])
            assert all(isinstance(part["quantity"], int | float) for part in offer["parts"])
            assert all(isinstance(one["after"], float) and one["unit"] for one in offer["figures"])


class TestInternal:
    @pytest.fixture(scope="class")
    @staticmethod
    def written(tmp_path_factory):
        folder = tmp_path_factory.mktemp("internal")
        made = quoted(VAN, folder / "a.json", internal=folder / "a_in.xlsx")
        quoted(VAN, folder / "b.json", internal=folder / "b_in.json")
        return folder, made.offers[0]

    def test_workbook_and_json_say_the_same(self, written):
        folder, _ = written
        data = data_of((folder / "b_in.json").read_text(encoding="utf-8"))
        rows = list(
            openpyxl.load_workbook(folder / "a_in.xlsx")["Lines"].iter_rows(values_only=True)
        )
        names = [name.replace(" ", "_") for name in rows[0]]
        lines = data["offers"][0]["lines"]
        *body, total = rows[1:]
        assert as_decimal(total[names.index("amount")]) == sum(
            Decimal(li["amount"]) for li in lines
        )
        assert len(lines) == len(body)
        for line, row in zip(lines, body, strict=True):
            cells = dict(zip(names, row, strict=True))
            for name in ("low_min", "likely_min", "high_min", "quantity", "amount", "cost"):
                expected = None if line[name] is None else as_decimal(line[name])
                found = None if cells[name] is None else as_decimal(cells[name])
                assert found == expected, name

    def test_every_labour_line_has_three_times(self, written):
        folder, offer = written
        data = data_of((folder / "b_in.json").read_text(encoding="utf-8"))
        labour = [line for line in data["offers"][0]["lines"] if line["section"] == "labour"]
        timed = [line for line in labour if line["low_min"] is not None]
        assert len(timed) == len(offer.work)
        assert all("old vehicle" in line["words"] for line in labour if line not in timed)
        for line, work in zip(timed, offer.work, strict=True):
            low, likely, high = (as_decimal(line[f"{n}_min"]) for n in ("low", "likely", "high"))
            assert low <= likely <= high
            assert abs(float(likely) - sum(e.likely for e in work.estimates)) <= 0.05 + 1e-9
            assert (line["place"], line["phase"]) == (work.place, work.phase)

    def test_on_paper_labour_of_a_phase_is_one_line_and_the_sums_are_the_same(self, written):
        _, made = written
        told = internal_offer(made, speech_of("en"))
        grouped = tuple(told.grouped)
        assert len(grouped) < len(told.lines)
        for name in ("amount", "quantity"):
            sums = [sum(getattr(line, name) for line in lines) for lines in (grouped, told.lines)]
            assert sums[0] == sums[1]
        timed = [line for line in grouped if line.low_min is not None]
        assert len({(line.work, line.words, line.phase) for line in timed}) == len(timed)

    def test_setting_up_stands_once_a_place(self, written):
        folder, offer = written
        data = data_of((folder / "b_in.json").read_text(encoding="utf-8"))
        places = [
            line["place"]
            for line in data["offers"][0]["lines"]
            if line["words"].endswith("setting up")
        ]
        assert len(places) == len(set(places)) > 3
        assert f"{offer.own.overlap.saved_min:.1f} min" in data["offers"][0]["about_hours"][0]


@pytest.mark.usefixtures("engine")
@pytest.mark.parametrize("suffix", [".pdf", ".html", ".json", ".xlsx"])
def test_same_input_same_bytes(tmp_path, suffix):
    for name in ("one", "two"):
        internal = tmp_path / f"{name}_in{'.json' if suffix == '.html' else suffix}"
        quoted(SMALL, tmp_path / f"{name}{suffix}", internal=internal)
    for one in tmp_path.glob("one*"):
        assert one.read_bytes() == one.with_name(one.name.replace("one", "two")).read_bytes()
