"""The line for an article, what may stand in for it, and what never may."""

from decimal import Decimal

from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st
from us_words import metric_figures

from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.configuration.values.insulation import insulations, parse_insulation
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.documents.kit.kit_words import alternative_words
from upgrade_planner.kit.articles import article
from upgrade_planner.kit.matching import match
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_lines import price_list
from upgrade_planner.kit.selling import sale
from upgrade_planner.kit.substitutes import MOST_LARGER, objection


def prices(*rows, columns="article,size,insulation,colour,sold_by,price,stock,number"):
    text = "\n".join([columns, *rows])
    return price_list(table_of("list.csv", text.encode()), ListStyle(currency="EUR", mark="."))


def cable(size="12 SAE", insulation="GXL", colour="RD"):
    return article("cable", size=size, insulation=insulation, colour=colour)


def numbers(found):
    return [alternative.line.number for alternative in found.alternatives]


class TestFitting:
    LIST = (
        "cable,12 SAE,,,metre,1,9,any",
        "cable,12 SAE,GXL,,metre,1,9,any-colour",
        "cable,12 SAE,GXL,RD,metre,1,9,exact",
    )

    @every_case(
        ("wanted", "number"),
        [
            (cable(), "exact"),
            (cable(colour="BU"), "any-colour"),
            (cable(insulation="SXL"), "any"),
        ],
    )
    def test_the_line_that_states_most_wins(self, wanted, number):
        assert match(wanted, prices(*self.LIST)).line.number == number

    def test_of_two_that_state_as_much_one_with_a_price_wins(self):
        found = prices("cable,12 SAE,GXL,,metre,,9,no-price", "cable,12 SAE,,RD,metre,1,0,price")
        assert match(cable(), found).line.number == "price"

    @every_case("barrel", ["CABLE 12-10 gauge  (yellow)", "12–10 Gauge"])
    def test_the_spelling_of_a_barrel_does_not_matter(self, barrel):
        found = prices(
            f"ring terminal,M6,{barrel},each,1,9,R1",
            columns="article,stud,barrel,sold_by,price,stock,number",
        )
        wanted = article(
            "ring terminal", stud="M6", barrel="cable 12–10\N{NO-BREAK SPACE}gauge (yellow)"
        )
        assert match(wanted, found).line.number == "R1"

    def test_what_is_not_in_the_list_or_has_no_price_is_open(self):
        assert match(cable(), prices("tie,,,,each,1,1,T")).is_open
        assert match(cable(), prices("cable,12 SAE,GXL,RD,metre,,9,C")).is_open

    def test_what_is_enough_has_no_alternatives(self):
        found = match(cable(), prices(*self.LIST), Decimal(9))
        assert found.alternatives == ()
        assert match(cable(), prices(*self.LIST), Decimal("9.01")).line == found.line


