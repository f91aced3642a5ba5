"""What is missing goes to the suppliers: all of it, once, with their own numbers."""

import csv
import datetime
import io
from collections import Counter
from decimal import Decimal

import pytest
from every_case import every_case
from quote_sample import pdf_text, shop_in

from upgrade_planner.errors import PlannerError
from upgrade_planner.jobs.kit import KitRequest, OrderedUpgrade, kit
from upgrade_planner.kit.prices.price_list import SoldBy

DAY = datetime.date(2026, 3, 2)
PAIR = ("van_as_found", "van_upgraded")


def ordered(folder, name, *, times=6, prices=None):
    pairs = (OrderedUpgrade(configurations=PAIR, times=times),)
    return kit(
        KitRequest(
            pairs=pairs,
            target=folder / "k.json",
            to_order=folder / name,
            issued=DAY,
            prices=prices,
        )
    )


def rows_of(path, separator=","):
    text = path.read_text(encoding="utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline=""), delimiter=separator))


def german(folder, *changes):
    shop = shop_in(folder, "EUR", ('language = "en"', 'language = "de"'))
    path = shop / "prices.csv"
    text = path.read_text(encoding="utf-8-sig")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")
    return shop


class TestRows:
    def test_every_line_that_lacks_something_stands_once(self, tmp_path):
        order = ordered(tmp_path, "o.csv").order
        rows = rows_of(tmp_path / "o.csv")
        lacking = {one.line.number: one for one in order.lines if one.missing > 0 and one.line}
        assert lacking
        assert Counter(row["number"] for row in rows) == Counter(list(lacking))
        for row in rows:
            line = lacking[row["number"]]
            assert Decimal(row["quantity"]) * line.line.contains >= line.missing
            assert Decimal(row["missing"]) == line.missing
            assert row["supplier"] == line.line.supplier
            assert row["supplier number"] == line.line.supplier_number
            if line.line.sold_by not in (SoldBy.METRE, SoldBy.FOOT):
                assert Decimal(row["quantity"]) % 1 == 0

    def test_suppliers_stand_together_those_without_a_name_last(self, tmp_path):
        ordered(tmp_path, "o.csv")
        names = [row["supplier"] for row in rows_of(tmp_path / "o.csv")]
        assert list(dict.fromkeys(names)) == sorted(set(names), key=lambda name: (not name, name))
        assert len(dict.fromkeys(names)) > 2

    def test_a_german_list_has_commas(self, tmp_path):
        ordered(tmp_path, "o.csv", prices=german(tmp_path))
        rows = rows_of(tmp_path / "o.csv", ";")
        assert any("," in row["price"] for row in rows)
        assert all(row["currency"] == "EUR" for row in rows)
        assert any(row["article"].startswith("Leitung, ") for row in rows)

    @every_case("name", ["=1+1", "@SUM(A1)", "+1 Parts", "-Parts"])
    def test_a_supplier_that_is_a_formula_is_none(self, tmp_path, name):
        shop = german(tmp_path, ("Invented Parts Exchange", name))
        ordered(tmp_path, "o.csv", prices=shop)
        cells = [cell for row in rows_of(tmp_path / "o.csv", ";") for cell in row.values()]
        assert not [cell for cell in cells if cell.startswith(tuple("=@+-"))]

    def test_what_the_list_has_not_stands_there_without_a_price(self, tmp_path):
        shop = german(tmp_path, ("Invented Parts Exchange", "=1+1"))  # a row that is refused
        order = ordered(tmp_path, "o.csv", prices=shop).order
        lacking = [one for one in order.lines if one.missing > 0 or one.line is None]
        rows = rows_of(tmp_path / "o.csv", ";")
        assert len(rows) == len(lacking)
        assert sum(not row["number"] for row in rows) == sum(one.line is None for one in lacking)


class TestPaper:
    def test_each_supplier_has_a_page_with_his_numbers(self, tmp_path):
        order = ordered(tmp_path, "o.pdf", prices=german(tmp_path)).order
        text = " ".join(pdf_text(tmp_path / "o.pdf").split())
        assert "An Invented Parts Exchange" in text
        assert text.count("Unser Zeichen: KT-") == len(
            {one.line.supplier for one in order.lines if one.missing > 0 and one.line}
        )
        for one in order.lines:
            if one.missing > 0 and one.line:
                assert one.line.number in text
                assert one.line.supplier_number in text
        assert "2. März 2026" in text

    def test_nothing_missing_says_so(self, tmp_path):
        shop = german(tmp_path)
        path = shop / "prices.csv"
        rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline="")))
        stock, reels = rows[0].index("stock"), rows[0].index("reels")
        for row in rows[1:]:
            row[stock], row[reels] = "999", ""
        out = io.StringIO(newline="")
        csv.writer(out).writerows(rows)
        path.write_text(out.getvalue(), encoding="utf-8")
        ordered(tmp_path, "o.html", prices=shop, times=1)
        assert "Es fehlt nichts." in (tmp_path / "o.html").read_text(encoding="utf-8")


@every_case("name", ["o.xlsx", "k.json"])
def test_other_files_are_refused(tmp_path, name):
    with pytest.raises(PlannerError):
        ordered(tmp_path, name)
    assert not list(tmp_path.iterdir())
