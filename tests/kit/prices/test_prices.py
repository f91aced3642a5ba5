"""Price and stock lists: what is read, every fault by row and column, CSV and XLSX alike."""

import csv
import io
import time
from datetime import date
from decimal import Decimal

import openpyxl
import pytest
from every_case import every_case
from hypothesis import given, settings
from hypothesis import strategies as st

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.configuration.tables.cells import harmless
from upgrade_planner.configuration.tables.csv_files import csv_bytes, csv_text
from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.configuration.tables.workbooks import WorkbookSheet, workbook_bytes
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.kit.articles import article, sorts
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_columns import price_columns, trait_columns
from upgrade_planner.kit.prices.price_lines import (
    MOST_PROBLEMS,
    price_list,
)
from upgrade_planner.kit.prices.price_list import SoldBy
from upgrade_planner.kit.prices.shop_files import load_prices, price_settings, shipped_shop

HEADER = "article,size,insulation,colour,sold_by,price,stock,number"


def read(text, mark="."):
    content = text if isinstance(text, bytes) else text.encode()
    style = ListStyle(currency="EUR", mark=mark)
    return price_list(table_of("list.csv", content), style, is_strict=True)


def faults(text, mark="."):
    with pytest.raises(ConfigurationError) as caught:
        read(text, mark)
    return caught.value.problems


def only_fault(text, mark="."):
    (problem,) = faults(text, mark)
    return problem


def xlsx(rows):
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


def written_book(rows):
    return workbook_bytes([WorkbookSheet(title="list", rows=tuple(rows))], date(2026, 5, 12))


def one(columns, cells):
    return f"{HEADER},{columns}\ncable,12 SAE,GXL,RD,metre,1.85,40,C1,{cells}"


class TestReading:
    def test_header_may_come_in_any_order_and_in_capitals(self):
        text = "Number;STOCK;Colour;Size;Sold by;Price;Article;Insulation\n"
        text += "C1;4;rd;12 sae;metre;1.8;Cable;gxl"
        (line,) = read(text).lines
        assert line.traits == {"size": "12 SAE", "insulation": "GXL", "colour": "RD"}
        assert (line.price, line.stock, line.sold_by) == (Decimal("1.8"), 4, SoldBy.METRE)

    def test_columns_of_the_shop_are_kept_with_their_own_titles(self):
        (line,) = read(one("Last Count,remark,Shelf Place", "May,-,B 4")).lines
        assert line.kept == (("Last Count", "May"), ("remark", "-"))
        assert line.shelf_place == "B 4"

    def test_decimal_commas_are_read_where_the_settings_say_so(self):
        text = "article;size;insulation;colour;sold_by;price;stock;reels;number\n"
        (line,) = read(text + "cable;2,5 mm²;PVC;RD;metre;12,50;;12,5 30;C1", ",").lines
        assert line.price == Decimal("12.50")
        assert line.reels == (Decimal("12.5"), Decimal(30))
        assert line.traits["size"] == "2.5 mm²"
        assert line.in_stock == Decimal("42.5")

    def test_feet_are_exact_metres(self):
        text = "article,size,insulation,colour,sold_by,contains,price,stock,reels,number\n"
        foot, reel = read(
            text + "cable,12 SAE,GXL,RD,foot,,0.6,,10 20,C1\n"
            "cable,12 SAE,GXL,BK,reel,100 ft,50,2,,C2"
        ).lines
        assert foot.reels == (Decimal("3.048"), Decimal("6.096"))
        assert foot.stock == 30
        assert reel.lengths == (Decimal("30.48"),) * 2

    def test_what_is_not_known_is_not_zero(self):
        (line,) = read(f"{HEADER}\ncable,12 SAE,GXL,RD,metre,,,C1").lines
        assert line.price is None
        assert line.stock is None

    def test_a_note_behind_an_apostrophe_is_the_note(self):
        (line,) = read(one("remark", harmless("=SUM(A1)"))).lines
        assert line.kept == (("remark", "=SUM(A1)"),)


