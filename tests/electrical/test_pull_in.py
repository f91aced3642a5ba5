"""The moment in which a solenoid pulls in, by hand and against published currents of windings."""

import pytest
from every_case import every_case
from pair_facts import points, sized

from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.electrical.pull_in import least_pull_in_v, pull_in_of

WITH_SOLENOID = ("van_upgraded", "tractor_original", "launch_complete", "pickup_gear_starter")


def moment(name):
    return pull_in_of(sized(name).component("starter"), points(name)["cranking"])


@every_case("name", WITH_SOLENOID)
def test_both_windings_draw_what_their_resistances_allow(name):
    found, ratings = moment(name), sized(name).component("starter").ratings
    ohms = [ratings["pull_in_resistance"], ratings["hold_in_resistance"]]
    by_hand_a = sum(found.solenoid_v / one for one in ohms)
    assert found.current_a == pytest.approx(by_hand_a, rel=1e-6)
    # workshop manual of a saloon, 1996, step 9.3: both windings 60 to 85 A at 10 V; army manuals
    # 69 to 74 A; TM 5-3895-382-24 about 45 A for a smaller one
    assert 40 <= found.current_a * 10 / found.solenoid_v <= 85


@every_case("name", WITH_SOLENOID)
def test_the_battery_sags_less_than_while_cranking_and_the_signal_more(name):
    found, cranking = moment(name), points(name)["cranking"]
    assert found.battery_v > cranking.battery_v
    windings = sized(name).component("starter").ratings
    assert found.current_a > cranking.battery_v / windings["hold_in_resistance"]


def test_least_voltages_are_those_published():
    assert [least_pull_in_v(volts) for volts in (6.0, 12.0, 24.0)] == [4.0, 8.0, 18.0]


@every_case("name", sorted(shipped_profiles("configuration")))
def test_every_shipped_solenoid_pulls_in(name):
    for starter in sized(name).components:
        point = points(name).get("cranking")
        found = pull_in_of(starter, point) if point else None
        if found is not None and found.current_a > 1:
            assert found.solenoid_v > least_pull_in_v(sized(name).vehicle.voltage_v)


def test_a_starter_whose_windings_are_not_given_has_no_such_moment():
    starter = sized("saloon_original").component("starter")
    assert pull_in_of(starter, points("saloon_original")["cranking"]) is None
