"""Cable by the reel as cut or as sold; what whole packs hold beyond the need, and who pays it."""

from decimal import Decimal

import pytest
from attrs import evolve
from every_case import every_case
from pair_facts import planned

from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.kit.articles import article
from upgrade_planner.kit.matching import match
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_lines import price_list
from upgrade_planner.kit.prices.price_list import SoldBy
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop
from upgrade_planner.kit.selling import sale
from upgrade_planner.quote.supplies import supplies_of

RED = article("cable", size="12 SAE", insulation="GXL", colour="RD")
LIST = """\
article,size,insulation,colour,sold_by,contains,minimum,price,stock,reels,number
cable,12 SAE,GXL,RD,reel,30 m,,32.54,1,7.4,C1
"""


def line(*, cuts_reels):
    style = ListStyle(currency="EUR", cuts_reels=cuts_reels)
    return match(RED, price_list(table_of("list.csv", LIST.encode()), style)).line


class TestReels:
    def test_as_cut_the_length_is_sold(self):
        sold = sale(line(cuts_reels=True), Decimal("0.74"), [Decimal("0.74")])
        assert (sold.units, sold.line.sold_by, sold.amount) == (
            Decimal("0.74"),
            SoldBy.METRE,
            Decimal("0.80"),
        )
        assert sold.off_cut == 0

    def test_as_sold_a_whole_reel(self):
        sold = sale(line(cuts_reels=False), Decimal("0.74"), [Decimal("0.74")])
        assert (sold.units, sold.amount) == (1, Decimal("32.54"))

    @every_case("cuts_reels", [True, False])
    def test_a_piece_that_no_reel_holds_is_open(self, cuts_reels):
        long = Decimal(31)
        assert sale(line(cuts_reels=cuts_reels), long, [long]) is None

    def test_the_setting_is_that_of_the_shop(self, tmp_path):
        (tmp_path / "list.csv").write_text(LIST)
        for word, wanted in (("as cut", True), ("as sold", False)):
            settings = f'[prices]\nfile = "list.csv"\ncurrency = "EUR"\nreels = "{word}"\n'
            (tmp_path / "shop.toml").write_text(settings)
            assert load_prices(tmp_path).lines[0].is_cut_to_length is wanted


@pytest.fixture
def plan():
    return planned("van_original_resistance", "van_upgraded")


class TestRests:
    def empty(self, prices):
        lines = (evolve(one, stock=Decimal(0), reels=()) for one in prices.lines)
        return evolve_list(prices, tuple(lines))

    def test_what_is_charged_and_what_is_left_are_what_is_sold(self, plan):
        """The kit sells whole units; the quotation what is used: the rest is the difference."""
        from upgrade_planner.kit.materials import consumption
        from upgrade_planner.kit.orders import Job, Stage, order

        prices = load_prices(shipped_shop())
        used = tuple(m for taken in consumption(plan).values() for m in taken)
        lines = order([Job(name="x", stages=(Stage(materials=used),))], prices).lines
        bought = supplies_of(plan, prices)
        for one, supply in zip(lines, bought, strict=True):
            if one.sale and one.sale.amount is not None:
                charged = supply.quantity * supply.cost
                assert abs(charged + supply.rest - one.sale.amount) <= Decimal("0.006")
        assert sum(supply.rest for supply in bought) > 1

    def test_only_what_is_not_on_the_shelf_is_charged_whole(self, plan):
        prices = load_prices(shipped_shop())
        full = {one.article: one for one in supplies_of(plan, prices, charges_rests=True)}
        plain = {one.article: one for one in supplies_of(plan, prices)}
        for one, supply in full.items():
            assert supply.quantity >= plain[one].quantity
            if not supply.is_bought:
                assert supply == plain[one]

    def test_with_an_empty_shelf_nothing_is_left_uncharged(self, plan):
        prices = self.empty(load_prices(shipped_shop()))
        rests = [one.rest for one in supplies_of(plan, prices, charges_rests=True)]
        assert sum(rests) <= Decimal("0.05")
        assert sum(one.rest for one in supplies_of(plan, prices)) > 10


def evolve_list(prices, lines):
    return type(prices)(prices.file, prices.currency, lines, prices.columns)


def test_the_tax_class_of_every_article_is_that_of_its_row():
    plan = planned("van_original_resistance", "van_upgraded")
    prices = load_prices(shipped_shop())
    lines = tuple(evolve(one, tax_class=f"class {one.line}") for one in prices.lines)
    by_number = {one.tax_class: one for one in lines}
    for supply in supplies_of(plan, evolve_list(prices, lines)):
        found = match(supply.article, evolve_list(prices, lines)).line
        assert by_number[supply.tax_class] is found