class TestFaults:
    @every_case(
        ("row", "column", "found", "expected"),
        [
            ('cable,12 SAE,GXL,RD,metre,"12,50",40,C1', "price", '"12,50"', "decimal point: 12.50"),
            ("cable,12 SAE,GXL,RD,metre,1.85,-3,C1", "stock", '"-3"', "zero or more"),
            ("cable,12 SAE,GXL,RD,metre,0.00,3,C1", "price", '"0.00"', "more than zero"),
            ("cable,12 SAE,GXL,RD,metre,cheap,3,C1", "price", '"cheap"', "a plain number"),
            ("cable,12 SAE,GXL,RD,metre,1e9,3,C1", "price", '"1e9"', "a plain number"),
            ("cable,12 SAE,GXL,RD,metre,NaN,3,C1", "price", '"NaN"', "a plain number"),
            ("cable,12 SAE,GXL,RD,meter,1,3,C1", "sold_by", '"meter"', "metre"),
            ("cabel,12 SAE,GXL,RD,metre,1,3,C1", "article", '"cabel"', "'cable'"),
            ("cable,12,GXL,RD,metre,1,3,C1", "size", '"12" without a size system', "12 SAE"),
            ("cable,12 SAE,GLX,RD,metre,1,3,C1", "insulation", '"GLX"', "GXL"),
            ("cable,12 SAE,GXL,read,metre,1,3,C1", "colour", '"read"', "letter codes"),
            ("tie,12 SAE,,,each,1,3,C1", "size", '"12 SAE"', "a tie has no size"),
            ("tie,,,,metre,1,3,C1", "sold_by", "a tie sold by the metre", "each or pack"),
            ("tie,,,,pack,1,3,C1", "contains", "an empty cell", "what one pack holds"),
            ("tie,,,,each,1,2.5,C1", "stock", '"2.5"', "whole units"),
            ("tie,,,,each,1,3,", "number", "an empty cell", "own article number"),
            ("tie,,,,each,1,3,=1+1", "number", '"=1+1"', "begins with a letter"),
            ("tie,,,,each,1,3,@A1", "number", '"@A1"', "begins with a letter"),
            ("tie,,,,each,1,3,-A1", "number", '"-A1"', "begins with a letter"),
            ("tie,,,,each,1,3,+A1", "number", '"+A1"', "begins with a letter"),
            ("=A1,,,,each,1,3,C1", "article", '"=A1"', "begins with a letter"),
        ],
    )
    def test_one_bad_cell_is_told_by_row_and_column(self, row, column, found, expected):
        problem = only_fault(f"{HEADER},contains\n{row}")
        assert (problem.line, problem.subject) == (2, column)
        assert problem.column == f"{HEADER},contains".split(",").index(column) + 1
        assert found in problem.found
        assert expected in problem.expected

    @every_case(
        ("columns", "cells", "found"),
        [
            ("currency", "USD", '"USD"'),
            ("currency", "euro", '"euro"'),
            ("reels", "12 30", '"40" with 42 on reels'),
            ("reels", "12 0", '"0"'),
            ("contains", "30", '"30"'),
            ("ratio", "3:1", '"3:1"'),
            ("alternative", "C9", "'C9'"),
            ("alternative", "C1", "'C1'"),
            ("minimum", "-1", '"-1"'),
            ("remark", "=cmd()", '"=cmd()"'),
            ("price", "2", "column 'price' a second time"),
        ],
    )
    def test_one_bad_optional_cell_is_told(self, columns, cells, found):
        assert found in only_fault(one(columns, cells)).found

    def test_all_faults_come_at_once(self):
        text = f"{HEADER}\ncable,12,GXL,RD,metre,x,-1,C1\ntiee,,,,each,1,1,C2\ntie,,,,each,1,1,C3"
        found = [(problem.line, problem.subject) for problem in faults(text)]
        assert found == [(2, "size"), (2, "price"), (2, "stock"), (3, "article")]

    def test_missing_columns_are_named_together(self):
        subjects = {problem.subject for problem in faults("article,size,prise\ncable,12 SAE,1")}
        assert subjects == {"sold_by", "price", "stock", "number"}

    def test_equal_numbers_are_found(self):
        text = f"{HEADER}\ntie,,,,each,1,1,C1\ntag,,,,each,1,1,C1"
        assert only_fault(text).subject == "number"

    def test_an_alternative_that_may_never_stand_in_is_refused(self):
        text = "article,rating,style,sold_by,price,stock,number,alternative\n"
        text += "fuse,15 A,blade,each,1,1,F15,F20\nfuse,20 A,blade,each,1,1,F20,"
        problem = only_fault(text)
        assert "another rating: 20 a for 15 a" in problem.found
        assert (problem.line, problem.column) == (2, 8)

    def test_thousands_of_faults_end_with_their_number(self):
        problems = faults("\n".join([HEADER, *(f"cabel,,,,each,1,1,C{n}" for n in range(1000))]))
        assert len(problems) == MOST_PROBLEMS + 1
        assert problems[-1].found == f"{1000 - MOST_PROBLEMS} more faults"

    @every_case("content", [b"", b"\n\n", b"\xff\xfe\x00", b"PK\3\4rubbish"])
    def test_what_is_no_list_is_refused_in_one_line(self, content):
        assert only_fault(content).file == "list.csv"


