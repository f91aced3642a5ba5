"""Each element's law: continuous, with its slope, passive where it should be; values it refuses."""

import math

import pytest
from attrs import evolve
from every_case import every_case
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx
from random_networks import ALL, linear_source, power_sink, regulated, source

from upgrade_planner.electrical.network import (
    CurrentSink,
    Diode,
    Lamp,
    LawPiece,
    PowerSink,
    Regulated,
    Resistor,
    Source,
    UnusableElement,
)

voltages = st.floats(-30, 30)
STEP_V = 1e-7


@st.composite
def elements(draw, kinds=ALL):
    return draw(st.sampled_from(kinds))(draw, "x", "a", "b")


class TestLaw:
    @given(elements(), voltages)
    def test_current_is_continuous(self, element, across_v):
        """No jump anywhere: a step of 0.1 µV never changes more than the steepest law allows."""
        before_a, _ = element.law(across_v - STEP_V)
        after_a, _ = element.law(across_v + STEP_V)
        steepest_s = 1 / 1e-4
        assert abs(after_a - before_a) <= 2 * STEP_V * steepest_s * 1.001

    @given(elements())
    def test_current_is_continuous_at_its_kinks(self, element):
        kinks = [getattr(element, name, 0.0) for name in ("emf_v", "knee_v", "lowest_v", "cold_v")]
        kinks += [getattr(element, name, 0.0) for name in ("forward_v", "set_point_v")]
        for kink_v in [*kinks, *(-kink for kink in kinks)]:
            below_a, below_s = element.law(math.nextafter(kink_v, -math.inf))
            above_a, above_s = element.law(math.nextafter(kink_v, math.inf))
            rounding = 1e-14 * (1 + abs(kink_v)) * (1 + abs(below_s) + abs(above_s))
            assert above_a == approx(below_a, rel=1e-12, abs=rounding)

    @every_case("kind", dict.fromkeys(ALL))
    def test_slope_is_that_of_the_current(self, kind):
        @given(elements([kind]), voltages)
        def holds(element, across_v):
            before_a, before_s = element.law(across_v - STEP_V)
            after_a, after_s = element.law(across_v + STEP_V)
            assume(element.piece(across_v - STEP_V) == element.piece(across_v + STEP_V))
            assume(before_s == approx(after_s, rel=1e-3))  # no kink between
            measured_s = (after_a - before_a) / (2 * STEP_V)
            assert measured_s == approx(element.law(across_v)[1], rel=1e-3, abs=1e-5)

        holds()

    @given(elements([kind for kind in ALL if kind is not power_sink]), voltages, voltages)
    def test_current_never_falls_while_the_voltage_rises(self, element, one_v, other_v):
        low_v, high_v = sorted((one_v, other_v))
        assert element.law(low_v)[0] <= element.law(high_v)[0]

    @given(
        elements([kind for kind in ALL if kind not in (source, linear_source, regulated)]),
        voltages,
    )
    def test_what_is_no_source_never_gives_power(self, element, across_v):
        assert not element.is_active
        assert element.law(across_v)[0] * across_v >= 0.0

    @given(elements())
    def test_start_line_is_not_falling(self, element):
        current_a, slope_s = element.start_line
        assert slope_s >= 0.0
        assert math.isfinite(current_a)


