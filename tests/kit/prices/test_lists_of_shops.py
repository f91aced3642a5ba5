"""Lists as shops export them: other goods, several lines, bad rows, titles, marks, encodings."""

import io
from decimal import Decimal

import openpyxl
import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.configuration.tables.csv_files import csv_text
from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.kit.articles import article
from upgrade_planner.kit.matching import match
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_lines import price_list
from upgrade_planner.kit.prices.price_list import SoldBy
from upgrade_planner.kit.prices.price_numbers import mark_of, number_of, without_currency
from upgrade_planner.kit.prices.shop_files import load_prices

HEADER = "article,size,insulation,colour,sold_by,price,stock,number"
RED = article("cable", size="12 SAE", insulation="GXL", colour="RD")
TIE = article("tie")


def read(text, *, is_strict=False, **style):
    content = text if isinstance(text, bytes) else text.encode()
    settings = ListStyle(**{"currency": "EUR", **style})
    return price_list(table_of("list.csv", content), settings, is_strict=is_strict)


def rows(*texts, header=HEADER, **how):
    return read("\n".join([header, *texts]), **how)


GOOD = "tie,,,,each,1,9,T1"


class TestOtherGoods:
    def test_are_skipped_and_counted_even_strictly(self):
        prices = rows(GOOD, "oil filter,,,,each,9,1,F7", ",,,,each,9,1,F8", "mug,,,,,,,")
        assert (prices.foreign_rows, len(prices.lines), prices.warnings) == (3, 1, ())
        assert rows(GOOD, "oil filter,,,,each,9,1,F7", is_strict=True).foreign_rows == 1

    def test_a_word_that_is_only_misspelt_is_told(self):
        prices = rows(GOOD, "cabel,12 SAE,GXL,RD,metre,1,3,C1")
        assert prices.foreign_rows == 0
        assert "'cable'" in prices.warnings[0].expected

    @every_case("text", [HEADER, f"{HEADER}\nmug,,,,each,1,1,M1"])
    def test_a_list_of_nothing_of_ours_is_refused(self, text):
        with pytest.raises(ConfigurationError, match="column"):
            read(text)


class TestBadRows:
    @every_case(
        ("row", "subject"),
        [
            ("cable,12 SAE,GXL,RD,metre,cheap,40,C1", "price"),
            ("cable,12 SAE,GXL,RD,metre,1.85,-3,C1", "stock"),
            ("cable,12 SAE,GXL,RD,metre,0,40,C1", "price"),
        ],
    )
    def test_become_an_open_line_with_a_warning(self, row, subject):
        prices = rows(GOOD, row)
        assert [one.subject for one in prices.warnings] == [subject]
        found = match(RED, prices)
        assert found.line.number == "C1"
        assert found.is_open

    @every_case(
        "row",
        [
            "cable,12,GXL,RD,metre,1.85,40,C1",
            "cable,12 SAE,GXL,RD,yard,1.85,40,C1",
            "cable,12 SAE,GXL,RD,metre,1.85,40,",
            "cable,12 SAE,GXL,RD,metre,1.85,40,=1+1",
        ],
    )
    def test_that_nobody_can_place_are_left_out_with_a_warning(self, row):
        prices = rows(GOOD, row)
        assert len(prices.warnings) == 1
        assert match(RED, prices).line is None

    def test_one_number_for_two_articles_leaves_both_open(self):
        prices = rows(GOOD, "tag,,,,each,2,9,T1")
        assert [line.price for line in prices.lines] == [None, None]

    def test_are_refused_strictly(self):
        with pytest.raises(ConfigurationError):
            rows(GOOD, "cable,12,GXL,RD,metre,1,1,C1", is_strict=True)