class TestAlternatives:
    def test_the_next_larger_cable_of_the_same_terminals_is_told_with_both_areas(self):
        found = match(
            cable(),
            prices("cable,10 SAE,GXL,RD,metre,1,9,ten", "cable,14 SAE,GXL,RD,metre,1,9,fourteen"),
        )
        (only,) = found.alternatives
        assert only.line.number == "ten"
        assert "next larger cable, 10 SAE (4.73 mm²) for 12 SAE (2.96 mm²)" in alternative_words(
            only
        ).replace("\u00a0", " ")
        assert metric_figures(alternative_words(only, "us")) == []
        assert not only.needs_other_terminals

    def test_a_larger_cable_that_its_terminal_does_not_take_says_so(self):
        found = match(cable("14 SAE"), prices("cable,12 SAE,GXL,RD,metre,1,9,twelve"))
        assert found.alternatives[0].needs_other_terminals
        assert "terminals for 12 SAE are needed" in alternative_words(found.alternatives[0])

    def test_another_colour_is_tagged_and_the_same_main_colour_comes_first(self):
        found = match(
            cable(),
            prices(
                "cable,12 SAE,GXL,BU,metre,1,9,blue", "cable,12 SAE,GXL,RD/WH,metre,1,9,red-white"
            ),
        )
        assert numbers(found) == ["red-white", "blue"]
        assert all(one.is_tagged for one in found.alternatives)
        assert "tag both ends RD" in alternative_words(found.alternatives[0])

    @every_case(("wanted", "offered"), [("RD", "BK"), ("BK/WH", "RD"), ("GN", "GNYE")])
    def test_a_colour_that_misleads_is_not_offered(self, wanted, offered):
        list_of_one = prices(f"cable,12 SAE,GXL,{offered},metre,1,9,C")
        assert match(cable(colour=wanted), list_of_one).alternatives == ()

    def test_better_insulation_serves_and_worse_does_not(self):
        found = match(
            cable(),
            prices("cable,12 SAE,GPT,RD,metre,1,9,cooler", "cable,12 SAE,SXL,RD,metre,1,9,equal"),
        )
        assert numbers(found) == ["equal"]

    def test_a_line_for_any_insulation_is_no_larger_cable(self):
        assert match(cable(), prices("cable,10 SAE,,RD,metre,1,9,ten")).alternatives == ()

    def test_what_is_out_of_stock_or_without_price_is_not_offered(self):
        found = match(
            cable(),
            prices("cable,12 SAE,GXL,BU,metre,1,0,none", "cable,12 SAE,GXL,WH,metre,,9,no-price"),
        )
        assert found.alternatives == ()

    def test_the_choice_of_the_shop_comes_first(self):
        columns = "article,size,insulation,colour,sold_by,price,stock,number,alternative"
        found = match(
            cable(),
            prices(
                "cable,12 SAE,GXL,RD,metre,1,0,C,ten",
                "cable,12 SAE,GXL,BU,metre,1,9,blue,",
                "cable,10 SAE,GXL,WH,metre,1,9,ten,",
                columns=columns,
            ),
        )
        assert numbers(found) == ["ten", "blue"]
        assert alternative_words(found.alternatives[0]).startswith("the shop's own alternative")

    def test_heat_shrink_of_the_next_bore_serves_only_if_it_shrinks_enough(self):
        found = match(
            article("heat-shrink", bore="6.4 mm"),
            prices(
                "heat-shrink,9.5 mm,metre,1,9,two,2:1",
                "heat-shrink,8.4 mm,metre,1,9,four,4",
                "heat-shrink,9.6 mm,metre,1,9,three,3:1",
                "heat-shrink,4.8 mm,metre,1,9,less,4:1",
                "heat-shrink,9 mm,metre,1,9,unknown,",
                columns="article,bore,sold_by,price,stock,number,ratio",
            ),
        )
        assert numbers(found) == ["four"]

    @every_case(
        ("wanted", "columns", "row"),
        [
            (article("fuse", rating="15 A", style="blade"), "rating,style", "fuse,20 A,blade"),
            (article("fuse", rating="15 A", style="blade"), "rating,style", "fuse,10 A,blade"),
            (article("ring terminal", stud="M6", barrel="x"), "stud,barrel", "ring terminal,M8,x"),
            (
                article("ring terminal", stud="M8", barrel="x"),
                "stud,barrel",
                "ring terminal,5/16 in,x",
            ),
            (
                article("battery clamp", post="positive", barrel="x"),
                "post,barrel",
                "battery clamp,negative,x",
            ),
            (
                article("fusible link", size="16 SAE", colour="BN"),
                "size,colour",
                "fusible link,14 SAE,BN",
            ),
            (
                article("fusible link", size="16 SAE", colour="BN"),
                "size,colour",
                "fusible link,16 SAE,BU",
            ),
            (
                article("blade receptacle", blade="6.3 mm", barrel="x"),
                "blade,barrel",
                "blade receptacle,4.8 mm,x",
            ),
            (
                article("part", kind="relay", rating="30 A", name="Relay"),
                "kind,rating,name",
                "part,relay,40 A,Relay",
            ),
        ],
    )
    def test_what_may_never_differ_is_neither_fitting_nor_an_alternative(
        self, wanted, columns, row
    ):
        columns = f"article,{columns},sold_by,price,stock,number"
        unit = "each" if wanted.unit == "each" else "metre"
        found = match(wanted, prices(f"{row},{unit},1,9,X", columns=columns))
        assert found.line is None
        assert found.alternatives == ()