class TestPieces:
    def test_battery_has_a_resistance_for_each_direction(self):
        battery = Source("battery", "a", "b", 12.0, 0.01, 0.05)
        assert battery.law(11.9) == (approx(-10.0), approx(100.0))
        assert battery.law(12.1) == (approx(2.0), approx(20.0))
        assert battery.piece(11.9) is LawPiece.DISCHARGING
        assert battery.piece(12.1) is LawPiece.CHARGING

    def test_current_sink_takes_nothing_from_nothing(self):
        sink = CurrentSink("unit", "a", "b", 5.0, 1.0)
        assert [sink.law(v)[0] for v in (-12.0, 0.0, 0.5, 1.0, 12.0)] == [0.0, 0.0, 2.5, 5.0, 5.0]
        assert [sink.piece(v) for v in (-1.0, 0.5, 2.0)] == [
            LawPiece.REVERSED,
            LawPiece.STARVED,
            LawPiece.CONSTANT,
        ]

    def test_symmetric_current_sink_works_either_way_round(self):
        sink = CurrentSink("unit", "a", "b", 5.0, 1.0, is_symmetric=True)
        assert [sink.law(v)[0] for v in (-12.0, -0.5, 0.5, 12.0)] == [-5.0, -2.5, 2.5, 5.0]

    def test_power_sink_takes_its_power_down_to_its_lowest_voltage(self):
        sink = PowerSink("pump", "a", "b", 60.0, 12.0, 6.0)
        assert [sink.law(v)[0] for v in (12.0, 6.0, 3.0, 0.0, -12.0)] == [5.0, 10.0, 5.0, 0.0, 0.0]

    def test_lamp_takes_more_than_half_its_current_at_half_its_voltage(self):
        lamp = Lamp("lamp", "a", "b", 24.0, 12.0)
        assert lamp.law(12.0)[0] == approx(2.0)
        assert lamp.law(6.0)[0] == approx(2.0 * 0.5**0.55)
        assert lamp.law(-6.0)[0] == approx(-2.0 * 0.5**0.55)

    def test_cold_lamp_has_a_twelfth_of_its_resistance(self):
        lamp = Lamp("lamp", "a", "b", 24.0, 12.0)
        assert 1 / lamp.law(0.0)[1] == approx(6.0 / 12, rel=0.01)
        assert lamp.piece(0.01) is LawPiece.COLD
        assert lamp.piece(1.0) is LawPiece.GLOWING

    def test_diode_leaks_below_and_conducts_above(self):
        diode = Diode("diode", "a", "b", 0.7, 0.1, leakage_s=1e-6)
        assert diode.law(-12.0)[0] == approx(-12e-6)
        assert diode.law(0.8)[0] == approx(1.0 + 0.8e-6)

    @every_case(
        ("sensed_v", "delivered_a", "piece"),
        [
            (14.5, 0.0, LawPiece.IDLE),
            (14.0, 20.0, LawPiece.REGULATING),
            (13.0, 55.0, LawPiece.AT_LIMIT),
        ],
    )
    def test_generator_delivers_by_sensed_voltage(self, sensed_v, delivered_a, piece):
        generator = Regulated("alternator", "p", "m", "s", "m", 14.2, 0.01, 55.0)
        assert generator.delivered_a(sensed_v) == approx(delivered_a)
        assert generator.piece(sensed_v) is piece

    def test_generator_at_rest_is_idle_and_no_source(self):
        generator = Regulated("alternator", "p", "m", "s", "m", 14.2, 0.01, 0.0)
        assert generator.piece(12.0) is LawPiece.IDLE
        assert not generator.is_active


GOOD = (
    Resistor("x", "a", "b", 1.0),
    Source("x", "a", "b", 12.0, 0.01, 0.02),
    CurrentSink("x", "a", "b", 1.0, 0.5),
    PowerSink("x", "a", "b", 10.0, 12.0, 6.0),
    Lamp("x", "a", "b", 21.0, 12.0),
    Diode("x", "a", "b", 0.7, 0.1),
    Regulated("x", "a", "b", "a", "b", 14.0, 0.01, 30.0),
)
NUMBERS = [
    (element, field)
    for element in GOOD
    for field in element.__attrs_attrs__
    if isinstance(getattr(element, field.name), float)
]


class TestRefusedValues:
    @every_case("value", [math.nan, math.inf, -math.inf, -1.0])
    @every_case(("element", "field"), NUMBERS)
    def test_value_that_is_no_quantity(self, element, field, value):
        with pytest.raises(UnusableElement) as caught:
            evolve(element, **{field.name: value})
        assert caught.value.subject == "x"
        assert field.name in caught.value.found

    @every_case("resistance_ohm", [0.0, 0.99e-5])
    def test_resistance_below_a_hundredth_of_a_milliohm(self, resistance_ohm):
        with pytest.raises(UnusableElement, match=r"wire 7: .*resistance_ohm.*at least 1e-05"):
            Resistor("wire 7", "a", "b", resistance_ohm)
        assert Resistor("wire 7", "a", "b", 1e-5).resistance_ohm == 1e-5

    def test_lowest_voltage_above_rated(self):
        with pytest.raises(UnusableElement, match="rated_v 6"):
            PowerSink("pump", "a", "b", 10.0, 6.0, 8.0)

    def test_lamp_exponent_above_one(self):
        with pytest.raises(UnusableElement, match="exponent"):
            Lamp("lamp", "a", "b", 21.0, 12.0, exponent=1.2)

    def test_both_sensing_leads_at_one_node(self):
        with pytest.raises(UnusableElement, match="sensing leads at s"):
            Regulated("alternator", "p", "m", "s", "s", 14.0, 0.01, 30.0)
