"""Borders as bars: where the sides lie, and which borders are left to the engine."""

import pytest
from short_sheet import CREATED, PAGE

from upgrade_planner.documents.shared import plain_borders
from upgrade_planner.documents.shared.engine import pdf_engine
from upgrade_planner.documents.shared.pdf import worksheet_pdf

PX_OF_MM = 96 / 25.4
PLACE = "position: absolute; left: 10mm; top: 20mm; width: 50mm; height: 30mm"


def bars_of(monkeypatch, style):
    """Bars that are drawn for a box of a style, in mm from the box's corner; None for no bars."""
    found = []
    real = plain_borders._bars

    def watched(box, *widths):
        bars = list(real(box, *widths))
        if box.element is not None and box.element.get("id") == "it":
            x, y = box.border_box_x(), box.border_box_y()
            found.extend((left - x, top - y, width, height) for left, top, width, height in bars)
        return bars

    monkeypatch.setattr(plain_borders, "_bars", watched)
    pdf_engine()
    html = f'{PAGE}<div id="it" style="{PLACE}; {style}"></div>'
    worksheet_pdf(html, identity=None, plan_json=None, created=CREATED)
    return [tuple(round(value / PX_OF_MM, 6) for value in bar) for bar in found]


@pytest.mark.parametrize(
    ("style", "bars"),
    [
        ("border-bottom: 1mm solid", [(0, 30, 50, 1)]),
        ("border: 0 solid; border-width: 1mm 2mm 0 0", [(0, 0, 52, 1), (50, 0, 2, 31)]),
        ("border: 0 solid; border-width: 0 0 1mm 2mm", [(0, 30, 52, 1), (0, 0, 2, 31)]),
        ("border: 1mm solid", []),
        ("border-bottom: 1mm dashed", []),
        ("border-bottom: 1mm solid #0008", []),
        ("border-bottom: 1mm solid; border-radius: 2mm", []),
        ("border-bottom: 1mm solid; border-top: 1mm solid red", []),
        ("border-bottom: 1mm solid; visibility: hidden", []),
    ],
)
def test_sides_are_bars_where_a_bar_is_the_side(engine, monkeypatch, style, bars):
    assert bars_of(monkeypatch, style) == bars
