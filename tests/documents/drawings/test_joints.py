"""Studs show every ring in its order, connectors every wire that passes them."""

from drawn import rectangles_meet
from every_case import every_case
from pair_facts import planned

from upgrade_planner.documents.drawings.joints import Face, JointRow, connector_picture
from upgrade_planner.documents.drawings.lettering import SMALL
from upgrade_planner.documents.drawings.marks import Box, Text
from upgrade_planner.documents.worksheet.joint_pictures import joint_pictures

VAN = ("van_original_resistance", "van_upgraded")
SALOON = ("saloon_original", "saloon_negative_alternator")


@every_case("pair", [VAN, SALOON])
def test_a_stud_shows_each_ring_once_the_first_at_the_bottom(pair):
    plan = planned(*pair)
    last = {meeting.end: meeting for meeting in plan.meetings.values()}
    stacked = [m for m in last.values() if str(m.connection.joint) in ("stud", "screw", "post")]
    wanted = [m for m in stacked if len(m.fittings) > 1]
    found = [p for p in joint_pictures(plan, "both") if p.told.startswith("From the bottom")]
    assert len(found) == len(wanted) > 0
    for picture, meeting in zip(found, wanted, strict=True):
        rings = [m for m in picture.marks if isinstance(m, Box) and m.sort == "ring"]
        assert len(rings) == len(meeting.fittings)
        assert [ring.y for ring in rings] == sorted((r.y for r in rings), reverse=True)
        for fitting in meeting.fittings:
            assert all(wire.id in picture.told for wire in fitting.wires)


@every_case("pair", [VAN, SALOON])
def test_words_are_large_enough_and_lie_on_nothing(pair):
    for picture in joint_pictures(planned(*pair), "both"):
        texts = [mark for mark in picture.marks if isinstance(mark, Text)]
        rooms = [text.rectangle for text in texts]
        assert all(text.points >= SMALL for text in texts)
        assert all(right <= picture.width and low <= picture.height for _, _, right, low in rooms)
        meeting = [
            (a, b) for n, a in enumerate(rooms) for b in rooms[n + 1 :] if rectangles_meet(a, b)
        ]
        assert meeting == []


@every_case(
    ("face", "cells", "told"),
    [
        (Face(cavities=14, rows=2), 14, "number of each wire into its cavity"),
        (Face(cavities=7, rows=2), 7, "number of each wire into its cavity"),
        (Face(cavities=14), 0, "one of 14"),
        (Face(rows=2), 0, "cavity of each wire into its box."),
        (Face(cavities=60, rows=1), 0, "one of 60"),
    ],
)
def test_a_connector_shows_its_face_if_its_rows_are_known(face, cells, told):
    rows = [JointRow(text=f"C{number} lamp-feed", is_new=number == 1) for number in range(6)]
    picture = connector_picture("Bulkhead connector", face, rows)
    boxes = [mark for mark in picture.marks if isinstance(mark, Box) and mark.sort == "cavity"]
    assert len({(box.x, box.y) for box in boxes}) == len(boxes) == cells
    assert all(box.y + box.height <= picture.height for box in boxes)
    assert all(box.x + box.width <= picture.width for box in boxes)
    assert told in picture.told
    texts = [mark.rectangle for mark in picture.marks if isinstance(mark, Text)]
    assert not any(
        rectangles_meet(text, (box.x, box.y, box.x + box.width, box.y + box.height))
        for text in texts
        for box in boxes
    )
