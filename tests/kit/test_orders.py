"""One order for several jobs: nothing lost between plans, bags, shelf and price."""

from collections import Counter
from decimal import Decimal

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.documents.kit.kit_words import why_words
from upgrade_planner.kit.articles import Material, article
from upgrade_planner.kit.orders import SPARES, Job, Stage, order
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_lines import price_list

RED, BLUE = (article("cable", size="12 SAE", insulation="GXL", colour=c) for c in ("RD", "BU"))
TIE, TAG, LINK = (
    article("tie"),
    article("tag"),
    article("fusible link", size="16 SAE", colour="BN"),
)
RING = article("ring terminal", stud="M6", barrel="yellow")
COLUMNS = "article,size,insulation,colour,stud,barrel,sold_by,contains,price,stock,reels,number"


def shop(*rows):
    text = "\n".join([COLUMNS, *rows])
    return price_list(table_of("list.csv", text.encode()), ListStyle(currency="EUR", mark="."))


SHOP = shop(
    "cable,12 SAE,GXL,RD,,,metre,,1.85,,4 7.5,C1",
    "cable,12 SAE,GXL,BU,,,reel,10,15,1,,C2",
    "tie,,,,,,pack,10,2.5,3,,T1",
    "tag,,,,,,each,,0.12,5,,G1",
    "ring terminal,,,,M6,,each,,,8,,R1",
)


def taken(one, quantity, *pieces, place="bay"):
    lengths = tuple(map(Decimal, pieces))
    return Material(
        article=one, quantity=Decimal(quantity), place=place, pieces=lengths, wires=("w",)
    )


def job(*materials, name="van", times=1):
    return Job(name=name, stages=(Stage(materials=materials),), times=times)


def line_of(found, number):
    return next(line for line in found.lines if line.line and line.line.number == number)


def test_cable_in_stock_is_what_can_be_cut_from_the_reels():
    """11 m are on the reels, but the third piece of 4 m fits none of them."""
    (line,) = order([job(taken(RED, 12, 4, 4, 4))], SHOP).lines
    assert (line.to_pack, line.in_stock, line.missing) == (12, 8, 4)


def test_the_first_bag_is_served_first():
    found = order([job(taken(TIE, 20), times=2)], SHOP)
    assert [bag.lines[0].in_stock for bag in found.bags] == [20, 10]
    assert [bag.lines[0].missing for bag in found.bags] == [0, 10]


def test_bags_are_made_by_vehicle_stage_and_place():
    stages = (
        Stage(name="one", materials=(taken(TIE, 1), taken(TIE, 2, place="cabin"))),
        Stage(name="two", materials=(taken(TIE, 3), taken(TIE, 1))),
    )
    found = order([Job(name="van", stages=stages, times=2)], SHOP)
    named = [(bag.vehicle, bag.stage, bag.place, bag.lines[0].needed) for bag in found.bags]
    alike = [("one", "bay", 1), ("one", "cabin", 2), ("two", "bay", 4)]
    assert named == [(vehicle, *rest) for vehicle in (1, 2) for rest in alike]


def test_the_spare_lies_in_a_bag_of_its_own_and_pieces_are_rounded_up():
    found = order(
        [job(taken(TIE, 11), taken(RED, "2.55", "2.55"))], SHOP, spare_ratio=Decimal("0.1")
    )
    spares = {line.article: line for line in found.bags[-1].lines}
    assert found.bags[-1].job == SPARES
    assert (spares[TIE].needed, spares[TIE].to_pack) == (0, 2)
    assert spares[RED].to_pack == Decimal("0.5")  # 10 % would be 0.26 m: too short to mend with
    assert line_of(found, "T1").to_pack == 13


def test_a_long_spare_of_cable_is_cut_in_pieces_that_reels_can_give():
    found = order([job(*(taken(BLUE, 6, 6) for _ in range(20)))], SHOP, spare_ratio=Decimal("0.1"))
    (line,) = found.lines
    assert found.bags[-1].lines[0].pieces == (6, 6)
    assert line.sale.units == 22


def test_a_spare_of_what_is_not_cut_may_be_more_than_a_roll_holds():
    tape = article("tape")
    rolls = shop("tape,,,,,,each,10,3,50,,T")
    (line,) = order([job(taken(tape, 200))], rolls, spare_ratio=Decimal("0.1")).lines
    assert line.sale.units == 22


def test_enough_metres_in_too_short_lengths_are_too_little():
    short = shop(
        "cable,12 SAE,GXL,RD,,,metre,,1,,3 3,C1",
        "cable,12 SAE,GXL,RD/WH,,,metre,,1,,4,C2",
        "cable,12 SAE,GXL,RD/BU,,,metre,,1,,2 2 2,C3",
        "tag,,,,,,each,,0.1,9,,G1",
    )
    found = order([job(taken(RED, 4, 4))], short, takes_alternatives=True)
    assert line_of(found, "C2").missing == 0


def test_the_total_leaves_out_what_has_no_price_and_says_so():
    found = order([job(taken(TIE, 11), taken(RING, 2), taken(LINK, 1, 1))], SHOP)
    assert found.total_words == "5.00 EUR, excluding 2 open lines"
    assert {line.why_open for line in found.open_lines} == {
        "no price in the list",
        "not in the price list",
    }
    assert all(line.sale is None or line.sale.amount is None for line in found.open_lines)


def test_a_piece_longer_than_a_reel_is_open_not_bought_in_two():
    (line,) = order([job(taken(BLUE, 11, 11))], SHOP).lines
    assert (line.is_open, line.why_open, line.in_stock) == (
        True,
        "a piece is longer than a reel",
        0,
    )