class TestXlsx:
    ROWS = (HEADER.split(","), ["cable", "12 SAE", "GXL", "RD", "metre", 1.85, 40, "C1"])

    def test_the_same_list_is_read_from_csv_and_xlsx(self):
        text = "\n".join(",".join(map(str, row)) for row in self.ROWS)
        assert read(xlsx(self.ROWS)).lines == read(text).lines

    def test_numbers_of_cells_need_no_decimal_mark(self):
        assert read(xlsx(self.ROWS), ",").lines == read(xlsx(self.ROWS)).lines

    def test_a_sum_of_tenths_is_the_number_that_is_shown(self):
        rows = [self.ROWS[0], [*self.ROWS[1][:5], 0.1 + 0.2, 40, 1001]]
        (line,) = read(xlsx(rows)).lines
        assert (line.price, line.number) == (Decimal("0.3"), "1001")

    @every_case("value", ["=1+1", True, date(2026, 5, 12)])
    def test_cells_that_are_no_plain_values_are_refused(self, value):
        rows = [self.ROWS[0], [*self.ROWS[1][:5], value, 40, "C1"]]
        problem = only_fault(xlsx(rows))
        assert (problem.line, problem.column) == (2, 6)
        assert "plain value" in problem.expected

    def test_text_that_looks_like_a_formula_is_refused_here_too(self):
        book = openpyxl.Workbook()
        for row in self.ROWS:
            book.active.append(row)
        book.active["H2"].value = "=1+1"
        book.active["H2"].data_type = "s"
        content = io.BytesIO()
        book.save(content)
        assert "for a formula" in only_fault(content.getvalue()).found

    def test_the_shipped_list_written_as_xlsx_reads_the_same(self, tmp_path):
        shop = shipped_shop()
        (tmp_path / "shop.toml").write_bytes((shop / "shop.toml").read_bytes())
        with (shop / "prices.csv").open(encoding="utf-8", newline="") as file:
            (tmp_path / "prices.xlsx").write_bytes(xlsx(csv.reader(file)))
        assert load_prices(tmp_path / "prices.xlsx").lines == load_prices(shop).lines


