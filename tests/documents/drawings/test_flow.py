"""Currents of a state: width and arrow by what flows, volts and findings at their place."""

from itertools import pairwise

import pytest
from drawn import lines_through_boxes, strokes, text_on_text, texts
from pair_facts import loaded

from upgrade_planner.checks.checking import check
from upgrade_planner.documents.drawings import flow
from upgrade_planner.documents.drawings.chart import LITTLE_EFFORT
from upgrade_planner.documents.drawings.flow import LEAST_A, flow_of
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import CRANKING, LOADED

CAR = "tractor_original"


@pytest.fixture(params=[CRANKING, LOADED], ids=lambda state: state.name)
def drawn(request, monkeypatch):
    monkeypatch.setattr(flow, "EFFORT", LITTLE_EFFORT)
    car = loaded(CAR)
    point, findings = operating_point(car, request.param), check(car)
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
