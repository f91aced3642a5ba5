"""Terminal by terminal: each wire of a part in one row, a box to tick for each thing to do."""

from collections import Counter
from itertools import combinations

from drawn import rectangles_meet
from every_case import every_case
from pair_facts import compared

from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.documents.drawings.cards import card_of, cards_of, deserves_card
from upgrade_planner.documents.drawings.marks import Box, Text
from upgrade_planner.documents.drawings.union import union_of
from upgrade_planner.library.pairs import ready_pairs

PAIRS = [(pair.before, pair.after) for pair in ready_pairs()]
VAN = ("van_original_resistance", "van_upgraded")
SALOON = ("saloon_original", "saloon_negative_alternator")


def ticks(card):
    return [mark for mark in card.marks if isinstance(mark, Box) and mark.sort == "tick"]


def words(card):
    return [mark.text for mark in card.marks if isinstance(mark, Text)]


@every_case("pair", PAIRS[1::6])
def test_texts_keep_apart_and_inside(pair):
    for card in cards_of(union_of(compared(*pair)), "both"):
        texts = [mark for mark in card.marks if isinstance(mark, Text)]
        assert not [
            (one.text, other.text)
            for one, other in combinations(texts, 2)
            if rectangles_meet(one.rectangle, other.rectangle)
        ]
        assert all(mark.rectangle[0] >= 0 and mark.rectangle[2] <= card.width for mark in texts)
        assert all(mark.rectangle[1] >= 0 and mark.rectangle[3] <= card.height for mark in texts)


def test_a_long_name_stays_off_the_boxes_to_tick():
    union = union_of(compared("van_original_ballast", "van_discharge_unit"))
    for card in cards_of(union, "both"):
        texts = [mark for mark in card.marks if isinstance(mark, Text)]
        for box in ticks(card):
            assert not [one.text for one in texts if rectangles_meet(one.rectangle, box.rectangle)]


@every_case("pair", [VAN, SALOON])
def test_each_wire_of_a_part_is_named_once_for_each_terminal(pair):
    union = union_of(compared(*pair))
    for role in filter(lambda role: deserves_card(union, role), union.parts):
        named = Counter(
            word
            for text in words(card_of(union, role, "both"))
            for word in text.replace(",", " ").split()
        )
        for line in union.lines_at[role]:
            assert named[line.change.mark] >= 1, (role, line.key)


def test_a_part_that_goes_has_a_box_for_each_wire_that_comes_off():
    union = union_of(compared(*VAN))
    assert len(ticks(card_of(union, "regulator", "both"))) == len(union.lines_at["regulator"])


def test_a_wire_that_moves_at_its_other_end_alone_has_no_box():
    union = union_of(compared(*SALOON))
    relay = card_of(union, "start_relay", "both")
    assert "starter-cable, its other end moves" in words(relay)
    done = [
        line
        for line in union.lines_at["start_relay"]
        if line.action in (Disposition.REMOVE, Disposition.ADD)
    ]
    assert len(ticks(relay)) == len(done)


def test_posts_that_change_over_are_told_by_their_signs():
    told = card_of(union_of(compared(*SALOON)), "battery", "both").told
    assert "MOVE battery-ground: + to −" in told
    assert "MOVE starter-cable: − to +" in told


def test_one_changed_wire_alone_makes_no_card():
    union = union_of(compared(*VAN))
    roles = {card.role for card in cards_of(union, "both")}
    assert "tachometer" not in roles
    assert {"alternator", "regulator", "coil", "distributor", "battery"} <= roles
