"""Circuits whose voltages follow from a formula."""

import math

from every_case import every_case
from pytest import approx

from upgrade_planner.electrical.network import (
    CurrentSink,
    Diode,
    Lamp,
    LawPiece,
    Network,
    PowerSink,
    Regulated,
    Resistor,
    Source,
    solve,
)


def solved(*elements, guess=None):
    return solve(Network("0", elements), guess)


def battery(emf_v=12.6, resistance_ohm=0.01, charging_resistance_ohm=0.02, plus="plus"):
    return Source(f"battery {plus}", plus, "0", emf_v, resistance_ohm, charging_resistance_ohm)


class TestLinear:
    def test_divider(self):
        solution = solved(
            battery(12.0, 1.0), Resistor("high", "plus", "tap", 2.0), Resistor("low", "tap", "0", 3)
        )
        assert solution.current_a["high"] == approx(2.0, rel=1e-12)
        assert solution.voltage_v["tap"] == approx(6.0, rel=1e-12)
        assert solution.current_a["battery plus"] == approx(-2.0, rel=1e-12)
        assert solution.piece["low"] is LawPiece.OHMIC

    @every_case("fourth_ohm", [6.0, 7.0])
    def test_wheatstone_bridge(self, fourth_ohm):
        """Balanced at 1:2 = 3:6, else the bridge current of the two dividers' Thevenin voltages."""
        arms = {("plus", "l"): 1.0, ("l", "0"): 2.0, ("plus", "r"): 3.0, ("r", "0"): fourth_ohm}
        resistors = [Resistor(f"{a}-{b}", a, b, ohm) for (a, b), ohm in arms.items()]
        stiff = Source("battery", "plus", "0", 10.0, 1e-4, 1e-4)
        solution = solved(stiff, *resistors, Resistor("bridge", "l", "r", 5.0))
        plus_v = solution.voltage_v["plus"]
        open_v = plus_v * (2 / 3 - fourth_ohm / (3 + fourth_ohm))
        inner_ohm = 2 / 3 + 3 * fourth_ohm / (3 + fourth_ohm)
        assert solution.current_a["bridge"] == approx(open_v / (inner_ohm + 5.0), abs=1e-11)
        assert (abs(solution.current_a["bridge"]) < 1e-11) == (fourth_ohm == 6.0)

    def test_two_batteries_in_parallel_share_by_resistance(self):
        solution = solved(
            battery(12.8, 0.02, 0.04, plus="one"),
            battery(12.8, 0.01, 0.04, plus="two"),
            Resistor("link one", "one", "bus", 0.001),
            Resistor("link two", "two", "bus", 0.001),
            Resistor("load", "bus", "0", 0.5),
        )
        first_s, second_s = 1 / 0.021, 1 / 0.011
        bus_v = 12.8 * (first_s + second_s) / (first_s + second_s + 2.0)
        assert solution.voltage_v["bus"] == approx(bus_v, rel=1e-12)
        assert solution.current_a["battery one"] == approx((bus_v - 12.8) * first_s, rel=1e-9)

    def test_full_battery_charges_the_flat_one(self):
        solution = solved(
            battery(12.8, 0.02, plus="full"),
            battery(11.8, 0.02, 0.05, plus="flat"),
            Resistor("jump lead", "full", "flat", 0.01),
        )
        assert solution.current_a["jump lead"] == approx(1.0 / (0.02 + 0.01 + 0.05), rel=1e-12)
        assert solution.piece["battery flat"] is LawPiece.CHARGING
        assert solution.piece["battery full"] is LawPiece.DISCHARGING