class TestSettings:
    GOOD = '[prices]\nfile = "prices.csv"\ndecimal = "point"\ncurrency = "EUR"\n'

    @every_case(
        ("old", "new", "found"),
        [
            ('"point"', '"dot"', '"dot"'),
            ('"EUR"', '"euro"', '"euro"'),
            ('"prices.csv"', "7", "7"),
            ("decimal =", "decimals =", "decimals"),
            ("[prices]", "[price]", "no table [prices]"),
        ],
    )
    def test_faults_in_the_settings_have_a_line(self, tmp_path, old, new, found):
        (tmp_path / "shop.toml").write_text(self.GOOD.replace(old, new))
        with pytest.raises(ConfigurationError, match=r"shop\.toml") as caught:
            price_settings(tmp_path)
        assert any(found in problem.found for problem in caught.value.problems)
        assert new == "[price]" or caught.value.problems[-1].line > 0

    def test_a_missing_list_is_told_by_its_name(self, tmp_path):
        (tmp_path / "shop.toml").write_text(self.GOOD)
        with pytest.raises(ConfigurationError, match=r"prices\.csv"):
            load_prices(tmp_path / "shop.toml")


def test_a_part_in_the_shipped_list_bears_the_name_of_a_part_that_ships():
    """A part that is renamed would be an open line in each kit that takes it."""
    profiles = shipped_folder("profiles").rglob("*.toml")
    shipped = "\n".join(path.read_text("utf-8") for path in profiles).casefold()
    listed = {one.traits["name"] for one in load_prices(shipped_shop()).lines if one.sort == "part"}
    assert listed
    assert not [name for name in listed if f'"{name}"' not in shipped]


def test_every_trait_of_every_sort_has_a_column_and_none_has_two_meanings():
    assert not set(price_columns()) & set(trait_columns())
    assert {name for sort in sorts().values() for name in sort.traits} == set(trait_columns())


@given(st.text(max_size=200))
def test_no_text_brings_anything_but_a_list_or_an_error_for_people(text):
    try:
        read(f"{HEADER}\n{text}")
    except ConfigurationError as error:
        assert error.problems


def big_list(count):
    rows = (
        f"part,fuse_box,,Box number {n},each,{n % 97}.{n % 90 + 10},{n % 7},P{n},note {n}"
        for n in range(count)
    )
    return "\n".join(["article,kind,rating,name,sold_by,price,stock,number,remark", *rows]).encode()


def seconds(count):
    content = big_list(count)
    start = time.process_time()
    prices = read(content)
    for n in range(0, count, 50):
        wanted = article("part", kind="fuse_box", rating="", name=f"box number {n}")
        assert [line.number for line in prices.fitting(wanted)] == [f"P{n}"]
    return time.process_time() - start


def test_time_to_read_and_search_grows_with_the_number_of_articles():
    small, large = min(seconds(2_000) for _ in range(2)), seconds(20_000)
    assert large < 25 * small  # ten times the articles; a square would be a hundred times
    assert large < 24


class TestWriting:
    ROWS = (
        ("article", "sold_by", "price", "stock", "number", "remark"),
        ("tie", "each", Decimal("12.50"), 3, "T1", "=1+1"),
        ("tag", "each", None, 4, "G1", "@cell; -5"),
    )

    @every_case("mark", [".", ","])
    def test_a_written_list_reads_back_as_it_was(self, mark):
        for content in (csv_bytes(csv_text(self.ROWS, mark=mark)), written_book(self.ROWS)):
            tie, tag = read(content, mark).lines
            assert (tie.price, tie.stock, tag.price) == (Decimal("12.5"), 3, None)
            assert (tie.kept, tag.kept) == ((("remark", "=1+1"),), (("remark", "@cell; -5"),))

    @settings(max_examples=15)
    @given(st.lists(st.text(max_size=20), min_size=20, max_size=40))
    def test_no_text_becomes_a_formula(self, texts):
        """Hundreds of texts, for a workbook costs more than its cells."""
        book = openpyxl.load_workbook(io.BytesIO(written_book([texts])), data_only=False)
        for cell in book.active[1]:
            assert cell.data_type != "f"
            assert str(cell.value or "")[:1] not in tuple("=+-@")
        for cell in next(csv.reader(io.StringIO(csv_text([texts]), newline=""))):
            assert cell[:1] not in tuple("=+-@\t\r")
