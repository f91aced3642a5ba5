"""Cutting from reels: against every way of cutting, against known best ways; nothing lost."""

from collections import Counter
from decimal import Decimal
from itertools import pairwise

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.kit.cutting.filling import fullest
from upgrade_planner.kit.cutting.reels import SMALL, cut
from upgrade_planner.kit.cutting.search import Ways, lower_bound, searched

lengths = st.integers(1, 40).map(lambda steps: Decimal(steps) / 4)


def cost(cutting):
    stock = [reel.length for reel in cutting.reels if not reel.is_new]
    return sum(cutting.uncut), cutting.new_reels, sum(stock), len(cutting.reels)


def least_cost(pieces, reels, new):
    """Every piece into every reel, into one of as many new reels as pieces, or nowhere."""
    at_hand = len(reels)
    lengths = [*reels, *[new] * (len(pieces) if new else 0)]
    ways = {(0, (0,) * len(lengths))}  # what is left uncut, and what is cut from each reel
    for piece in pieces:
        into_reels = {
            (uncut, alike_in_order((*cut[:n], cut[n] + piece, *cut[n + 1 :]), at_hand))
            for uncut, cut in ways
            for n, length in enumerate(lengths)
            if cut[n] + piece <= length
        }
        ways = into_reels | {(uncut + piece, cut) for uncut, cut in ways}
    return min(
        (
            uncut,
            sum(map(bool, cut[at_hand:])),
            sum(reel for reel, used in zip(reels, cut, strict=False) if used),
            sum(map(bool, cut)),
        )
        for uncut, cut in ways
    )


def alike_in_order(cut, at_hand):
    """New reels are alike: which of them is cut from makes no other way."""
    return (*cut[:at_hand], *sorted(cut[at_hand:]))


@given(st.lists(lengths, max_size=5), st.lists(lengths, max_size=3), st.none() | lengths)
def test_few_pieces_are_cut_as_well_as_by_any_other_way(pieces, reels, new):
    if new and len(pieces) > 4:
        pieces = pieces[:4]
    cutting = cut(pieces, reels, new_reel=new)
    assert cutting.is_proven
    assert cost(cutting) == least_cost(pieces, reels, new)


@given(
    st.lists(st.integers(1, 6), max_size=5),
    st.lists(st.integers(1, 12), max_size=3),
    st.sampled_from([0, 6, 9]),
)
def test_the_search_finds_the_best_way_without_a_good_start(pieces, reels, new):
    possible = [piece for piece in pieces if piece <= max(new, *reels, 0)]
    ways = Ways(tuple(sorted(possible, reverse=True)), tuple(sorted(reels)), new)
    best, is_proven = searched(ways, ())
    assert is_proven
    assert ways.cost(best) == least_cost(possible, reels, new)
    assert ways.cost(best) >= lower_bound(ways)


@given(st.lists(lengths, max_size=40), st.lists(lengths, max_size=12), st.none() | lengths)
def test_every_piece_is_cut_once_and_whole_or_named_as_uncut(pieces, reels, new):
    cutting = cut(pieces, reels, new_reel=new)
    done = [piece for reel in cutting.reels for piece in reel.pieces]
    assert sorted([*done, *cutting.uncut]) == sorted(pieces)
    stock = Counter(reel.length for reel in cutting.reels if not reel.is_new)
    assert not stock - Counter(reels)
    for reel in cutting.reels:
        assert reel.pieces
        assert sum(reel.pieces) <= reel.length
        assert not reel.is_new or reel.length == new
    if new is not None:
        assert all(piece > new for piece in cutting.uncut)


@st.composite
def whole_reels_in_pieces(draw):
    """Pieces that leave nothing over on so many reels: no way needs fewer."""
    reel = draw(st.integers(8, 40))
    pieces = []
    for _ in range(draw(st.integers(1, 12))):
        marks = sorted({0, reel, *draw(st.lists(st.integers(1, reel - 1), max_size=5))})
        pieces += [Decimal(b - a) for a, b in pairwise(marks)]
    return draw(st.permutations(pieces)), Decimal(reel)


@given(whole_reels_in_pieces())
def test_many_pieces_take_at_most_the_reels_that_the_longest_first_rule_guarantees(drawn):
    """Longest piece first takes at most 11/9 of the fewest and 6/9 more (published bound, 2007)."""
    pieces, new = drawn
    fewest = sum(pieces) / new
    cutting = cut(pieces, [], new_reel=new)
    assert fewest <= cutting.new_reels <= (11 * fewest + 6) / 9
    assert cutting.is_proven == (cutting.new_reels == fewest) or len(pieces) <= SMALL


def test_perfect_cutting_is_found_where_longest_first_wastes_a_reel():
    # Longest first: 6+3, 5+4... leaves a rest on each; the pieces were cut from whole reels of 10.
    parts = [(6, 4), (5, 3, 2), (7, 3), (5, 5), (4, 4, 2), (8, 2), (6, 3, 1)] * 4
    pieces = [Decimal(piece) for part in parts for piece in part]
    cutting = cut(pieces, [], new_reel=Decimal(10))
    assert len(pieces) > SMALL
    assert (cutting.new_reels, cutting.rest, cutting.is_proven) == (len(parts), 0, True)


def test_lengths_that_do_not_add_up_take_more_reels_than_their_sum():
    """Seven pieces of 4 m are 28 m, but only two of them come from a reel of 10 m."""
    cutting = cut([Decimal(4)] * 7, [], new_reel=Decimal(10))
    assert (cutting.new_reels, cutting.is_proven) == (4, True)


def test_short_ends_are_used_up_before_a_full_reel_is_opened():
    cutting = cut([Decimal("6.4"), Decimal("6")], [Decimal(30), Decimal("12.5")])
    assert [reel.length for reel in cutting.reels] == [Decimal("12.5")]
    assert cutting.rest == Decimal("0.1")


def test_two_ends_are_better_than_one_full_reel():
    cutting = cut([Decimal(5), Decimal(7)], [Decimal(30), Decimal("7.5"), Decimal("5.25")])
    assert cutting.opened == Decimal("12.75")


def test_a_piece_longer_than_every_reel_stays_uncut_and_hinders_no_other():
    cutting = cut([Decimal(31), Decimal(29)], [Decimal(30)], new_reel=Decimal(30))
    assert cutting.uncut == (Decimal(31),)
    assert cutting.from_stock == (Decimal(29),)


def test_hundreds_of_pieces_are_cut_near_the_bound():
    pieces = [Decimal(n * 37 % 411 + 20) / 100 for n in range(600)]
    reels = [Decimal(n * 53 % 2900 + 100) / 100 for n in range(25)]
    cutting = cut(pieces, reels, new_reel=Decimal(30))
    at_best = -(-(sum(pieces) - sum(reels)) // 30)
    assert not cutting.uncut
    assert cutting.new_reels <= at_best + 1


@every_case("bad", ["0", "-1", "NaN", "Infinity"])
def test_lengths_that_are_none_are_refused(bad):
    with pytest.raises(ValueError, match="above zero"):
        cut([Decimal(bad)], [Decimal(5)])


@given(st.lists(st.integers(1, 30), max_size=8), st.integers(0, 80))
def test_a_reel_is_filled_as_full_as_any_choice_fills_it(pieces, room):
    chosen = fullest(pieces, room)
    sums = {0}
    for piece in pieces:
        sums |= {total + piece for total in sums if total + piece <= room}
    assert not Counter(chosen) - Counter(pieces)
    assert sum(chosen) == max(sums)
