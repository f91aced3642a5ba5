"""Figures that driver and owner notice: against loops worked by hand and facts of the trade."""

import pytest
from every_case import every_case

from upgrade_planner.electrical.circuit import wire_ohms
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.electrical.performance import STILL_FIRES_V, performance


@pytest.fixture(scope="module")
def figures(load):
    from functools import cache

    @cache
    def of(name):
        configuration = load(name)
        return performance(configuration, operating_points(configuration))

    return of


class TestIgnition:
    def test_resistance_wire_leaves_the_coil_about_half(self, load):
        # Common practice: with 1.35 ohm in the feed the coil sees about half the system voltage.
        point = operating_points(load("van_original_resistance"))["key_on"]
        coil = load("van_original_resistance").component("coil")
        across = abs(point.element_current_a("coil")) * coil.ratings["primary_resistance"]
        assert 0.45 <= across / point.battery_v <= 0.55

    def test_coil_current_is_that_of_the_series_loop(self, load):
        """Worked by hand; the tachometer's 10 kΩ beside the points is left out."""
        configuration = load("van_original_resistance")
        point = operating_points(configuration)["key_on"]
        current = abs(point.element_current_a("coil"))
        loop = configuration.component("coil").ratings["primary_resistance"] + assumed.POINTS_OHM
        for name in ("ignition-resistance", "points-lead"):
            wire = configuration.wire_by_id[name]
            loop += wire_ohms(wire, configuration, point.temperature_c[name])
        loop += assumed.MOUNTING_OHM  # distributor on the engine
        feed = configuration.wire_by_id["ignition-resistance"].start
        supply, metal = point.live_v(feed), point.node_v("metal.engine")
        assert current == pytest.approx((supply - metal) / loop, rel=1e-6)

    def test_bypass_gives_nearly_battery_voltage_while_cranking(self, figures):
        # Common practice; the limit of 9 V is a British workshop manual's, 1960s.
        assert figures("van_original_ballast").ignition_cranking_v > 9.0

    def test_electronic_unit_gets_full_voltage(self, figures):
        assert figures("van_upgraded").ignition_run_v > 13.0
        # the mean at 1500 r/min: about 11.0 V by a transient simulation, 7.4 V with points shut
        assert figures("van_original_resistance").ignition_run_v == pytest.approx(11.0, abs=0.2)

    def test_mean_of_unit_and_of_points_are_set_side_by_side(self, figures):
        assert (
            figures("van_upgraded").ignition_run_a
            > figures("van_original_resistance").ignition_run_a
        )

    def test_bypassed_resistance_wire_raises_the_coil_current(self, figures):
        found, built = figures("van_as_found"), figures("van_original_resistance")
        assert found.ignition_run_a > 1.3 * built.ignition_run_a

    def test_energy_falls_with_speed_with_points_and_not_with_the_unit(self, figures):
        slow, fast = figures("van_original_resistance").sparks
        assert fast.energy_j < slow.energy_j
        slow, fast = figures("van_upgraded").sparks
        assert fast.energy_j == pytest.approx(slow.energy_j)


class TestCharging:
    @every_case("name", ["van_upgraded", "tractor_upgraded"])
    def test_upgraded_vehicles_charge_at_idle_and_loaded(self, figures, name):
        assert figures(name).idle_charge_a > 0
        assert figures(name).loaded_charge_a > 0
        assert 13.5 < figures(name).loaded_battery_v < 14.9

    def test_heavier_output_wire_loses_less(self, figures):
        assert (
            figures("van_upgraded").output_drop_v < figures("van_original_resistance").output_drop_v
        )

    def test_spare_output_grows_with_the_machine(self, figures):
        assert (
            figures("van_upgraded").spare_output_a > figures("van_original_ballast").spare_output_a
        )


class TestKeyOff:
    @every_case(
        "name",
        ["van_original_resistance", "van_original_ballast", "van_upgraded", "tractor_upgraded"],
    )
    def test_shipped_vehicles_stop_and_draw_nothing(self, figures, name):
        assert figures(name).stops
        assert figures(name).key_off_v < STILL_FIRES_V
        assert figures(name).standing_a == pytest.approx(0.0, abs=1e-6)