class TestNonlinear:
    def test_two_feeds_over_diodes_the_higher_one_feeds(self):
        solution = solved(
            battery(13.8, 0.05, plus="main"),
            battery(12.0, 0.05, plus="spare"),
            Diode("from main", "main", "load", 0.7, 0.02),
            Diode("from spare", "spare", "load", 0.7, 0.02),
            Resistor("load", "load", "0", 10.0),
        )
        current_a = (13.8 - 0.7) / (10.0 + 0.05 + 0.02)
        assert solution.current_a["from main"] == approx(current_a, rel=1e-12)
        assert solution.current_a["from spare"] == 0.0
        assert solution.piece["from spare"] is LawPiece.BLOCKING

    def test_lamp_of_exponent_half_behind_a_resistor_is_a_quadratic(self):
        """E = V + R k √V with k = P/V0^1.5."""
        lamp = Lamp("lamp", "far", "0", 24.0, 12.0, exponent=0.5)
        solution = solved(battery(12.0, 0.5), Resistor("wire", "plus", "far", 0.7), lamp)
        k = 24.0 / 12.0**1.5
        root = (-1.2 * k + math.sqrt((1.2 * k) ** 2 + 4 * 12.0)) / 2
        assert solution.voltage_v["far"] == approx(root**2, rel=1e-12)

    def test_power_sink_works_at_the_higher_of_its_two_voltages(self):
        """V = (E + √(E² - 4 P R))/2."""
        sink = PowerSink("pump", "far", "0", 60.0, 12.0, 4.0)
        solution = solved(battery(12.0, 0.1), Resistor("wire", "plus", "far", 0.4), sink)
        assert solution.voltage_v["far"] == approx((12 + math.sqrt(144 - 4 * 60 * 0.5)) / 2)
        assert solution.piece["pump"] is LawPiece.CONSTANT

    @every_case("guess", [None, {"plus": 12.0, "far": 12.0}, {"far": 0.5}])
    def test_power_sink_on_a_feed_too_weak_for_it_is_starved(self, guess):
        """144/(4 R) is less than its power: only the ohmic piece, R' = Vl²/P, is left."""
        sink = PowerSink("pump", "far", "0", 60.0, 12.0, 6.0)
        wire = Resistor("wire", "plus", "far", 0.9)
        solution = solved(battery(12.0, 0.1), wire, sink, guess=guess)
        assert solution.voltage_v["far"] == approx(12.0 * 0.6 / 1.6)
        assert solution.piece["pump"] is LawPiece.STARVED

    def test_guess_at_the_lower_of_two_stable_voltages_is_not_followed(self):
        """Feed of 1 Ω, 34 W: constant at 7.41 V and ohmic at 3.84 V would both balance."""
        sink = PowerSink("pump", "far", "0", 34.0, 12.0, 4.0)
        elements = battery(12.0, 0.1), Resistor("wire", "plus", "far", 0.9), sink
        low_v = 12.0 * (16 / 34) / (16 / 34 + 1.0)
        high_v = (12 + math.sqrt(144 - 4 * 34 * 1.0)) / 2
        assert low_v < 4.0 < high_v  # both lie on their pieces
        solution = solved(*elements, guess={"plus": 12.0 - 0.1 * low_v * 34 / 16, "far": low_v})
        assert solution.voltage_v["far"] == approx(high_v)

    @every_case("guess_v", [None, 4.59, 3.84, 7.41])
    def test_unstable_voltage_between_two_stable_ones_is_no_result(self, guess_v):
        """The same feed; at 4.59 V all currents balance too, but any disturbance grows."""
        sink = PowerSink("pump", "far", "0", 34.0, 12.0, 4.0)
        elements = battery(12.0, 0.1), Resistor("wire", "plus", "far", 0.9), sink
        middle_v = (12 - math.sqrt(144 - 4 * 34 * 1.0)) / 2
        assert middle_v == approx(4.59, abs=0.01)
        far_v = middle_v if guess_v == 4.59 else guess_v
        guess = None if far_v is None else {"plus": 12.0 - 0.1 * 34 / far_v, "far": far_v}
        assert solved(*elements, guess=guess).voltage_v["far"] == approx(7.4142, abs=1e-4)

    def test_power_sink_behind_a_constant_current_works_at_the_higher_voltage_too(self):
        """Near the full voltage the constant current is ohmic, R = Vk/I; far below it is not."""
        series = CurrentSink("series unit", "plus", "far", 0.8, 0.7)
        sink = PowerSink("pump", "far", "0", 6.2, 12.0, 5.5)
        solution = solved(battery(12.6, 0.01), series, sink)
        resistance_ohm = 0.7 / 0.8 + 0.01
        expected_v = (12.6 + math.sqrt(12.6**2 - 4 * 6.2 * resistance_ohm)) / 2
        assert solution.voltage_v["far"] == approx(expected_v)

    @every_case(
        ("current_a", "far_v", "piece"),
        [(4.0, 12.0 - 4.0, LawPiece.CONSTANT), (20.0, 12.0 / 21, LawPiece.STARVED)],
    )
    def test_current_sink_above_and_below_its_knee(self, current_a, far_v, piece):
        sink = CurrentSink("unit", "far", "0", current_a, 1.0)
        solution = solved(battery(12.0, 0.1), Resistor("wire", "plus", "far", 0.9), sink)
        assert solution.voltage_v["far"] == approx(far_v)
        assert solution.piece["unit"] is piece

    def test_diode_leakage_alone_is_a_divider(self):
        solution = solved(
            battery(12.0, 0.1),
            Diode("diode", "far", "plus", 0.7, 0.1, leakage_s=1e-6),
            Resistor("meter", "far", "0", 1e6),
        )
        assert solution.voltage_v["far"] == approx(6.0, rel=1e-6)