class TestSeveralLinesForAnArticle:
    def test_what_the_shelf_has_comes_before_what_is_cheaper(self):
        prices = rows("tie,,,,each,1,0,T1", "tie,,,,each,3,9,T2", "tie,,,,each,2,9,T3")
        assert match(TIE, prices).line.number == "T3"

    def test_what_is_enough_comes_before_what_is_not(self):
        prices = rows("tie,,,,each,1,2,T1", "tie,,,,each,3,9,T2")
        assert match(TIE, prices, Decimal(5)).line.number == "T2"
        assert match(TIE, prices, Decimal(2)).line.number == "T1"

    def test_the_cheapest_is_that_for_the_quantity(self):
        header = f"{HEADER},contains"
        prices = rows("tie,,,,each,0.10,99,T1,", "tie,,,,pack,4,5,T2,100", header=header)
        assert match(TIE, prices, Decimal(3)).line.number == "T1"
        assert match(TIE, prices, Decimal(80)).line.number == "T2"

    def test_one_number_may_stand_at_several_lines_of_one_article(self):
        prices = rows("tie,,,,each,3,9,T1", "tie,,,,each,2,9,T1")
        assert prices.warnings == ()
        assert match(TIE, prices).line.price == 2


class TestTexts:
    @every_case("text", ["auf Anfrage", "On Request", "POA", "-", "sur demande", ""])
    def test_on_request_is_an_open_price_and_no_fault(self, text):
        prices = rows(f"tie,,,,each,{text},9,T1")
        assert prices.warnings == ()
        assert match(TIE, prices).is_open

    @every_case("note", ["- see drawer 4", "-", "+ washer", "-5"])
    def test_a_note_may_begin_with_a_dash(self, note):
        prices = rows(f"{GOOD},{note}", header=f"{HEADER},note")
        assert prices.warnings == ()
        assert prices.lines[0].kept == (("note", note),)

    @every_case("note", ["=HYPERLINK(A1)", "@SUM(A1)"])
    def test_a_formula_in_a_note_is_left_out_and_the_price_stays(self, note):
        prices = rows(f"{GOOD},{note}", header=f"{HEADER},note")
        assert prices.lines[0].kept == (("note", ""),)
        assert prices.lines[0].price == 1
        assert len(prices.warnings) == 1

    def test_titles_and_words_of_the_shop_are_those_of_its_settings(self):
        prices = read(
            "Art.-Nr.;Artikel;VE;Preis;Bestand\nT1;Kabelbinder;Stück;1,5;9",
            columns={
                "art.-nr.": "number",
                "artikel": "article",
                "ve": "sold_by",
                "preis": "price",
                "bestand": "stock",
            },
            words={"kabelbinder": "tie", "stück": "each"},
        )
        (line,) = prices.lines
        assert (line.sort, line.sold_by, line.price) == ("tie", SoldBy.EACH, Decimal("1.5"))

    def test_two_titles_for_one_column_are_both_named(self):
        with pytest.raises(ConfigurationError, match="Preis") as caught:
            read(f"{HEADER},Preis\n{GOOD},2", columns={"preis": "price"})
        assert "'price'" in str(caught.value)

    def test_own_columns_are_printed_where_the_shop_says_so(self):
        prices = rows(f"{GOOD},dry,K7", header=f"{HEADER},Note,Key", printed=frozenset({"note"}))
        (line,) = prices.lines
        assert line.printed == (("Note", "dry"),)
        assert len(line.kept) == 2

    def test_lead_and_place_are_read(self):
        prices = rows(f"{GOOD},5 Tage,B 12", header=f"{HEADER},lead_days,shelf_place")
        assert (prices.lines[0].lead_days, prices.lines[0].shelf_place) == (5, "B 12")

    def test_a_lead_that_is_no_number_of_days_leaves_the_price(self):
        prices = rows(f"{GOOD},soon", header=f"{HEADER},lead_days")
        assert (prices.lines[0].lead_days, prices.lines[0].price) == (None, 1)
        assert prices.warnings[0].subject == "lead_days"


