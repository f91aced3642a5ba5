"""The walk round a vehicle and the values worth measuring on it."""

import pytest
from attrs import evolve
from every_case import every_case

from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.inspection.measuring import COIL_FEED, expected_wire_resistance
from upgrade_planner.inspection.walk import inspection

NAMES = ["van_as_found", "van_original_ballast", "van_upgraded", "tractor_original"]


@pytest.fixture(params=NAMES)
def walked(request, load):
    return inspection(load(request.param))


def at(walked, kind, name):
    return walked.measurement_of.get((kind, name))


class TestWalk:
    def test_places_come_in_walking_order(self, walked):
        order = [stop.place.walk for stop in walked.stops]
        assert order == sorted(order)

    def test_every_wire_stands_once_at_its_first_place(self, walked):
        configuration = walked.configuration
        listed = [(wire.id, stop.place) for stop in walked.stops for wire in stop.wires]
        assert sorted(name for name, _ in listed) == sorted(configuration.wire_by_id)
        for name, place in listed:
            walks = [
                configuration.place_of(ref).walk for ref in configuration.wire_by_id[name].ends
            ]
            assert place.walk == min(walks)

    def test_every_far_end_is_named_at_its_place(self, walked):
        configuration = walked.configuration
        for wire in configuration.wires:
            places = {configuration.place_of(ref).id for ref in wire.ends}
            met = {s.place.id for s in walked.stops if wire in s.wires or wire in s.ends_here}
            assert met == places

    def test_every_part_stands_once(self, walked):
        listed = [part.role for stop in walked.stops for part in stop.parts]
        assert sorted(listed) == sorted(walked.configuration.component_by_role)


class TestWhatIsMeasured:
    def test_every_resistance_wire_and_no_plain_feed(self, walked):
        for wire in walked.configuration.wires:
            found = at(walked, "wire", wire.id)
            if wire.conductor is Conductor.RESISTANCE:
                assert found.dimension is Dimension.RESISTANCE
                assert found.low < wire.resistance_ohm < found.high
            elif wire.circuit in ("lamps", "horn", "main feed", "distribution"):
                assert found is None

    def test_every_ground_path(self, walked):
        for wire in walked.configuration.wires:
            if wire.circuit in ("ground", "battery cable"):
                assert at(walked, "wire", wire.id) is not None

    def test_every_range_holds_its_nominal_value(self, walked):
        for found in walked.measurements:
            assert 0 <= found.low <= found.nominal <= found.high

    def test_ballast_by_its_tolerance_and_the_step_of_a_meter(self, load):
        # 1.4 ohm less and more ten percent, rounded outwards to tenths
        found = at(inspection(load("tractor_original")), "part", "ballast")
        assert (found.low, found.high) == (1.2, 1.6)
        assert found.between == ("ballast.in", "ballast.out")
        assert found.rating == "resistance"

    def test_battery_at_rest(self, load):
        found = at(inspection(load("van_original_ballast")), "part", "battery")
        assert found.state == "off"
        assert (found.low, found.high) == (12.4, 12.8)

    def test_bypassed_resistance_is_seen_at_the_coil(self, load):
        sound = at(inspection(load("van_original_resistance")), "reading", COIL_FEED)
        bypassed = at(inspection(load("van_as_found")), "reading", COIL_FEED)
        assert bypassed.nominal > sound.high + 3

    def test_electronic_unit_has_no_coil_to_measure(self, load):
        kinds = {(f.kind, f.id) for f in inspection(load("van_upgraded")).measurements}
        assert ("part", "coil") not in kinds
        assert ("reading", COIL_FEED) not in kinds

    def test_field_only_where_it_can_be_reached(self, load):
        old = at(inspection(load("van_original_ballast")), "part", "alternator")
        assert old.between == ("alternator.field", "alternator.case")
        assert old.low < 5.0 < old.high
        assert at(inspection(load("van_upgraded")), "part", "alternator") is None

    @every_case(("circuit", "far"), [("A", "dynamo.armature"), ("B", "dynamo.case")])
    def test_field_of_a_dynamo_by_its_circuit(self, load, circuit, far):
        saloon = load("saloon_original")
        parts = tuple(
            evolve(part, ratings={**part.ratings, "field_circuit": circuit})
            if part.role == "dynamo"
            else part
            for part in saloon.components
        )
        found = at(inspection(evolve(saloon, components=parts)), "part", "dynamo")
        assert found.between == ("dynamo.field", far)
        assert "other circuit" in found.if_high

    def test_positive_ground_reads_without_a_minus(self, load):
        for found in inspection(load("saloon_original")).measurements:
            assert 0 <= found.low <= found.nominal <= found.high

    def test_heavy_ground_paths_are_measured_while_cranking(self, load):
        found = at(inspection(load("van_original_ballast")), "wire", "battery-ground")
        assert (found.dimension, found.state) == (Dimension.VOLTAGE, "cranking")

    def test_thin_ground_wires_in_ohms(self, load):
        found = at(inspection(load("van_original_ballast")), "wire", "regulator-ground")
        assert (found.dimension, found.low, found.high) == (Dimension.RESISTANCE, 0.0, 0.1)


class TestWireAsFound:
    def test_thinner_and_longer_wire_may_show_more(self, load):
        van = load("van_original_ballast")
        wire = van.wire_by_id["horn"]
        thin = evolve(wire, size=parse_wire_size("24 AWG"))
        assert (
            expected_wire_resistance(thin, van).nominal
            > 2 * expected_wire_resistance(wire, van).nominal
        )
        assert expected_wire_resistance(wire, van, 100.0).nominal > 1.0

    def test_plain_wire_where_a_resistance_was(self, load):
        van = load("van_original_resistance")
        plain = evolve(van.wire_by_id["ignition-resistance"], conductor=Conductor.COPPER)
        assert expected_wire_resistance(plain, van).high < 0.5
        assert expected_wire_resistance(plain, van).rating == ""