class TestRegulated:
    """
    Output, 0.05 Ω of wire, then battery (12.6 V, charging at 0.02 Ω) and load at the bus.
    """

    WIRE_OHM, CHARGING_OHM, DROOP_OHM, SET_POINT_V = 0.05, 0.02, 0.01, 14.2

    def circuit(self, sense, limit_a, set_point_v=SET_POINT_V, load_a=5.0):
        generator = Regulated(
            "alternator", "output", "0", sense, "0", set_point_v, self.DROOP_OHM, limit_a
        )
        wire = Resistor("wire", "output", "plus", self.WIRE_OHM)
        return solved(battery(), generator, wire, CurrentSink("load", "plus", "0", load_a, 0.5))

    def test_sensing_at_its_output_it_loses_the_drop_of_the_wire(self):
        solution = self.circuit("output", 200.0)
        inner_ohm = self.WIRE_OHM + self.CHARGING_OHM
        current_a = (14.2 - 12.6 + 5.0 * self.CHARGING_OHM) / (inner_ohm + self.DROOP_OHM)
        assert solution.piece["alternator"] is LawPiece.REGULATING
        assert solution.current_a["alternator"] == approx(-current_a, rel=1e-12)

    def test_sensing_at_the_bus_it_makes_up_for_the_drop_of_the_wire(self):
        solution = self.circuit("plus", 200.0)
        current_a = (14.2 - 12.6 + 5.0 * self.CHARGING_OHM) / (self.CHARGING_OHM + self.DROOP_OHM)
        assert solution.piece["alternator"] is LawPiece.REGULATING
        assert solution.current_a["alternator"] == approx(-current_a, rel=1e-12)
        output_v = solution.voltage_v["plus"] + current_a * self.WIRE_OHM
        assert solution.voltage_v["output"] == approx(output_v)

    @every_case("sense", ["output", "plus"])
    def test_at_its_limit_it_delivers_that(self, sense):
        solution = self.circuit(sense, 15.0)
        assert solution.piece["alternator"] is LawPiece.AT_LIMIT
        assert solution.current_a["alternator"] == -15.0
        assert solution.voltage_v["plus"] == approx(12.6 + 10.0 * self.CHARGING_OHM)

    @every_case("sense", ["output", "plus"])
    def test_with_the_battery_above_its_set_point_it_idles(self, sense):
        solution = self.circuit(sense, 60.0, set_point_v=12.5, load_a=5.0)
        assert solution.piece["alternator"] is LawPiece.IDLE
        assert solution.current_a["alternator"] == 0.0
        assert solution.voltage_v["plus"] == approx(12.6 - 5.0 * 0.01)

    @every_case("limit_a", [0.0, 20.0, 60.0])
    def test_resistance_in_the_sensing_lead_changes_nothing_without_current_in_it(self, limit_a):
        plain = self.circuit("plus", limit_a)
        generator = Regulated("alternator", "output", "0", "sense", "0", 14.2, 0.01, limit_a)
        wire = Resistor("wire", "output", "plus", self.WIRE_OHM)
        lead = Resistor("lead", "sense", "plus", 100.0)
        load = CurrentSink("load", "plus", "0", 5.0, 0.5)
        leaded = solved(battery(), generator, wire, load, lead)
        assert leaded.current_a["alternator"] == approx(plain.current_a["alternator"], rel=1e-9)

    def test_resistance_in_the_sensing_lead_raises_the_voltage_if_the_regulator_takes_current(self):
        """10 Ω of joint against 200 Ω of regulator: the bus is held at 210/200 of the voltage."""
        generator = Regulated("alternator", "plus", "0", "sense", "0", 14.0, 0.001, 500.0)
        joint, coil = Resistor("joint", "plus", "sense", 10.0), Resistor("coil", "sense", "0", 200)
        solution = solved(battery(), generator, joint, coil)
        assert solution.voltage_v["sense"] == approx(14.0, rel=0.01)
        assert solution.voltage_v["plus"] == approx(solution.voltage_v["sense"] * 1.05)

    def test_of_two_generators_the_higher_set_point_carries_the_load_up_to_its_limit(self):
        high = Regulated("high", "plus", "0", "plus", "0", 14.4, 0.001, 30.0)
        low = Regulated("low", "plus", "0", "plus", "0", 13.8, 0.001, 30.0)
        for load_a, pieces in (
            (10.0, (LawPiece.REGULATING, LawPiece.IDLE)),
            (40.0, (LawPiece.AT_LIMIT, LawPiece.REGULATING)),
            (100.0, (LawPiece.AT_LIMIT, LawPiece.AT_LIMIT)),
        ):
            load = CurrentSink("load", "plus", "0", load_a, 0.5)
            solution = solved(battery(12.6, 0.01, 0.1), high, low, load)
            assert (solution.piece["high"], solution.piece["low"]) == pieces
