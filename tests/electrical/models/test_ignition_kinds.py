"""Modules, discharge units and coil packs: loops worked by hand, both polarities, the figures."""

import pytest
from every_case import every_case

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.circuit import wire_ohms
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.ignition_units import SWITCH_OHM, TRIGGER_OHM
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.electrical.performance import ignition_unit, performance, switched_by

POSITIVE = """
[configuration]
title = "positive ground"
summary = "The same wiring with the other post on ground."
based_on = "{base}"
ground = "positive"
"""

TURNED = """
[overrides.discharge_unit]
polarity = "either"

[changes]
change_wires = [
  { id = "unit-supply", to = "discharge_unit.battery_negative" },
  { id = "unit-return", from = "discharge_unit.battery_positive" },
]
"""

METER = """
[configuration]
title = "meter"
summary = "A current-sensing tachometer in the feed of the coil."
based_on = "van_original_ballast"

[changes]
change_wires = [{ id = "ignition-feed", from = "old_meter.out" }]
add_wires = [
  { id = "meter-feed", circuit = "ignition feed", from = "ignition_switch.ignition", to = "old_meter.in", size = "10 SAE", colour = "WH", insulation = "GPT" },
  { id = "meter-supply", circuit = "gauges", from = "ignition_switch.ignition", to = "old_meter.supply", size = "16 SAE", colour = "WH", insulation = "GPT" },
]

[[changes.add_component]]
role = "old_meter"
kind = "tachometer_current_sensing"
name = "Old tachometer"
place = "behind_dash"
terminals = [
  { name = "in", label = "in", connection = "blade 6.3 mm" },
  { name = "out", label = "out", connection = "blade 6.3 mm" },
  { name = "supply", label = "15", connection = "blade 6.3 mm" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { resistance = "0.05 ohm", supply_current = "0.2 A" }
"""  # noqa: E501

STATES = ("off", "key_on", "cranking", "idling", "loaded", "coasting")
SORTS = ("van_trigger_module", "van_external_module", "van_coil_pack", "van_full_voltage_points")


@pytest.fixture(scope="module")
def points(load):
    from functools import cache

    return cache(lambda name: operating_points(load(name)))


@pytest.fixture(scope="module")
def figures(load, points):
    return lambda name: performance(load(name), points(name))


def written(text, tmp_path):
    path = tmp_path / "changed.toml"
    path.write_text(text, encoding="utf-8")
    return load_configuration(str(path))


class TestModule:
    def test_coil_current_is_that_of_the_loop(self, load, points):
        """Ballast, coil, transistor, wires and mounting; the meter's 10 kΩ is left out."""
        configuration, point = load("van_trigger_module"), points("van_trigger_module")["key_on"]
        loop = SWITCH_OHM + assumed.MOUNTING_OHM
        loop += configuration.component("coil").ratings["primary_resistance"]
        loop += configuration.component("ballast").ratings["resistance"]
        for name in ("coil-feed", "points-lead"):
            wire = configuration.wire_by_id[name]
            loop += wire_ohms(wire, configuration, point.temperature_c[name])
        supply = point.live_v(TerminalRef("ballast", "in"))
        across = supply - point.node_v("metal.engine")
        assert abs(point.element_current_a("coil")) == pytest.approx(across / loop, rel=1e-3)

    def test_module_keeps_full_voltage_while_the_coil_has_half(self, points):
        point = points("van_trigger_module")["loaded"]
        module = point.live_v(TerminalRef("distributor", "supply"))
        coil = point.live_v(TerminalRef("coil", "positive"))
        assert module > 13.0
        assert coil < 9.0

    def test_pick_up_is_joined_to_the_module_alone(self, points):
        point = points("van_external_module")["key_on"]
        assert abs(point.element_current_a("distributor")) < 1e-6