sizes = st.sampled_from(
    ["18 SAE", "14 SAE", "12 SAE", "12 AWG", "10 SAE", "2.5 mm²", "4 mm²", "8 SAE"]
)
coats = st.sampled_from([insulation.name for insulation in insulations()])
colours = st.sampled_from(["RD", "BK", "BU", "GN/WH", "RD/WH"])
cables = st.tuples(sizes, coats, colours)


@given(cables, st.lists(cables, unique=True, min_size=1, max_size=25))
def test_no_alternative_is_a_smaller_or_a_cooler_cable(wanted, offered):
    rows = [f"cable,{','.join(traits)},metre,1,9,C{n}" for n, traits in enumerate(offered)]
    found = match(cable(*wanted), prices(*rows))
    size, coat = parse_wire_size(wanted[0]), parse_insulation(wanted[1])
    for one in found.alternatives:
        traits = one.line.traits
        assert size <= parse_wire_size(traits["size"])
        assert parse_wire_size(traits["size"]).area_mm2 <= MOST_LARGER * size.area_mm2
        assert parse_insulation(traits["insulation"]).rated_c >= coat.rated_c
        assert one.is_tagged == (traits["colour"] != wanted[2])
        assert alternative_words(one)
    assert (wanted in offered) == (found.line is not None)


def test_a_link_coat_stands_in_for_no_other():
    assert objection("cable", {"insulation": "GPT"}, {"insulation": "LINK"})


class TestSelling:
    def line(self, row, columns="sold_by,contains,minimum,price,stock,number", sort="tie"):
        return prices(f"{sort},{row}", columns=f"article,{columns}").lines[0]

    @every_case(
        ("row", "needed", "units", "off_cut", "amount"),
        [
            ("pack,25,,4.10,3,T", 26, 2, 24, "8.20"),
            ("pack,25,,4.10,3,T", 25, 1, 0, "4.10"),
            ("each,,5,0.45,3,T", 2, 5, 3, "2.25"),
            ("each,,5,0.45,3,T", 0, 0, 0, "0.00"),
            ("each,,,0.335,3,T", 1, 1, 0, "0.34"),
        ],
    )
    def test_pieces_are_rounded_up_to_selling_units(self, row, needed, units, off_cut, amount):
        sold = sale(self.line(row), Decimal(needed))
        assert (sold.units, sold.off_cut, sold.amount) == (units, off_cut, Decimal(amount))

    def test_feet_are_never_short(self):
        line = self.line(
            "12 SAE,GXL,RD,foot,,,1,9,C",
            "size,insulation,colour,sold_by,contains,minimum,price,stock,number",
            "cable",
        )
        assert sale(line, Decimal("3.048")).units == 10
        sold = sale(line, Decimal("3.049"))
        assert sold.units == Decimal("10.01")
        assert sold.quantity == Decimal("3.051048")

    def test_reels_are_counted_by_what_can_be_cut_from_them(self):
        line = self.line(
            "12 SAE,GXL,RD,reel,10,,20,9,C",
            "size,insulation,colour,sold_by,contains,minimum,price,stock,number",
            "cable",
        )
        assert sale(line, Decimal(28)).units == 3
        assert sale(line, Decimal(28), [Decimal(4)] * 7).units == 4
        assert sale(line, Decimal(11), [Decimal(11)]) is None

    def test_no_price_is_no_amount(self):
        assert sale(self.line("each,,,,3,T"), Decimal(1)).amount is None

    @given(st.integers(0, 10**7), st.integers(1, 500), st.integers(0, 40), st.integers(1, 10**6))
    def test_enough_is_bought_and_never_a_unit_too_many(self, needed, holds, minimum, cents):
        line = self.line(f"pack,{holds},{minimum},{Decimal(cents) / 100},1,T")
        sold = sale(line, Decimal(needed))
        assert sold.off_cut >= 0
        assert sold.units in (0, minimum) or sold.off_cut < holds
        assert sold.amount == sold.units * Decimal(cents) / 100

    @given(st.decimals(0, 10**6, places=4))
    def test_metres_and_feet_are_bought_to_the_hundredth_above(self, needed):
        for unit, holds in (("metre", Decimal(1)), ("foot", Decimal("0.3048"))):
            line = self.line(f"{unit},,,1.13,1,T", sort="tape")
            sold = sale(line, needed)
            assert 0 <= sold.off_cut < holds / 100
            assert sold.units == round(sold.units, 2)
