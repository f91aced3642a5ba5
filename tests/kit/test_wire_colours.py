"""No live wire gets the colour of a vehicle's grounds, and mains keep their own."""

from decimal import Decimal

import pytest
from attrs import evolve
from every_case import every_case
from pair_facts import planned

from upgrade_planner.configuration.values.colours import Colour
from upgrade_planner.kit.articles import article
from upgrade_planner.kit.matching import match
from upgrade_planner.kit.materials import consumption
from upgrade_planner.kit.packing import PlannedJob, packed
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_list import PriceList
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop
from upgrade_planner.kit.substitutes import ColourRule
from upgrade_planner.kit.wire_colours import OWN_MAIN, ground_colours

PAIRS = [
    ("van_original_resistance", "van_upgraded"),
    ("launch_original", "launch_complete"),
    ("six_volt_tractor_original", "six_volt_tractor_twelve"),
]


def without(prices, colours):
    """The list with no cable of some main colours on the shelf."""
    lines = (
        evolve(line, stock=Decimal(0), reels=())
        if line.sort == "cable" and line.traits["colour"].split("/")[0] in colours
        else line
        for line in prices.lines
    )
    return PriceList(prices.file, prices.currency, tuple(lines), prices.columns)


def main(code):
    return code.split("/", 1)[0]


@pytest.fixture(scope="module", params=PAIRS, ids=lambda pair: pair[1])
def plan(request):
    return planned(*request.param)


@every_case("short", [("RD",), ("BK",), ("YE", "BU"), ("GN", "WH")])
def test_no_alternative_has_a_colour_of_the_grounds_of_that_vehicle(plan, short):
    job = PlannedJob(plans=(plan,), used=(consumption(plan),), times=1)
    kit = packed((job,), without(load_prices(shipped_shop()), short), takes_alternatives=True)
    sides = (plan.comparison.before, plan.comparison.after)
    grounds = frozenset().union(*map(ground_colours, sides))
    assert grounds
    mains = {
        material.article
        for found in consumption(plan).values()
        for material in found
        if any(wire.circuit in OWN_MAIN and wire.id in material.wires for wire in sides[1].wires)
    }
    for line in kit.order.lines:
        for one in (*line.alternatives, *line.stand_ins):
            for other in one.otherwise:
                if other.trait == "colour" and main(other.offered) != main(other.wanted):
                    assert main(other.offered) not in grounds
                    assert not mains & set(line.articles)


def test_a_wire_to_the_metal_and_the_grounded_battery_cable_are_grounds():
    boat = planned("launch_original", "launch_complete").comparison.before
    assert ground_colours(boat) == {"BK"}
    yellow = tuple(
        evolve(wire, colour=Colour("YE")) if wire.circuit == "ground" else wire
        for wire in boat.wires
    )
    assert ground_colours(evolve(boat, wires=yellow)) == {"BK", "YE"}


class TestRule:
    def prices(self, *colours):
        columns = "article,size,insulation,colour,sold_by,price,stock,number"
        rows = (f"cable,12 SAE,GXL,{one},metre,1,9,{one}" for one in colours)
        from upgrade_planner.configuration.tables.list_table import table_of
        from upgrade_planner.kit.prices.price_lines import price_list

        text = "\n".join([columns, *rows]).encode()
        return price_list(table_of("list.csv", text), ListStyle(currency="EUR"))

    def offered(self, wanted, rule, *colours):
        cable = article("cable", size="12 SAE", insulation="GXL", colour=wanted)
        found = match(cable, self.prices(*colours), colours=rule)
        return {one.line.number for one in found.alternatives}

    def test_colours_of_grounds_are_barred_with_any_tracer(self):
        rule = ColourRule(grounds=frozenset({"YE", "BN"}))
        assert self.offered("RD", rule, "YE", "YE/WH", "BN", "GN") == {"GN"}

    def test_the_own_main_colour_may_stay_even_if_grounds_carry_it(self):
        rule = ColourRule(grounds=frozenset({"YE"}))
        assert self.offered("YE/RD", rule, "YE") == {"YE"}

    def test_mains_take_only_their_own_main_colour(self):
        rule = ColourRule(keeps_main=True)
        assert self.offered("RD", rule, "BN/WH", "RD/WH", "GN") == {"RD/WH"}

    def test_what_one_wire_bars_is_barred_for_all_that_share_the_article(self):
        rule = ColourRule(grounds=frozenset({"BN"})) | ColourRule(keeps_main=True)
        assert self.offered("RD", rule, "BN", "GN", "RD/BU") == {"RD/BU"}
