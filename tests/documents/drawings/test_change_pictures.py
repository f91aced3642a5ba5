"""What every picture of a change must hold, tried on one pair of each vehicle."""

from collections import Counter

import pytest
from drawn import (
    boxes,
    crossings,
    lines_on_lines,
    lines_through_boxes,
    lines_through_texts,
    pictures,
    routes,
    strokes,
    text_on_text,
    texts,
)

from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.documents.drawings.lattice import Facing
from upgrade_planner.documents.drawings.lettering import SMALL
from upgrade_planner.documents.drawings.pages import formats
from upgrade_planner.documents.drawings.shapes.upright import Upright

PAIRS = (
    ("van_original_resistance", "van_upgraded"),
    ("saloon_original", "saloon_negative_alternator"),
    ("six_volt_tractor_original", "six_volt_tractor_twelve_electronic"),
    ("pickup_original", "pickup_upgraded"),
    ("rear_original", "rear_upgraded"),
    ("roadster_original", "roadster_alternator"),
    ("tractor_original", "tractor_upgraded"),
    ("launch_original", "launch_complete"),
    ("truck_original", "truck_fan_and_pump"),
)


@pytest.fixture(scope="module", params=PAIRS, ids=lambda pair: pair[0])
def drawn(request):
    return pictures(*request.param)


def test_each_changed_wire_is_drawn_once(drawn):
    union, found = drawn
    changed = Counter(
        line.key for picture in found for line in picture.scene.lines if not line.stays
    )
    assert changed == Counter(line.key for line in union.lines if not line.stays)


def test_each_end_lies_at_its_terminal(drawn):
    for picture in drawn[1]:
        for line in picture.scene.lines:
            route, room = routes(picture)[line.key], boxes(picture)
            for x, y in (route[0], route[-1]):
                assert any(
                    room[role][0] <= x <= room[role][2] and room[role][1] <= y <= room[role][3]
                    for role in line.roles
                )


def test_no_text_lies_on_another(drawn):
    assert [text_on_text(picture) for picture in drawn[1]] == [[] for _ in drawn[1]]


def test_no_wire_runs_through_a_part_or_label(drawn):
    assert [lines_through_boxes(picture) for picture in drawn[1]] == [[] for _ in drawn[1]]


def test_no_wire_runs_through_a_text(drawn):
    assert [lines_through_texts(picture) for picture in drawn[1]] == [[] for _ in drawn[1]]


def test_no_wire_lies_on_another(drawn):
    assert [lines_on_lines(picture) for picture in drawn[1]] == [[] for _ in drawn[1]]


def test_pictures_fit_their_paper_and_can_be_read(drawn):
    for picture in drawn[1]:
        assert any(form.holds((picture.width, picture.height)) for form in formats("A4"))
        for text in texts(picture):
            assert text.points >= SMALL
            left, top, right, bottom = text.rectangle
            assert left >= 0
            assert top >= 0
            assert right <= picture.width
            assert bottom <= picture.height


def test_fuses_lamps_and_the_like_stand_upright(drawn):
    """The terminal that current enters by lies above the one that it leaves by."""
    for picture in drawn[1]:
        for figure in picture.draft.figures.values():
            if isinstance(figure, Upright):
                feeds = set(figure.part.feed_terminals)
                assert not feeds.intersection(figure.node.terminals[Facing.BOTTOM])


def test_no_terminal_hides_a_wire(drawn):
    """A terminal has as many wires as lines and flags lead to it and stand behind its label."""
    union, found = drawn
    for picture in found:
        shown = Counter(end for line in picture.scene.lines for end in set(line.every_end))
        shown.update(flag.here for flag in picture.scene.flags)
        for end, count in shown.items():
            missing = union.wires_on[end] - count
            if str(union.family(end.role)) != "ground point":
                assert picture.scene.uncounted.get(end, 0) == missing


def test_each_action_has_its_style(drawn):
    for picture in drawn[1]:
        actions = Counter(line.action for line in picture.scene.lines)
        assert len(strokes(picture, "cap")) == 2 * actions[Disposition.CAP_OFF]
        doubled = actions[Disposition.RESIZE] + actions[Disposition.RENEW]
        assert len(strokes(picture, "wire resize")) == doubled
        assert len(strokes(picture, "wire add")) == actions[Disposition.ADD]
        old_ends = len(strokes(picture, "old end"))
        assert len(strokes(picture, "cross")) == 2 * actions[Disposition.REMOVE] + old_ends


def test_crossings_stay_few(drawn):
    assert sum(crossings(picture) for picture in drawn[1]) <= 3


def test_the_end_that_leaves_a_ground_point_does_not_cross_its_name():
    for picture in pictures("van_external_module", "van_voltmeter")[1]:
        assert lines_through_texts(picture) == []