class TestNumbers:
    @every_case(
        ("text", "mark", "number"),
        [
            ("1.234,56", ",", "1234.56"),
            ("1,234.56", ".", "1234.56"),
            ("1 234,56", ",", "1234.56"),
            ("1\N{NARROW NO-BREAK SPACE}234,5", ",", "1234.5"),
            ("1'234.50", ".", "1234.50"),
            ("12345,678", ",", "12345.678"),
            ("0,123", ",", "0.123"),
        ],
    )
    def test_thousands_may_be_parted(self, text, mark, number):
        assert number_of(text, mark) == Decimal(number)

    @every_case(
        ("text", "mark"),
        [("12,50", "."), ("1.23,5", ","), ("0,123", "."), ("1,2,3", ","), ("", ".")],
    )
    def test_what_is_no_number_is_none(self, text, mark):
        assert number_of(text, mark) is None

    @every_case(
        ("text", "bare", "code"),
        [
            ("12,50 €", "12,50", "EUR"),
            ("£3.10", "3.10", "GBP"),
            ("EUR 12.50", "12.50", "EUR"),
            ("12.50GBP", "12.50", "GBP"),
            ("12,-", "12", ""),
            ("$4.20", "4.20", ""),
        ],
    )
    def test_currencies_are_taken_off(self, text, bare, code):
        assert without_currency(text) == (bare, code)

    @every_case(
        ("texts", "mark"),
        [
            (["12,50", "1"], ","),
            (["1.234,56"], ","),
            (["1,234.56"], "."),
            (["1.234.567"], ","),
            (["1,234", "7"], ""),
            (["1,5", "1.5"], ""),
            (["1,5", "2,5", "1.5"], ","),
        ],
    )
    def test_the_mark_is_what_most_numbers_show(self, texts, mark):
        assert mark_of(texts) == mark

    def test_a_number_that_may_be_two_is_open_not_guessed(self):
        prices = rows('tie,,,,each,"1,234",9,T1')
        assert "may be two numbers" in prices.warnings[0].found
        assert prices.lines[0].price is None

    def test_another_mark_than_the_rest_is_a_warning(self):
        text = f"{HEADER}\ntie,,,,each,1.5,9,T1\ntag,,,,each,2.5,9,G1\ngrommet,,,,each,x,9,Q1"
        prices = read(text.replace("2.5", '"2,5"').replace("x", "3.5"))
        assert [(one.line, one.subject) for one in prices.warnings] == [(3, "price")]

    def test_a_price_for_a_hundred(self):
        prices = rows(f"{GOOD},100", header=f"{HEADER},price_per")
        assert prices.lines[0].price == Decimal("0.01")

    @every_case("cell", ["1 $", "1 USD", "1 £"])
    def test_a_price_in_another_currency_is_open(self, cell):
        prices = rows(f"tie,,,,each,{cell},9,T1")
        assert (prices.lines[0].price is None) == (cell != "1 $")

    @given(st.decimals(min_value="0.01", max_value="9999999", places=2), st.sampled_from(".,"))
    def test_every_style_of_a_number_reads_back(self, value, mark):
        text = f"{value:,.2f}".replace(",", "_").replace(".", mark).replace("_", ".,"[mark == "."])
        assert number_of(text, mark) == value


