"""Labels: one for each bag and wire, all on the page, the code says what the label says."""

import re
from functools import cache
from math import ceil

import pytest
import segno
from kit_sample import jobs, poor_kit
from page_layout import pages_of, words_on

from upgrade_planner.documents.kit.bag_pages import sheet_words
from upgrade_planner.documents.kit.labels import (
    CODE_MM,
    COLUMNS,
    HEIGHT_MM,
    ROWS,
    WIDTH_MM,
    labels,
    labels_html,
)
from upgrade_planner.documents.kit.scanned import QUIET, qr_code
from upgrade_planner.documents.words.wire_words import numbered_name
from upgrade_planner.kit.packed_wires import packed_wires


@cache
def poor_labels():
    return tuple(labels(poor_kit()))


def drawn(code):
    """Dark steps of the drawing, without its margin."""
    dark = set()
    for x, y, length in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\3z", code.path):
        dark |= {(int(x) + step - QUIET, int(y) - QUIET) for step in range(int(length))}
    return dark


@pytest.mark.parametrize("text", ["WS-1A2B;bag 3", "WS-1A2B;main-feed;a.b;c.d", "é;" + "x" * 90])
def test_the_drawing_has_the_steps_of_the_code(text):
    code, made = qr_code(text), segno.make(text, error="m", micro=False, boost_error=False)
    wanted = {(x, y) for y, row in enumerate(made.matrix) for x, step in enumerate(row) if step}
    assert drawn(code) == wanted
    assert code.side == len(made.matrix) + 2 * QUIET


def test_each_bag_has_its_label_and_each_wire_one_for_each_end():
    kit, found = poor_kit(), poor_labels()
    wires = [
        (numbered_name(w.number, w.wire.id), sheet_words(kit, bag))
        for bag in kit.order.bags
        for w in packed_wires(kit, bag)
        for _ in w.ends
    ]
    of_wires = [one for one in found if {one.heading} & {wire for wire, _ in wires}]
    assert [(one.heading, one.sheet) for one in of_wires] == wires
    lids = [one for one in found if ";fuses " in one.scanned]
    assert len(found) == len(wires) + len(kit.order.bags) + len(lids)


def test_a_scanner_gives_sheet_wire_and_ends():
    feed = next(one for one in poor_labels() if one.heading.endswith("charge-output"))
    sheet, wire, start, end = feed.scanned.split(";")
    assert (sheet, wire) == (feed.sheet, "charge-output")
    assert {start, end} == {"alternator.output", "main_junction.stud"}
    assert all("." in one for one in (start, end))
    assert drawn(feed.code) == drawn(qr_code(feed.scanned))


def test_steps_are_wide_enough_for_an_office_printer():
    assert all(CODE_MM / one.code.side > 0.45 for one in poor_labels())


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_sheet_holds_all_its_rows(paper):
    kit = poor_kit(of=jobs()[1:])
    pages = pages_of(labels_html(kit, paper=paper))
    to_cut_out = [page for page in pages if "To cut out" in words_on(page)]
    of_labels = len(pages) - len(to_cut_out)
    assert of_labels == ceil(len(list(labels(kit))) / (COLUMNS * ROWS)) > 2


def test_the_grid_fits_both_papers():
    assert COLUMNS * WIDTH_MM <= 210 - 2 * 10
    assert ROWS * HEIGHT_MM <= 279.4 - 2 * 10