class TestDischargeUnit:
    def test_heavy_pair_works_and_rests(self, points):
        found = points("van_discharge_unit_pick_up")
        for state, amps in (("off", 0.0), ("key_on", 0.0), ("loaded", 6.0), ("coasting", 0.0)):
            current = found[state].wire_current_a("unit-supply")
            assert current == pytest.approx(amps, abs=1e-6), state

    def test_points_only_trigger(self, points):
        point = points("van_discharge_unit")["key_on"]
        switched = point.live_v(TerminalRef("discharge_unit", "switched"))
        current = abs(point.wire_current_a("points-lead"))
        assert current == pytest.approx(switched / TRIGGER_OHM, rel=0.01)
        assert current < 0.6

    def test_nothing_flows_in_the_coil_at_direct_current(self, points):
        for state in STATES:
            point = points("van_discharge_unit")[state]
            assert abs(point.element_current_a("coil")) < 1e-9, state

    def test_it_works_turned_round_on_positive_ground(self, tmp_path):
        text = POSITIVE.format(base="van_discharge_unit_pick_up") + TURNED
        configuration = written(text, tmp_path)
        found = operating_points(configuration)
        assert abs(found["loaded"].wire_current_a("unit-supply")) == pytest.approx(6.0, abs=1e-6)
        switched = abs(found["loaded"].wire_current_a("ignition-feed"))
        assert switched == pytest.approx(assumed.UNIT_RESTING_A, rel=1e-6)
        assert performance(configuration, found).ignition_run_v > 13.0


class TestCoilPack:
    def test_coils_together_draw_the_mean_of_one_unit(self, load, points):
        controller = load("van_coil_pack").component("ignition_controller")
        mean = assumed.UNIT_DUTY_RATIO * controller.ratings["maximum_current"]
        point = points("van_coil_pack")["loaded"]
        drives = [point.wire_current_a(f"coil-drive-{number}") for number in (1, 2, 3)]
        assert sum(map(abs, drives)) == pytest.approx(mean, rel=1e-6)

    def test_stopped_engine_draws_nothing_through_the_coils(self, points):
        point = points("van_coil_pack")["key_on"]
        assert abs(point.wire_current_a("coil-drive-1")) < 0.01

    def test_four_cylinders_do_with_two_coils(self, tmp_path):
        """As the comment of the system says: third terminals and third drive wire left out."""
        blade = 'connection = "blade 6.3 mm"'
        pins = ("supply", "ground", "drive_1", "drive_2", "trigger_plus", "trigger_minus")
        controller = "".join(f'{{ name = "{n}", label = "{n}", {blade} }},' for n in pins)
        coils = "".join(
            f'{{ name = "{n}", label = "{n}", {blade} }},'
            for n in ("supply", "primary_1", "primary_2")
        )
        text = f"""
[configuration]
title = "four"
summary = "Two coils."
vehicle = "row_tractor"

[systems]
ignition = "distributorless_coil_pack"
charging = "alternator_external_regulator"
starting = "solenoid_on_starter"

[overrides.ignition_controller]
cylinders = 4

[changes]
remove_wires = ["coil-drive-3"]

[[changes.change_component]]
role = "coil_pack"
terminals = [{coils}]

[[changes.change_component]]
role = "ignition_controller"
terminals = [{controller}]
"""
        point = operating_points(written(text, tmp_path))["loaded"]
        drives = [abs(point.wire_current_a(f"coil-drive-{number}")) for number in (1, 2)]
        assert sum(drives) == pytest.approx(assumed.UNIT_DUTY_RATIO * 7.0, rel=1e-6)


def test_current_sensing_tachometer_stands_in_the_feed(tmp_path):
    configuration = written(METER, tmp_path)
    point = operating_points(configuration)["key_on"]
    coil = abs(point.element_current_a("coil"))
    across = point.live_v(TerminalRef("old_meter", "in")) - point.live_v(
        TerminalRef("old_meter", "out")
    )
    assert coil > 3.0
    assert across == pytest.approx(0.05 * coil, rel=1e-6)
    assert abs(point.wire_current_a("meter-supply")) == pytest.approx(0.2, rel=1e-6)


@every_case("base", SORTS[:3])  # the fourth has a diode, which must be turned too
def test_polarity_changes_no_current(base, tmp_path, points):
    """The same parts with the other post on ground: every current the same, turned round."""
    turned = operating_points(written(POSITIVE.format(base=base), tmp_path))
    for state in STATES:
        one, other = points(base)[state], turned[state]
        for wire in one.configuration.wires:
            here, there = one.wire_current_a(wire.id), other.wire_current_a(wire.id)
            assert abs(there) == pytest.approx(abs(here), rel=1e-3, abs=1e-3), (state, wire.id)


