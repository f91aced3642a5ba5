"""Whatever two configurations a vehicle has, its pictures hold what every picture must."""

from collections import Counter

import pytest
from drawn import lines_on_lines, lines_through_boxes, lines_through_texts, text_on_text
from drawn_once import of_each
from every_case import every_case
from generating import pairs, two_battery_pairs

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.pages import change_pictures, formats
from upgrade_planner.documents.drawings.picture import Effort, picture_of
from upgrade_planner.documents.drawings.selection import whole_scene
from upgrade_planner.documents.drawings.union import union_of

LEAST = Effort(starts=1, sifted=0, finished=1, further=0)
FORMS = formats("A4")


def assert_clean(picture):
    for fault in (text_on_text, lines_through_boxes, lines_through_texts, lines_on_lines):
        assert fault(picture) == []


@pytest.mark.parametrize("strategy", [pairs, two_battery_pairs])
def test_each_changed_wire_is_drawn_once_and_nothing_lies_on_anything(strategy):
    of_each(20, strategy)(assert_pictures_hold_all)()


def assert_pictures_hold_all(pair):
    union = union_of(compare(*pair))
    pictures = change_pictures(union, FORMS, Lettering(), LEAST)
    drawn = Counter(line.key for one in pictures for line in one.scene.lines if not line.stays)
    assert drawn == Counter(line.key for line in union.lines if not line.stays)
    for picture in pictures:
        assert_clean(picture)
        assert any(form.holds((picture.width, picture.height)) for form in FORMS)


@every_case("strategy", [pairs, two_battery_pairs])
def test_nothing_lies_on_anything_in_a_chart(strategy):
    of_each(10, strategy)(assert_chart_is_clean)()


def assert_chart_is_clean(pair):
    _, car = pair
    scene = whole_scene(union_of(compare(car, car)), "Wiring")
    assert_clean(picture_of(scene, lettering=Lettering(), effort=LEAST))
