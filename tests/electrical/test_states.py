"""What shipped vehicles do in every state: Kirchhoff, an independent simulator, known voltages."""

import re
from functools import cache

import pytest
from attrs import evolve
from every_case import every_case
from oracle_of_networks import assert_as_simulated, is_alike, needs_ngspice
from pair_facts import found_once, points

from upgrade_planner.checks import checking, protection, warmth
from upgrade_planner.checks.causes import arranged
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.independent import parted
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.electrical.states import (
    CRANKING,
    IDLING,
    KEY_ON,
    LOADED,
    STATES,
    position_of,
    unnamed_switches,
)

SHIPPED = sorted(shipped_profiles("configuration"))
BALANCED_A = 1e-6

COIL = TerminalRef("coil", "positive")
UNIT = TerminalRef("distributor", "supply")


def volts(point, ref):
    found = point.live_v(ref)
    assert found is not None
    return found


@pytest.mark.parametrize("name", SHIPPED)
def test_currents_balance_at_every_node_in_each_state(name):
    assert points(name).keys() == {state.name for state in STATES}
    excess = {(state, n): a for state, point in points(name).items() for n, a in excess_a(point)}
    assert {at: a for at, a in excess.items() if not abs(a) < BALANCED_A} == {}


def excess_a(point):
    """What flows out of each node by all its elements together. [A]"""
    solution = point.solution
    excess = dict.fromkeys(solution.network.nodes, 0.0)
    for element in solution.network.elements:
        first, second = element.ends
        excess[first] += solution.current_a[element.name]
        excess[second] -= solution.current_a[element.name]
    return excess.items()


@needs_ngspice
@pytest.mark.parametrize("name", SHIPPED)
def test_independent_simulator_finds_the_same_in_each_state(name):
    assert_as_simulated(points(name))


@every_case("name", ["van_original_ballast", "van_original_resistance"])
def test_ballast_takes_about_half_with_points_closed(name):
    # US Navy NAVEDTRA 14329, ch. 6, running ignition test: 4.5 to 6.9 V from battery to coil
    point = points(name)[KEY_ON.name]
    assert 4.5 <= point.battery_v - volts(point, COIL) <= 6.9


@every_case("name", ["van_original_ballast", "van_original_resistance"])
def test_running_coil_voltage_is_as_a_shop_manual_says(name):
    # light-truck shop manual, 1970, ignition switch test: 5 to 7 V, points closed, key on
    assert 5.0 <= volts(points(name)[KEY_ON.name], COIL) <= 7.0


@every_case("name", ["van_original_ballast", "van_original_resistance"])
def test_bypass_gives_nearly_battery_voltage_while_cranking(name):
    # British workshop manual, 1960s, ignition test 1: at least 9 V at the coil while cranking
    point = points(name)[CRANKING.name]
    starter = TerminalRef("starter", "battery")
    assert volts(point, COIL) >= 9.0
    assert volts(point, starter) - volts(point, COIL) < 0.25


@every_case("name", ["van_upgraded", "tractor_upgraded"])
def test_electronic_unit_gets_full_voltage(name):
    for state in (KEY_ON.name, LOADED.name):
        point = points(name)[state]
        assert point.battery_v - volts(point, UNIT) < 0.5


def test_coil_current_is_what_points_stand():
    # US Army TM 9-8000, 1985, p. 15-11: points carry 4 to 5 A
    for name in ("van_original_ballast", "van_original_resistance", "tractor_original"):
        assert 4.0 <= abs(points(name)["loaded"].element_current_a("coil")) <= 5.0


def mirrored(configuration):
    """The same vehicle on the other ground: battery, coil, diodes and discharge unit turned."""
    swap = {"positive": "negative", "negative": "positive"}
    pairs = {
        "battery": swap,
        "coil": swap,
        "diode": {"anode": "cathode", "cathode": "anode"},
        "capacitor_discharge_unit": {
            f"{lead}_{pole}": f"{lead}_{swap[pole]}"
            for lead in ("battery", "coil")
            for pole in swap
        },
    }
    turned = {part.role: pairs.get(part.kind, {}) for part in configuration.components}

    def other(ref):
        return TerminalRef(ref.role, turned[ref.role].get(ref.terminal, ref.terminal))

    wires = tuple(
        evolve(wire, start=other(wire.start), end=other(wire.end)) for wire in configuration.wires
    )
    vehicle = evolve(configuration.vehicle, ground=swap[configuration.vehicle.ground])
    return evolve(configuration, wires=wires, vehicle=vehicle)


