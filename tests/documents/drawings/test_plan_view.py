"""Where it is: places from above, as the profile puts them."""

import tomllib
from collections import Counter
from itertools import combinations

from attrs import evolve
from drawn import rectangles_meet
from every_case import every_case
from pair_facts import compared

from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.documents.drawings.marks import Box, Text
from upgrade_planner.documents.drawings.plan_view import plan_view
from upgrade_planner.documents.drawings.whereabouts import whereabouts
from upgrade_planner.documents.worksheet.where_page import where_view
from upgrade_planner.library.pairs import ready_pairs

ROOM = (188.0, 235.0)
PAIRS = [(pair.before, pair.after) for pair in ready_pairs()]
VAN = ("van_original_resistance", "van_upgraded")


@every_case("pair", PAIRS[::5])
def test_a_view_fits_its_page_and_nothing_lies_on_anything(pair):
    view = plan_view(whereabouts(compared(*pair)), *ROOM)
    texts = [mark for mark in view.marks if isinstance(mark, Text)]
    assert not [
        (one.text, other.text)
        for one, other in combinations(texts, 2)
        if rectangles_meet(one.rectangle, other.rectangle)
    ]
    boxes = [m.rectangle for m in view.marks if isinstance(m, Box) and m.sort]
    assert not [pair for pair in combinations(boxes, 2) if rectangles_meet(*pair)]
    assert all(box[0] >= 0 and box[2] <= view.width <= ROOM[0] for box in boxes)


def test_each_changed_wire_is_named_where_it_lies():
    found = whereabouts(compared(*VAN))
    named = {change.mark for band in found.bands for change in band.changes}
    named |= {change.mark for item in found.places for change in item.wires}
    changed = {c.mark for c in compared(*VAN).wires if str(c.disposition) != "keep"}
    assert named == changed
    counts = Counter(band.letter for band in found.bands)
    assert set(counts.values()) == {1}


def test_front_is_above_rear_and_left_is_left():
    view = plan_view(whereabouts(compared(*VAN)), *ROOM)
    at = {mark.text: mark for mark in view.marks if isinstance(mark, Text)}
    assert at["battery tray, left front"].y < at["behind the dash"].y
    assert at["inner wing, left"].x < at["engine, right front"].x


def test_a_vehicle_without_positions_gets_the_list():
    whole = compared(*VAN)
    sides = {
        side: evolve(
            getattr(whole, side),
            places=tuple(
                evolve(place, along=None, across=None) for place in getattr(whole, side).places
            ),
        )
        for side in ("before", "after")
    }
    view = where_view(evolve(whole, **sides), "A4")
    assert view.svg == ""
    assert "battery tray, left front" in view.rows[0].between
    assert any("EXCHANGE alternator" in row.what for row in view.rows)


class TestPositionsInProfiles:
    def test_a_number_outside_its_range_is_told(self, garage):
        garage.spoil("vehicle", "walk = 2", "walk = 2\n«along = 1.5\nacross = 0")
        garage.spoil("vehicle", "walk = 3", "walk = 3\nalong = 0.5\n«across = true")
        problems = garage.problems()
        garage.assert_at_marks(problems)
        assert [problem.expected for problem in problems] == [
            "a number from 0 to 1, without quotes",
            "a number from -1 to 1, without quotes",
        ]

    def test_half_a_position_is_told(self, garage):
        garage.spoil("vehicle", "walk = 2", "walk = 2\n«along = 0.5")
        garage.assert_at_marks(garage.problems())

    def test_they_do_not_change_the_work(self, garage):
        digest = garage.load().digest
        garage.spoil("vehicle", "walk = 2", "walk = 2\nalong = 0.5\nacross = 0")
        assert garage.load().digest == digest

    @every_case("name", shipped_profiles("vehicle"))
    def test_every_shipped_vehicle_says_where_each_place_lies(self, name):
        places = tomllib.loads(shipped_profiles("vehicle")[name].read_text("utf-8"))["place"]
        spots = [(place["along"], place["across"]) for place in places]
        assert len(set(spots)) == len(places)
