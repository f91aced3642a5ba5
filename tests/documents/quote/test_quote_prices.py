"""What is printed adds up to the cent, and the shop's own business stays inside the shop."""

import re
import zipfile
from decimal import Decimal
from html.parser import HTMLParser

import pytest
from as_data import data_of
from every_case import every_case
from quote_sample import (
    ALTERED,
    CABLE_MARGIN,
    MARGIN,
    RATE,
    SALOON,
    VAN,
    own_rates,
    pdf_text,
    quoted,
    shop_in,
)

from upgrade_planner.comparison.results import Policy
from upgrade_planner.documents.quote.line_words import line_words
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop
from upgrade_planner.quote.priced import Section
from upgrade_planner.quote.rows import PART
from upgrade_planner.quote.supplies import supplies_of

POUNDS = re.compile(r"(\u2212?)£([\d,]+\.\d\d)")


class PriceTables(HTMLParser):
    """Rows of every price table, as texts of their cells."""

    def __init__(self):
        super().__init__()
        self.tables, self.is_inside, self.in_cell = [], False, False

    def handle_starttag(self, tag, attrs):
        if tag == "table":
            self.is_inside = "price" in (dict(attrs).get("class") or "").split()
            if self.is_inside:
                self.tables.append([])
        if self.is_inside and tag == "tr":
            self.tables[-1].append([])
        if self.is_inside and tag in ("td", "th"):
            self.tables[-1][-1].append("")
            self.in_cell = True

    def handle_endtag(self, tag):
        if tag in ("td", "th"):
            self.in_cell = False

    def handle_data(self, data):
        if self.is_inside and self.in_cell:
            self.tables[-1][-1][-1] += data


def price_tables(html):
    parser = PriceTables()
    parser.feed(html)
    return [[row for row in table[1:] if row] for table in parser.tables]


def pounds(text):
    sign, number = POUNDS.fullmatch(text).groups()
    return Decimal(number.replace(",", "")) * (-1 if sign else 1)


def euros(text):
    assert text.endswith("\u00a0€")
    return Decimal(text[:-2].replace(".", "").replace(",", ".").replace("\u2212", "-"))


def assert_adds_up(table, money, hours=Decimal):
    """As a customer with a pencil would."""
    names = [row[0] for row in table]
    net = next(n for n, name in enumerate(names) if name in ("Before tax", "Vor Steuer"))
    amounts = [money(row[2]) for row in table]
    assert sum(amounts[:net]) == amounts[net]
    assert sum(amounts[net:-1]) == amounts[-1]
    assert names[-1].startswith(("To pay", "Zu zahlen"))
    assert sum(hours(row[1]) for row in table[:net] if row[1]) == hours(table[net][1])


class TestPrintedSums:
    @every_case(
        ("job", "policy"),
        [(VAN, Policy.CLEAN), (SALOON, Policy.REVERSIBLE), (ALTERED, Policy.REVERSIBLE)],
    )
    def test_rows_add_up(self, tmp_path, job, policy):
        target = tmp_path / "quote.html"
        made = quoted(job, target, policy=policy)
        tables = price_tables(target.read_text(encoding="utf-8"))
        assert len(tables) == len(made.offers)
        for table, offer in zip(tables, made.offers, strict=True):
            assert_adds_up(table, pounds)
            assert pounds(table[-1][2]) == offer.own.expected.to_pay

    def test_pdf_prints_the_same_amounts(self, tmp_path):
        quoted(VAN, tmp_path / "quote.html")
        quoted(VAN, tmp_path / "quote.pdf")
        (table,) = price_tables((tmp_path / "quote.html").read_text(encoding="utf-8"))
        text = pdf_text(tmp_path / "quote.pdf").split("What it costs")[1].split("To pay")
        printed = [sign + number for sign, number in POUNDS.findall(text[0])]
        in_html = [s + n for row in table[:-1] for c in row for s, n in POUNDS.findall(c)]
        assert sorted(printed) == sorted(in_html)
        assert table[-1][2] in text[1]

    def test_another_currency_and_tax_for_each_line(self, tmp_path):
        shop = shop_in(
            tmp_path,
            "EUR",
            ('language = "en"', 'language = "de"'),
            ('rounding = "per total"', 'rounding = "per line"'),
            ('totals = "0.01"', 'totals = "0.05"'),
        )
        target = tmp_path / "quote.html"
        made = quoted(VAN, target, rates=shop / "rates.toml", prices=shop)
        (table,) = price_tables(target.read_text(encoding="utf-8"))
        assert_adds_up(table, euros, lambda text: Decimal(text.replace(",", ".")))
        assert made.offers[0].own.expected.to_pay % Decimal("0.05") == 0
        assert "£" not in target.read_text(encoding="utf-8")

    def test_options_are_totals_of_their_own(self, tmp_path):
        made = quoted(VAN, tmp_path / "quote.json")
        back, clean = made.view.offers[0].choices
        assert back.to_pay == made.view.offers[0].to_pay - Decimal("40.00")
        other = quoted(VAN, tmp_path / "clean.json", policy=Policy.CLEAN)
        assert clean.to_pay == other.view.offers[0].to_pay