class TestEncodings:
    TEXT = "article;size;insulation;colour;sold_by;price;stock;number;note\n" + (
        "cable;2,5 mm²;PVC;RD;metre;0,89 €;12;C1;für Öl"
    )

    @every_case("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
    def test_are_recognised(self, encoding):
        (line,) = read(self.TEXT.encode(encoding)).lines
        assert line.traits["size"] == "2.5 mm²"
        assert line.price == Decimal("0.89")
        assert line.kept == (("note", "für Öl"),)

    def test_a_spoilt_utf_8_list_is_not_taken_for_another(self):
        content = self.TEXT.encode().replace("ü".encode(), "ü".encode() + b"\xff")
        with pytest.raises(ConfigurationError, match="UTF-8"):
            read(content)

    def test_others_by_their_name(self, tmp_path):
        (tmp_path / "list.csv").write_bytes(self.TEXT.replace(" €", "").encode("cp850"))
        settings = '[prices]\nfile = "list.csv"\ncurrency = "EUR"\nencoding = "cp850"\n'
        (tmp_path / "shop.toml").write_text(settings)
        assert load_prices(tmp_path).lines[0].kept == (("note", "für Öl"),)


class TestUnknownTraits:
    @every_case(
        ("columns", "cells", "nearest"),
        [
            ("stud,barrel", "M6,22-18 gauge", "22-16 gauge"),
            ("stud,barrel", "M6,1.5-2.4 mm²", "1.5-2.5 mm²"),
            ("stud,barrel", "M6,12 SEA,", ""),
        ],
    )
    def test_a_barrel_that_no_terminal_has_is_told(self, columns, cells, nearest):
        header = f"article,{columns},sold_by,price,stock,number"
        prices = rows(
            f"ring terminal,{cells},each,1,1,R1", GOOD.replace(",,,,", ",,,"), header=header
        )
        assert nearest in prices.warnings[0].expected

    def test_a_barrel_may_have_decimal_commas(self):
        text = 'article,stud,barrel,sold_by,price,stock,number\nring terminal,M6,"{}",each,1,1,R1'
        wanted = article("ring terminal", stud="M6", barrel="cable 1.5–2.5 mm² (blue)")
        for barrel in ("1,5–2,5 mm²", "1.5-2.5mm2", "cable 1,5-2,5 mm² (blue)"):
            assert match(wanted, read(text.format(barrel))).line.number == "R1"

    def test_a_style_that_no_fuse_has_is_told_with_the_nearest(self):
        header = "article,rating,style,sold_by,price,stock,number"
        prices = rows("fuse,15 A,blades,each,1,1,F1", header=header)
        assert "nearest: blade" in prices.warnings[0].expected


class TestSettings:
    @every_case(
        ("more", "found"),
        [
            ('[prices.columns]\nprise = "Preis"', "'prise'"),
            ('[prices.words]\nwood = "Holz"', "'wood'"),
            ('[prices.words]\ntie = "Band"\ntape = ["band", "Klebeband"]', "'band' for 'tie'"),
            ('[prices.columns]\nprice = ""', "price"),
        ],
    )
    def test_words_that_mean_nothing_or_two_things_are_refused(self, tmp_path, more, found):
        (tmp_path / "shop.toml").write_text(
            f'[prices]\nfile = "list.csv"\ncurrency = "EUR"\n{more}\n'
        )
        with pytest.raises(ConfigurationError, match=r"shop\.toml:\d") as caught:
            load_prices(tmp_path)
        assert found in str(caught.value)


CELLS = st.one_of(
    st.sampled_from(
        ["cable", "tie", "fuse", "metre", "pack", "12 SAE", "RD", "12,5", "1.234,56", "1,234", "-"]
    ),
    st.text(max_size=12),
)


@given(st.lists(st.lists(CELLS, min_size=8, max_size=14), min_size=1, max_size=6))
def test_whatever_stands_in_the_rows_a_list_comes_of_it_or_an_error_for_people(body):
    """Read as a shop reads it: nothing but open lines, warnings, skipped rows."""
    header = [*HEADER.split(","), "reels", "contains", "lead_days", "price_per", "shelf_place"]
    text = csv_text([header, *([*row, *[""] * 14][: len(header)] for row in body)])
    try:
        prices = read(text)
    except ConfigurationError as error:
        assert error.problems
        return
    for line in prices.lines:
        assert line.number
        assert line.price is None or line.price > 0
        assert not line.is_faulty or line.price is None
        match(article("tie"), prices, Decimal(3))
    assert len(prices.lines) + prices.foreign_rows <= len(body)


def test_texts_of_a_workbook_are_numbers_as_the_country_writes_them():
    book = openpyxl.Workbook()
    for row in (
        [*HEADER.split(","), "reels"],
        ["cable", "2,5 mm²", "PVC", "RD", "metre", "1.234,50 €", None, "C1", "12,5 30"],
        ["cable", "4 mm²", "PVC", "RD", "metre", 2.5, 12.25, 1002, 12.25],
    ):
        book.active.append(row)
    content = io.BytesIO()
    book.save(content)
    prices = read(content.getvalue(), is_strict=True)
    first, second = prices.lines
    assert (first.price, first.in_stock) == (Decimal("1234.50"), Decimal("42.5"))
    assert (second.price, second.in_stock, second.number) == (
        Decimal("2.5"),
        Decimal("12.25"),
        "1002",
    )