def test_articles_of_one_line_share_its_stock_and_its_packs():
    """The line fits rings of any barrel: 8 in stock are not there twice."""
    other = article("ring terminal", stud="M6", barrel="blue")
    (line,) = order([job(taken(RING, 6), taken(other, 6))], SHOP).lines
    assert set(line.articles) == {RING, other}
    assert (line.to_pack, line.in_stock) == (12, 8)


def test_what_comes_back_is_told_and_not_set_against_the_need():
    found = order([job(taken(TIE, 5), taken(TIE, -3))], SHOP)
    assert line_of(found, "T1").needed == 5
    assert [material.quantity for material in found.given_back] == [-3]


def test_another_colour_is_taken_only_if_asked_and_brings_its_tags():
    red = shop(
        "cable,12 SAE,GXL,RD,,,metre,,1,0,,C1",
        "cable,12 SAE,GXL,RD/WH,,,metre,,1,50,,C2",
        "tag,,,,,,each,,0.12,50,,G1",
    )
    work = [job(taken(RED, 5, 2, 3))]
    kept, changed = order(work, red), order(work, red, takes_alternatives=True)
    assert [line.line.number for line in kept.lines] == ["C1"]
    assert [line.line.number for line in changed.lines] == ["C2", "G1"]
    assert line_of(changed, "G1").to_pack == 4
    assert "tag both ends RD" in why_words(line_of(changed, "C2"))


def test_a_larger_cable_that_needs_other_terminals_is_never_taken_by_itself():
    thin = article("cable", size="14 SAE", insulation="GXL", colour="RD")
    found = order([job(taken(thin, 5, 5))], SHOP, takes_alternatives=True)
    (line,) = found.lines
    assert line.line is None
    assert line.alternatives[0].needs_other_terminals


@every_case(
    "bad",
    [
        lambda: order([job(taken(TIE, 1), times=0)], SHOP),
        lambda: order([job(taken(RED, 5, 2, 2))], SHOP),
        lambda: order([job()], SHOP, spare_ratio=Decimal("-0.1")),
    ],
)
def test_orders_that_make_no_sense_are_refused(bad):
    with pytest.raises(ValueError, match=r"wanted|pieces"):
        bad()


lengths = st.lists(st.integers(1, 60).map(lambda n: Decimal(n) / 10), min_size=1, max_size=4)
places = st.sampled_from(["bay", "cabin"])
materials = st.one_of(
    st.builds(
        lambda one, n, place: taken(one, n, place=place),
        st.sampled_from([TIE, TAG, RING]),
        st.integers(1, 40),
        places,
    ),
    st.builds(
        lambda one, cuts, place: taken(one, sum(cuts), *cuts, place=place),
        st.sampled_from([RED, BLUE, LINK]),
        lengths,
        places,
    ),
)
stages = st.builds(
    lambda name, found: Stage(name=name, materials=tuple(found)),
    st.sampled_from(["one", "two"]),
    st.lists(materials, max_size=4),
)
jobs = st.builds(
    lambda name, found, times: Job(name=name, stages=tuple(found), times=times),
    st.sampled_from(["van", "truck"]),
    st.lists(stages, max_size=2),
    st.integers(1, 3),
)


@given(st.lists(jobs, max_size=3), st.sampled_from(["0", "0.05", "0.1"]), st.booleans())
def test_the_order_is_the_sum_of_its_bags(work, spare, takes):
    found = order(work, SHOP, spare_ratio=Decimal(spare), takes_alternatives=takes)
    asked = Counter()
    for one in work:
        for stage in one.stages:
            for material in stage.materials:
                asked[material.article] += material.quantity * one.times
    bagged = [line for bag in found.bags for line in bag.lines]
    for one, quantity in asked.items():
        needed = sum(line.needed for line in bagged if line.article == one)
        assert needed == quantity or (one == TAG and needed > quantity)
    for line in found.lines:
        inside = [one for one in bagged if one.article in line.articles]
        for name in ("needed", "to_pack", "in_stock", "missing"):
            assert getattr(line, name) == sum(getattr(one, name) for one in inside)
        assert all(one.line == line.line for one in inside)
        assert line.to_pack >= line.needed * (1 + Decimal(spare))
        assert 0 <= line.in_stock <= min(line.to_pack, line.line.in_stock if line.line else 0)
        assert line.sale is None or line.sale.quantity >= line.to_pack
    amounts = [line.sale.amount for line in found.lines if not line.is_open]
    assert found.total == sum(amounts)
    assert len(found.open_lines) + len(amounts) == len(found.lines)


@pytest.fixture(scope="module")
def shipped():
    """The invented shop, and what two shipped jobs take."""
    from upgrade_planner.configuration.loading import load_configuration
    from upgrade_planner.kit.materials import consumption
    from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop
    from upgrade_planner.planning.plan import plan_upgrade

    def job_of(before, after):
        plan = plan_upgrade(load_configuration(before), load_configuration(after))
        used = tuple(one for found in consumption(plan).values() for one in found)
        return Job(name=before, stages=(Stage(materials=used),), times=2)

    jobs = [
        job_of("van_original_ballast", "van_upgraded"),
        job_of("tractor_original", "tractor_upgraded"),
    ]
    return load_prices(shipped_shop()), jobs


def test_the_shipped_shop_prices_the_shipped_jobs(shipped):
    prices, jobs = shipped
    found = order(jobs, prices, spare_ratio=Decimal("0.05"))
    assert len(found.lines) > 40
    assert not found.open_lines
    assert found.total > 500
    assert found.total == sum(line.sale.amount for line in found.lines)


def test_the_shipped_shop_lacks_some_things_on_purpose(shipped):
    prices, _ = shipped
    assert any(line.price is None for line in prices.lines)
    assert any(line.in_stock == 0 for line in prices.lines)
    assert not prices.fitting(article("fuse", rating="8 A", style="as the fuse box takes"))