@pytest.fixture(scope="module")
def turned(load):
    """A shipped configuration on the other ground, its operating points computed once."""
    return cache(lambda name: Examined(configuration=mirrored(load(name))))


@pytest.mark.parametrize("name", SHIPPED)
def test_positive_ground_gives_the_same_currents_the_other_way_in_each_state(turned, name):
    differing = {}
    for state, plain in points(name).items():
        other = turned(name).points[state]
        for wire in plain.configuration.wires:
            expected_a = -plain.wire_current_a(wire.id)
            if not is_alike(other.wire_current_a(wire.id), expected_a):
                differing[state, wire.id] = (other.wire_current_a(wire.id), expected_a)
        if other.battery_v != pytest.approx(plain.battery_v, rel=1e-9):
            differing[state, "battery"] = (other.battery_v, plain.battery_v)
    assert differing == {}


OF_CURRENTS = {
    warmth.hot_wire: ("DROP-HOT/alone",),
    warmth.hot_among_others: ("DROP-HOT/among",),
    warmth.current_above_table: ("DROP-CURRENT",),
    protection.opens_too_late: ("PROT-LATE", "PROT-NOT-COMPUTED"),
}
"""Dear rules that see no sign, and the beginnings of what they find."""


@pytest.mark.parametrize("name", SHIPPED)
def test_rules_find_the_same_on_positive_ground(load, turned, name):
    """
    What the rules of ignition, charging and starting find, alone and once it is arranged.

    What wires suffer by their current, which is proven above to be the same, is taken from the
    first ground: it decides only what stands inside what.
    """
    plain = found_once(load(name))

    def rules(examined):
        for rule in checking.RULES:
            begun = OF_CURRENTS.get(rule)
            known = (f for f in plain if f"{f.code}/{f.cause}".startswith(begun or "-"))
            yield from rule(examined) if begun is None else known

    def ours(findings):
        # a finding that names a post of the coil names the other one
        return sorted(
            (f.code, tuple(re.sub(r"\.(positive|negative)$", "", name) for name in f.where))
            for f in findings
            if f.code[:3] in OURS
        )

    examined = turned(name)
    found = tuple(rules(examined))
    told = arranged(found, examined.configuration)
    told = parted(
        told, examined.configuration, lambda made: list(rules(Examined(configuration=made)))
    )
    assert ours(found) == ours(plain)
    assert ours(told) == ours(checking.check(load(name)))


OURS = ("IGN", "CHG", "STA")


def test_switches_that_no_state_names_are_told_with_their_position(load):
    mine = load("tractor_original")
    button = evolve(
        next(p for p in mine.components if p.kind == "switch"),
        role="added_switch",
        ratings={"positions": {"shut": (), "open": ()}},
    )
    named = {part.role for part, _ in unnamed_switches(mine)}
    more = unnamed_switches(evolve(mine, components=(*mine.components, button)))
    assert [(p.role, at) for p, at in more if p.role not in named] == [("added_switch", "shut")]
    states = {**mine.switch_positions, "loaded": {"added_switch": "open"}}
    told = evolve(mine, components=(*mine.components, button), switch_positions=states)
    assert "added_switch" not in {part.role for part, _ in unnamed_switches(told)}


def test_what_an_owner_added_is_on_with_loads_on_and_a_button_is_not_pressed(load):
    saloon = load("saloon_as_found")
    spot = saloon.component("found_spot_switch")
    assert position_of(spot, LOADED, saloon) != position_of(spot, IDLING, saloon)
    assert "found_spot_switch" not in {part.role for part, _ in unnamed_switches(saloon)}
    point = operating_points(saloon)["loaded"]
    assert abs(point.wire_current_a("found-spot")) > 3
    rear = load("rear_as_found")
    button = rear.component("found_button")
    assert position_of(button, LOADED, rear) == position_of(button, IDLING, rear)
