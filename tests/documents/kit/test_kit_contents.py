"""A kit packs all that the plans ask for: nothing is lost between order, bags, reels and paper."""

from collections import Counter
from decimal import Decimal

from attrs import evolve
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st
from kit_sample import demo_kit, jobs, poor_kit

from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.documents.kit.kit_page import kit_view
from upgrade_planner.documents.kit.kit_words import money_words
from upgrade_planner.documents.words.amounts import exact_text, number_words, reel_words
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.kit.cut_lines import cut_lines
from upgrade_planner.kit.packed_wires import packed_wires
from upgrade_planner.kit.packing import is_spare, packed
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_lines import price_list
from upgrade_planner.planning.operations import RunWire
from upgrade_planner.quote.rates import shipped_rates

KITS = [(poor_kit, "0"), (poor_kit, "10"), (demo_kit, "0"), (demo_kit, "5")]


def new_wires():
    return Counter(
        operation.wire.id
        for job in jobs()
        for _ in range(job.times)
        for operation in job.plans[0].operations
        if isinstance(operation, RunWire) and not operation.from_bag
    )


class TestNothingIsLost:
    @every_case(("make", "spare"), KITS)
    def test_every_new_wire_of_every_vehicle_lies_in_one_bag(self, make, spare):
        kit = make(spare)
        found = Counter(w.wire.id for bag in kit.order.bags for w in packed_wires(kit, bag))
        assert found == new_wires()

    @every_case(("make", "spare"), KITS)
    def test_every_new_wire_is_cut_once_with_its_length(self, make, spare):
        kit = make(spare)
        cut = Counter(
            (p.wire, p.length, p.bag)
            for line in cut_lines(kit)
            for reel in line.reels
            for p in reel.pieces
            if p.bag
        )
        bagged = Counter(
            (w.wire.id, w.material.quantity, number)
            for number, bag in enumerate(kit.order.bags, start=1)
            for w in packed_wires(kit, bag)
        )
        assert cut == bagged
        assert sum(bagged.values()) == sum(new_wires().values())

    @every_case(("make", "spare"), KITS)
    def test_no_reel_gives_more_than_it_holds(self, make, spare):
        reels = [r for line in cut_lines(make(spare)) for r in line.reels if r.length is not None]
        assert reels
        assert all(reel.rest >= 0 for reel in reels)

    @every_case(("make", "spare"), KITS)
    def test_what_is_cut_from_stock_is_what_the_order_has_in_stock(self, make, spare):
        for line in cut_lines(make(spare)):
            stock = sum(
                (p.length for r in line.reels if r.source == "stock" for p in r.pieces), Decimal(0)
            )
            assert stock == line.line.in_stock

    @every_case(("make", "spare"), KITS)
    def test_terminals_of_ends_lie_in_the_bags_that_are_named(self, make, spare):
        kit = make(spare)
        for bag in kit.order.bags:
            for wire in packed_wires(kit, bag):
                for _, articles, number in wire.ends:
                    inside = {line.article for line in kit.order.bags[number - 1].lines}
                    assert not articles or set(articles) <= inside

    @every_case(("make", "spare"), KITS)
    def test_paper_shows_every_line_of_every_bag(self, make, spare):
        kit = make(spare)
        for bag, shown in zip(kit.order.bags, kit_view(kit, date="2026-03-01").bags, strict=True):
            others = [one for one in bag.lines if one.article.shelf != "cable" or is_spare(bag)]
            assert [item.article for item in shown.items] == [
                words_of(one.article) for one in others
            ]
            assert bool(shown.wires) == (len(others) < len(bag.lines))


def test_compound_tape_and_ties_lie_in_one_bag_of_each_vehicle():
    kit = poor_kit()
    loose = {"compound", "tape", "tie"}
    bags = [bag for bag in kit.order.bags if loose & {one.article.sort for one in bag.lines}]
    assert {bag.place for bag in bags} == {""}
    assert len(bags) == sum(job.times for job in jobs())
    shown = kit_view(kit, date="2026-03-01").bags
    assert sum(one.whereto == "the whole vehicle" for one in shown) == len(bags)


def test_open_lines_are_told_and_never_zero():
    view = kit_view(poor_kit(), date="2026-03-01")
    kinds = {row.what for row in view.open_rows}
    assert kinds == {"no article", "no price"}
    assert view.excluding.replace("\xa0", " ") == f"excluding {len(view.open_rows)} open lines"
    assert view.total == f"{poor_kit().order.total}\xa0EUR"
    open_lines = [line for shelf in view.shelves for line in shelf.lines if line.is_open]
    assert len(open_lines) == len(view.open_rows)


def test_a_price_list_with_everything_has_no_open_lines_and_money_as_the_shop_prints_it():
    kit = demo_kit()
    assert kit_view(kit, date="2026-03-01").excluding == ""
    assert money_words(Decimal("1234.50"), "GBP", shipped_rates().currency) == "£1,234.50"