class TestFigures:
    @every_case(
        ("name", "unit"),
        [
            ("van_original_ballast", "coil.positive"),
            ("van_trigger_module", "coil.positive"),
            ("van_upgraded", "distributor.supply"),
            ("van_coil_pack", "coil_pack.supply"),
            ("van_discharge_unit", "discharge_unit.battery_positive"),
        ],
    )
    def test_where_the_ignition_takes_its_current(self, load, name, unit):
        assert str(ignition_unit(load(name))) == unit

    def test_coil_on_positive_ground_is_fed_at_its_negative_terminal(self, tmp_path, figures):
        configuration = written(POSITIVE.format(base="van_trigger_module"), tmp_path)
        assert str(ignition_unit(configuration)) == "coil.negative"
        turned = performance(configuration, operating_points(configuration))
        assert turned.ignition_run_v == pytest.approx(
            figures("van_trigger_module").ignition_run_v, rel=1e-3
        )

    def test_coil_that_is_fed_at_the_wrong_pole_is_measured_where_it_is_fed(self, tmp_path):
        text = """
[configuration]
title = "swapped"
summary = "Coil leads changed over."
based_on = "van_original_resistance"

[as_found]
change_wires = [
  { id = "ignition-resistance", to = "coil.negative" },
  { id = "start-bypass", to = "coil.negative" },
  { id = "points-lead", from = "coil.positive" },
  { id = "tachometer", from = "coil.positive" },
]
"""
        configuration = written(text, tmp_path)
        assert str(ignition_unit(configuration)) == "coil.negative"

    def test_key_wakes_a_discharge_unit_by_its_light_lead(self, load):
        assert str(switched_by(load("van_discharge_unit"))) == "discharge_unit.switched"
        assert str(switched_by(load("van_coil_pack"))) == "coil_pack.supply"

    @every_case(
        "name",
        [*SORTS, "van_discharge_unit", "van_discharge_unit_pick_up", "tractor_trigger_module"],
    )
    def test_every_sort_has_its_figures_and_stops(self, figures, name):
        found = figures(name)
        assert found.ignition_run_v > 5.0
        assert found.ignition_cranking_v > 8.0
        assert found.ignition_run_a > 1.0
        assert found.stops
        assert found.standing_a == pytest.approx(0.0, abs=1e-6)
        assert len(found.sparks) == 2

    def test_discharge_energy_is_half_c_v_squared_at_every_speed(self, figures):
        """1 µF at 400 V: 80 mJ, worked by hand; a capacitor has no primary current."""
        for spark in figures("van_discharge_unit").sparks:
            assert spark.energy_j == pytest.approx(0.080, rel=1e-9)
            assert spark.current_a is None

    def test_discharge_energy_is_never_invented(self, tmp_path):
        text = """
[configuration]
title = "bare"
summary = "A unit whose leaflet is lost."
based_on = "van_discharge_unit"

[[changes.change_component]]
role = "discharge_unit"
kind = "capacitor_discharge_unit"
ratings = { supply_current = "6 A" }
"""
        configuration = written(text, tmp_path)
        assert performance(configuration, operating_points(configuration)).sparks == ()

    def test_module_with_the_coil_of_points_does_not_beat_them_by_much(self, figures):
        """Same coil, same ballast, nearly the same closed time."""
        points = figures("van_original_ballast").sparks[1]
        module = figures("van_trigger_module").sparks[1]
        assert module.energy_j == pytest.approx(points.energy_j, rel=0.2)

    def test_coil_pack_reaches_its_limit_where_points_have_long_faded(self, figures, load):
        limit = load("van_coil_pack").component("ignition_controller").ratings["maximum_current"]
        assert figures("van_coil_pack").sparks[1].current_a == pytest.approx(limit)
        fast = figures("van_original_ballast").sparks[1].current_a
        slow = figures("van_original_ballast").sparks[0].current_a
        assert fast < slow
