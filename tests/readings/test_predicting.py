"""Expected ranges: round the nominal value, as wide as the tolerances, none where none can be."""

import pytest
from attrs import evolve
from every_case import every_case
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.electrical.circuit import wire_name
from upgrade_planner.electrical.network import Network, solve
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.planning.facts import facts_of
from upgrade_planner.planning.standing_data import readings
from upgrade_planner.readings.points import placed
from upgrade_planner.readings.predicting import points_for, predicted
from upgrade_planner.readings.tolerances import TOLERANCES

CONFIGURATIONS = sorted({name for pair in SHIPPED_PAIRS for name in pair})


def shown_in(configuration):
    """The readings of the test table for one configuration."""
    return [
        r.point for r in readings(facts_of(compare(configuration, configuration)), configuration)
    ]


@every_case("name", CONFIGURATIONS)
def test_ranges_contain_the_nominal_value(load, name):
    ranges = predicted(shown_in(load(name)), load(name))
    assert ranges
    for expected in ranges.values():
        assert expected.low_v <= expected.nominal_v <= expected.high_v


@every_case("name", CONFIGURATIONS)
def test_nominal_value_is_that_of_the_operating_point(load, name, reading):
    battery = reading("loaded", "battery.live", "battery.grounded")
    point = points_for([battery], load(name))["loaded"]
    found = predicted([battery], load(name))["reading"]
    assert found.nominal_v == pytest.approx(point.battery_v, abs=1e-6)


@settings(max_examples=8)
@given(widths=st.tuples(st.floats(0, 1.5), st.floats(0, 1.5)).map(sorted))
def test_wider_tolerance_never_narrows_a_range(widths):
    from upgrade_planner.configuration.loading import load_configuration

    configuration = load_configuration("tractor_original")
    shown = shown_in(configuration)
    points = points_for(shown, configuration)
    narrow, wide = (predicted(shown, configuration, points, width) for width in widths)
    for name, inner in narrow.items():
        assert wide[name].low_v <= inner.low_v + 1e-6
        assert wide[name].high_v >= inner.high_v - 1e-6


def test_without_tolerance_the_range_is_the_nominal_value(load):
    for expected in predicted(
        shown_in(load("van_upgraded")), load("van_upgraded"), width=0
    ).values():
        assert expected.low_v == expected.nominal_v == expected.high_v


def test_each_tolerance_has_a_name_and_a_source():
    assert len({tolerance.name for tolerance in TOLERANCES}) == len(TOLERANCES)
    for tolerance in TOLERANCES:
        assert tolerance.source
        assert tolerance.low <= 1 <= tolerance.high


class TestNotMeasurable:
    def test_terminal_that_only_the_new_machine_has(self, load, reading):
        sense = reading("loaded", "main_junction.stud", "alternator.sense")
        assert predicted([sense], load("van_original_ballast")) == {"reading": None}
        assert predicted([sense], load("van_upgraded"))["reading"] is not None

    def test_terminal_that_nothing_is_wired_to(self, load, reading):
        spare = reading("key_on", "ignition_switch.run", "metal.body")
        assert predicted([spare], load("van_upgraded")) == {"reading": None}


def test_ballasted_coil_drop_is_inside_the_published_range(load, reading):
    # NAVEDTRA 14329, running ignition circuit test: battery to coil 4.5 to 6.9 V, points closed
    drop = reading("key_on", "battery.live", "coil.feed")
    for name in ("van_original_resistance", "van_original_ballast", "tractor_original"):
        expected = predicted([drop], load(name))["reading"]
        assert expected.low_v >= 4.5, name
        assert expected.high_v <= 6.9, name


@pytest.mark.parametrize("name", CONFIGURATIONS)
def test_positive_ground_reads_alike(load, name, mirror):
    configuration = load(name)
    shown = shown_in(configuration)
    here, there = predicted(shown, configuration), predicted(shown, mirror(configuration))
    assert here.keys() == there.keys()
    for key, expected in here.items():
        other = there[key]
        assert (other.low_v, other.nominal_v, other.high_v) == pytest.approx(
            (expected.low_v, expected.nominal_v, expected.high_v), abs=1e-6
        )


class TestOtherVoltages:
    def test_no_limit_of_twelve_volts_on_a_six_volt_vehicle(self, load):
        six = _six_volts(load("van_original_ballast"))
        shown = readings(facts_of(compare(six, six)), six)
        limits = {reading.id: reading.limit for reading in shown if reading.limit}
        assert len(shown) > 1
        assert list(limits) == ["battery-cranking"]
        assert limits["battery-cranking"].min_v == 4.8  # TM 5-4210-230-14&P-1, table 5, 21 °C

    def test_the_voltage_after_the_work_decides(self, load):
        twelve = load("van_original_ballast")
        shown = readings(facts_of(compare(_six_volts(twelve), twelve)), twelve)
        limits = {reading.id: reading.limit for reading in shown}
        assert limits["battery-cranking"].min_v == 9.6
        assert limits["charging-voltage"].max_v == 14.7

    def test_readings_are_predicted_all_the_same(self, load, reading):
        battery = reading("key_on", "battery.live", "battery.grounded")
        expected = predicted([battery], _six_volts(load("van_original_ballast")))["reading"]
        assert 6.0 < expected.low_v < expected.high_v < 6.6


def _six_volts(configuration):
    parts = tuple(
        evolve(part, ratings={**part.ratings, "emf": 6.3}) if part.kind == "battery" else part
        for part in configuration.components
    )
    vehicle = evolve(configuration.vehicle, voltage_v=6.0)
    return evolve(configuration, vehicle=vehicle, components=parts)


CRANKED = ["saloon_original", "van_upgraded", "roadster_original", "tractor_original"]


@every_case("name", CRANKED)
@every_case("side", ["starter-live-path", "starter-ground-path"])
def test_a_joint_that_costs_a_fifth_of_a_volt_shows_in_the_cranking_path(load, name, side):
    configuration = load(name)
    (shown,) = (point for point in shown_in(configuration) if point.id == side)
    points = points_for([shown], configuration)
    expected = predicted([shown], configuration, points)[side]
    base = points["cranking"].solution
    probes = placed(shown, configuration)
    cable = max(
        (wire_name(wire.id) for wire in configuration.wires if _lies_between(wire, probes, base)),
        key=lambda wire: abs(base.current_a[wire]),
    )
    added_ohm = 0.2 / abs(base.current_a[cable])
    elements = tuple(
        evolve(e, resistance_ohm=e.resistance_ohm + added_ohm) if e.name == cable else e
        for e in base.network.elements
    )
    shown_v = probes.value_v(solve(Network(base.network.reference, elements), base.voltage_v))
    assert shown_v > expected.high_v + 0.02
    assert expected.low_v > 0.4 * expected.nominal_v


def _lies_between(wire, probes, solution):
    """True if a wire's ends have voltages between those of the probes."""
    ends = [solution.voltage_v.get(str(ref)) for ref in wire.ends]
    low, high = sorted(solution.voltage_v[p.node] for p in (probes.live, probes.ground))
    return all(volts is not None and low - 1e-9 <= volts <= high + 1e-9 for volts in ends)


def test_live_path_of_the_saloon_strays_as_its_copper_and_its_own_joints_do():
    (configuration,) = load_sized("saloon_original")
    (shown,) = (p for p in shown_in(configuration) if p.id == "starter-live-path")
    expected = predicted([shown], configuration)["starter-live-path"]
    assert 0.14 <= expected.low_v < expected.high_v <= 0.32