class TestSupplies:
    def test_a_part_of_a_pack_costs_its_part(self, tmp_path):
        made = quoted(SALOON, tmp_path / "quote.json")
        prices = load_prices(shipped_shop())
        tie = next(s for s in made.offers[0].supplies if s.article.sort == "tie")
        line = next(line for line in prices.lines if line.sort == "tie")
        assert tie.cost == line.price / line.contains

    def test_open_lines_are_named_and_counted(self, tmp_path):
        target = tmp_path / "quote.pdf"
        made = quoted(SALOON, target)
        offer = made.view.offers[1]
        assert offer.open_words == "excluding 1 item without a price"
        text = pdf_text(target)
        assert f"To pay, {offer.open_words}" in text
        assert offer.open_items[0] in text

    def test_no_price_is_not_zero(self, tmp_path):
        made = quoted(SALOON, tmp_path / "quote.json")
        for offer in made.offers:
            bought = supplies_of(offer.plan, load_prices(shipped_shop()))
            priced = [line for line in offer.own.lines if line.section is Section.PARTS]
            assert len(bought) == len(priced) + len(offer.own.open_lines)
            assert all(line.amount > 0 for line in priced if line.unit_price > Decimal("0.01"))

    def test_parts_stand_by_name_and_small_items_together(self, tmp_path):
        made = quoted(VAN, tmp_path / "quote.json")
        words = [row.words for row in made.view.offers[0].price]
        for supply in made.offers[0].supplies:
            assert (words_of(supply.article) in words) == (supply.article.sort == PART)


class TestSecrets:
    @pytest.fixture(scope="class")
    @staticmethod
    def written(tmp_path_factory):
        folder = tmp_path_factory.mktemp("secret")
        rates = own_rates(folder)
        made = [
            quoted(
                SALOON,
                folder / f"quote.{suffix}",
                rates=rates,
                internal=folder / f"internal_{suffix}.json",
            )
            for suffix in ("pdf", "html", "json", "xlsx")
        ]
        return folder, made[0]

    @staticmethod
    def text_of(path):
        """Everything that can be read in a file, what is packed unpacked."""
        match path.suffix:
            case ".pdf":
                return pdf_text(path) + path.read_bytes().decode("latin-1")
            case ".xlsx":
                with zipfile.ZipFile(path) as packed:
                    parts = [packed.read(name).decode() for name in packed.namelist()]
                return re.sub(r"<pageMargins[^>]*>", "", "\n".join(parts))
            case ".html":
                html = path.read_text(encoding="utf-8")
                return re.sub(r"<style>.*?</style>", "", html, flags=re.DOTALL)
        return path.read_text(encoding="utf-8")

    @pytest.mark.parametrize("suffix", ["pdf", "html", "json", "xlsx"])
    def test_no_margin_no_cost_no_rate(self, written, suffix):
        folder, made = written
        text = self.text_of(folder / f"quote.{suffix}")
        assert "Distributor with trigger module" in text or suffix == "pdf"
        assert made.view.letterhead.name in text
        for secret in (MARGIN, CABLE_MARGIN, RATE):
            assert secret not in text
        for offer in made.offers:
            for amount in (offer.own.cost, offer.own.margin):
                assert str(amount) not in text
                assert f"{amount:,}" not in text
            alternator = [
                line
                for line in offer.own.lines
                if line_words(line, speech_of("en")).startswith("Alternator")
            ]
            for line in alternator:
                assert str(line.cost) not in text
                assert str(line.margin) not in text
        for word in ("margin", "cost_", '"cost"', "mark-up"):
            assert word not in text.lower()

    def test_the_same_figures_are_found_where_they_belong(self, written):
        """The search above can find something."""
        folder, made = written
        text = (folder / "internal_pdf.json").read_text(encoding="utf-8")
        assert RATE in text
        assert str(made.offers[0].own.cost) in text
        assert str(made.offers[0].own.margin) in text

    def test_internal_lines_add_up(self, written):
        folder, _ = written
        data = data_of((folder / "internal_json.json").read_text(encoding="utf-8"))
        for offer in data["offers"]:
            sums = {row["words"]: Decimal(row["amount"]) for row in offer["sums"]}
            lines = offer["lines"]
            assert sum(Decimal(line["amount"]) for line in lines) == sums["Before tax"]
            for name in ("cost", "margin"):
                total = sum(Decimal(line[name]) for line in lines if line[name] is not None)
                assert (
                    total == sums[f"{name.capitalize()} {'of' if name == 'cost' else 'on'} parts"]
                )
