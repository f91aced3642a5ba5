"""Currents of a state: width and arrow by what flows, volts and findings at their place."""

from datetime import date
from io import BytesIO
from itertools import pairwise

import pytest
from attrs import evolve
from drawn import lines_through_boxes, strokes, text_on_text, texts
from pair_facts import loaded
from pdf_words import page_texts

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.documents.drawings import flow
from upgrade_planner.documents.drawings.chart import LITTLE_EFFORT
from upgrade_planner.documents.drawings.flow import LEAST_A, flow_of
from upgrade_planner.documents.shared.html import template_html
from upgrade_planner.documents.shared.pdf import page_pdf
from upgrade_planner.documents.worksheet import flow_book
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import CRANKING, LOADED

CAR = "tractor_original"
DAY = date(2026, 1, 2)


def pages_of(book):
    html = template_html(
        "drawings/book.html.jinja", paper="A4", embed_fonts=False, view=book, language="en"
    )
    return page_texts(BytesIO(page_pdf(html, DAY)))


@pytest.fixture(scope="module", params=[CRANKING, LOADED], ids=lambda state: state.name)
def drawn(request):
    car = loaded(CAR)
    point, findings = operating_point(car, request.param), check(car)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(flow, "EFFORT", LITTLE_EFFORT)
        return point, findings, flow_of(point, findings, "both")


def test_each_wire_has_the_width_of_its_current_and_an_arrow_if_it_has_any(drawn):
    point, _, picture = drawn
    amps = sorted(abs(point.wire_current_a(line.wire.id)) for line in picture.scene.lines)
    flows = [one for one in amps if one >= LEAST_A]
    widths = sorted(mark.width for mark in strokes(picture, "wire flow"))
    assert len(widths) == len(flows) == len(strokes(picture, "flow head"))
    assert len(strokes(picture, "wire idle")) == len(amps) - len(flows)
    assert all(a <= b for a, b in pairwise(widths))
    assert widths[-1] > widths[0]


def test_current_goes_to_where_it_sinks(drawn):
    point, _, picture = drawn
    for line in picture.scene.lines:
        amps = point.wire_current_a(line.wire.id)
        if abs(amps) >= LEAST_A:
            assert line.reached == ((line.end,) if amps > 0 else (line.start,))


def test_findings_and_volts_are_told_at_their_place(drawn):
    point, findings, picture = drawn
    shown = " ".join(text.text for text in texts(picture))
    wires = {line.wire.id for line in picture.scene.lines}
    for number, finding in enumerate(findings, start=1):
        if any(subject.name in wires for subject in finding.subjects):
            assert str(number) in shown.split("FINDING", 1)[1]
    assert f"{point.battery_v:.1f}\N{NO-BREAK SPACE}V" in shown


def test_nothing_lies_on_anything(drawn):
    assert text_on_text(drawn[2]) == []
    assert lines_through_boxes(drawn[2]) == []


@pytest.mark.parametrize(("count", "follow"), [(14, False), (60, True)])
def test_findings_have_room_over_the_chart_or_a_page_behind_it(count, follow, monkeypatch):
    """However many there are, the chart stays on its first page."""
    finding = check(loaded(CAR))[0]
    monkeypatch.setattr(flow, "EFFORT", LITTLE_EFFORT)
    monkeypatch.setattr(
        flow_book, "check", lambda _: (evolve(finding, severity=Severity.WARNING),) * count
    )
    shown = pages_of(flow_book.flow_book(loaded(CAR), LOADED.name, "both", "A4"))
    assert (len(shown) > 1) is follow
    assert "Starter" in shown[0]
    assert str(count) in shown[-1]