def test_money_finer_than_the_shop_prints_is_not_rounded():
    whole = evolve(shipped_rates().currency, decimals=0)
    assert money_words(Decimal("12.50"), "GBP", whole) == "12.50\xa0GBP"


def test_missing_cable_is_told_at_its_wire():
    """The reel of 1.9 m holds one of the two ignition feeds of 1.88 m."""
    view = kit_view(poor_kit(), date="2026-03-01")
    wires = [wire for bag in view.bags for wire in bag.wires]
    named = [wire for wire in wires if wire.id.endswith(" ignition-feed")]
    feeds = [wire for wire in named if "10\xa0SAE" in wire.conductor]
    assert ["This cable is missing." in wire.notes for wire in feeds] == [False, True]
    lamps = [wire for wire in wires if wire.id.endswith(" charge-lamp")]
    assert all("No such cable in the price list." in wire.notes for wire in lamps)


def test_what_may_stand_in_is_told_where_the_shelf_has_too_little():
    text = """number,article,size,insulation,colour,sold_by,price,stock
C1,cable,6 SAE,GXL,RD,metre,4,3
C2,cable,6 SAE,GXL,RD/WH,metre,4,80
"""
    prices = price_list(table_of("list.csv", text.encode()), ListStyle(currency="EUR", mark="."))
    view = kit_view(packed(jobs()[:1], prices), date="2026-03-01")
    (picked,) = [line for shelf in view.shelves for line in shelf.lines if line.number == "C1"]
    assert Decimal(picked.missing) > 0
    assert picked.notes == ("may be replaced by C2: colour RD/WH for RD: tag both ends RD",)


def test_what_stands_in_is_told_at_its_wire_and_its_tags_are_packed():
    text = """number,article,size,insulation,colour,sold_by,price,stock
C1,cable,6 SAE,GXL,RD/WH,metre,4,80
G1,tag,,,,each,0.1,99
"""
    prices = price_list(table_of("list.csv", text.encode()), ListStyle(currency="EUR", mark="."))
    kit = packed(jobs()[:1], prices, takes_alternatives=True)
    view = kit_view(kit, date="2026-03-01")
    bags, told = view.bags, "colour RD/WH for RD: tag both ends RD"
    (picked,) = [line for shelf in view.shelves for line in shelf.lines if line.number == "C1"]
    assert picked.notes == (f"PACK INSTEAD: {told}",)
    assert [group.note for group in view.cuts if group.number == "C1"] == [f"INSTEAD: {told}"]
    notes = {wire.id.split()[1]: " ".join(wire.notes) for bag in bags for wire in bag.wires}
    assert "Packed from C1: colour RD/WH for RD: tag both ends RD." in notes["charge-output"]
    assert "Packed" not in notes["ignition-feed"]
    items = [item for bag in bags for item in bag.items]
    tags = [item for item in items if item.number == "G1" and "charge-output" in item.used_for]
    assert len(tags) == 2


def test_no_spare_part_is_packed_and_a_spare_of_everything_else_is():
    for line in poor_kit("10").order.lines:
        is_part = line.articles[0].shelf == "parts"
        assert (line.to_pack == line.needed) == is_part


def test_exchange_parts_come_back_once_a_vehicle():
    back = {row.article: row.quantity for row in kit_view(poor_kit(), date="2026-03-01").back}
    assert sum(int(words.split("\xa0")[0]) for words in back.values()) == sum(
        job.times * sum(1 for _ in job_back(job)) for job in jobs()
    )
    assert back


def job_back(job):
    from upgrade_planner.kit.materials import gives_back

    return gives_back(job.plans[0])


def test_the_check_code_changes_with_the_number_of_vehicles_and_the_spare():
    codes = {
        kit_view(kit, date="2026-03-01").code for kit in (poor_kit(), poor_kit("10"), demo_kit())
    }
    assert len(codes) == 3


class TestWords:
    @given(st.decimals(min_value=0, max_value=1000, places=4))
    def test_figures_in_metres_are_exact(self, quantity):
        assert Decimal(number_words(quantity, "m", "both")) == quantity

    @given(st.decimals(min_value=0, max_value=1000, places=4))
    def test_figures_in_feet_are_never_short(self, quantity):
        feet = Decimal(number_words(quantity, "m", "us"))
        assert quantity <= feet * Decimal("0.3048") < quantity + Decimal("0.003048")

    @given(st.decimals(min_value=0, max_value=1000, places=4))
    def test_a_reel_never_promises_more_than_it_holds(self, length):
        assert Decimal(reel_words(length, "metric").removesuffix("\xa0m")) <= length

    @given(st.decimals(min_value=0, max_value=10**9, places=3))
    def test_exact_text_is_exact_and_has_no_needless_zeros(self, number):
        text = exact_text(number)
        assert Decimal(text) == number
        assert "E" not in text
        assert not (("." in text) and text.endswith("0"))
