"""Before and after side by side: each state whole, both with everything in the same place."""

import pytest
from drawn import QUICK, text_on_text
from pair_facts import compared

from upgrade_planner.documents.drawings.chart import LITTLE_EFFORT, chart_of
from upgrade_planner.documents.drawings.glued import OVERLAP, glued
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.marks import Text
from upgrade_planner.documents.drawings.pages import formats
from upgrade_planner.documents.drawings.pair import pair_pictures

PAIRS = (
    ("van_original_resistance", "van_upgraded"),
    ("six_volt_tractor_original", "six_volt_tractor_twelve_electronic"),
    ("saloon_original", "saloon_negative_alternator"),
)


@pytest.fixture(scope="module", params=PAIRS, ids=lambda pair: pair[0])
def pairs(request):
    whole = compared(*request.param)
    found = pair_pictures(whole, formats("A4"), Lettering(), QUICK)
    return whole, list(zip(found[::2], found[1::2], strict=True))


def test_each_state_shows_its_own_wires_and_all_that_change(pairs):
    whole, found = pairs
    for side, configuration in enumerate((whole.before, whole.after)):
        shown = {line.wire.id: line.wire for pair in found for line in pair[side].scene.lines}
        wires = {wire.id: wire for wire in configuration.wires}
        assert shown.items() <= wires.items()
        changed = {
            (change.before if side == 0 else change.after).id
            for change in whole.wires
            if change.disposition != "keep" and hasattr(change, ("before", "after")[side])
        }
        assert changed <= set(shown)


def test_everything_has_the_same_place_in_both(pairs):
    for before, after in pairs[1]:
        assert (before.width, before.height) == (after.width, after.height)
        for role in set(before.scene.roles).intersection(after.scene.roles):
            assert before.draft.figures[role].node is after.draft.figures[role].node


def test_no_text_lies_on_another(pairs):
    assert [text_on_text(p) for pair in pairs[1] for p in pair if text_on_text(p)] == []


def test_what_stays_is_thin_and_what_the_other_state_lacks_is_thick(pairs):
    whole, found = pairs
    stays = sum(change.disposition == "keep" for change in whole.wires)
    for pair in found:
        for picture in pair:
            sorts = [getattr(mark, "sort", "") for mark in picture.marks]
            kept = sorts.count("wire keep")
            assert kept <= stays
            assert kept + sorts.count("wire add") == len(picture.scene.lines)


def test_sheets_to_glue_hold_the_whole_chart(monkeypatch):
    monkeypatch.setattr("upgrade_planner.documents.drawings.chart.EFFORT", LITTLE_EFFORT)
    picture = chart_of(compared(*PAIRS[0]).after, "both")
    cut = glued(picture, "A4", heading="Wiring", note="Colours.")
    assert cut.columns * (cut.width - OVERLAP) >= picture.width
    assert cut.rows * (cut.height - OVERLAP) >= picture.height
    shown = {mark.text for sheet in cut.sheets for mark in sheet.marks if isinstance(mark, Text)}
    assert shown == {mark.text for mark in picture.marks if isinstance(mark, Text)}
    assert len({sheet.name for sheet in cut.sheets}) == cut.rows * cut.columns
