"""Numbers to scan on the pick list: on request, one for each line that has a number."""

import re

import segno
from kit_sample import demo_kit

from upgrade_planner.documents.kit.kit_page import kit_view
from upgrade_planner.documents.kit.scanned import QUIET, qr_code


def lines(**options):
    view = kit_view(demo_kit(), date="2026-03-01", **options)
    return [line for shelf in view.shelves for line in shelf.lines]


def test_each_number_has_its_code_on_request_only():
    asked = lines(shows_codes=True)
    assert {line.number for line in asked if line.code} == {line.number for line in asked} - {""}
    assert all(line.code == qr_code(line.number) for line in asked if line.number)
    assert not any(line.code for line in lines())


def test_the_drawing_is_the_code():
    text = "C-154"
    steps = {
        (x + step, y)
        for x, y, length in (
            tuple(map(int, found))
            for found in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", qr_code(text).path)
        )
        for step in range(length)
    }
    made = segno.make(text, error="m", micro=False, boost_error=False)
    assert steps == {
        (QUIET + x, QUIET + y)
        for y, row in enumerate(made.matrix)
        for x, dark in enumerate(row)
        if dark
    }
