"""What shipped vehicles do in every state: Kirchhoff, an independent simulator, known voltages."""

import re
import shutil
import subprocess
from functools import cache

import pytest
from attrs import evolve
from ngspice import netlist
from pair_facts import found_once

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
STATE_NAMES = [state.name for state in STATES]
BALANCED_A = 1e-6

COIL = TerminalRef("coil", "positive")
UNIT = TerminalRef("distributor", "supply")


@pytest.fixture(scope="module")
def points(load):
    """Operating points of a shipped configuration, computed once."""
    found = {}

    def of(name):
        if name not in found:
            found[name] = operating_points(load(name))
        return found[name]

    return of


def volts(point, ref):
    found = point.live_v(ref)
    assert found is not None
    return found


@pytest.mark.parametrize("state", STATE_NAMES)
@pytest.mark.parametrize("name", SHIPPED)
def test_currents_balance_at_every_node(points, name, state):
    solution = points(name)[state].solution
    excess = dict.fromkeys(solution.network.nodes, 0.0)
    for element in solution.network.elements:
        first, second = element.ends
        excess[first] += solution.current_a[element.name]
        excess[second] -= solution.current_a[element.name]
    assert max(map(abs, excess.values())) < BALANCED_A


CAPACITANCE = "1u"
SETTLE = "1"  # [s] the slowest node, a meter of 10 kΩ with 1 µF, settles in 0.1 s
LONGEST = "0.05"  # [s] of a step: one of a second leaves more than a millionth
TRANSIENT = ".options reltol=1e-7 abstol=1e-12 vntol=1e-9 itl4=200 method=gear trtol=1e4"
"""What lies between is of no account, so the steps may be large (`trtol`)."""


def settling(network):
    """
    The netlist as a transient: every node with a capacitor, switched on from nothing.

    Asked for the operating point at once, the simulator gives up at the kinks of two networks in
    three. Small steps in time lead it there; what has settled is the operating point.
    """
    head = re.sub(
        r"^\.options.*$", TRANSIENT, netlist(network).partition(".control")[0], flags=re.M
    )
    names = re.findall(r"^Rpull(n\d+) ", head, re.MULTILINE)
    lines = [f"C{name} {name} 0 {CAPACITANCE}" for name in names]
    lines += [".control", "set numdgt=15", f"tran {SETTLE} {SETTLE} 0 {LONGEST} uic"]
    lines += ["let last=length(time)-1"]
    lines += [f"let end{name}=v({name})[last]\nprint end{name}" for name in names]
    return head + "\n".join([*lines, ".endc", ".end", ""])


def settled_voltages(text, output):
    """Node voltages that were printed, by the nodes' own names."""
    named = dict(re.findall(r"^\* (n\d+) = (.*)$", text, re.MULTILINE))
    printed = re.findall(r"^end(n\d+) = (\S+)$", output, re.MULTILINE)
    return {named[short]: float(value) for short, value in printed}


@pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is not installed")
@pytest.mark.parametrize("state", STATE_NAMES)
@pytest.mark.parametrize("name", SHIPPED)
def test_independent_simulator_finds_the_same(points, name, state):
    solution = points(name)[state].solution
    text = settling(solution.network)
    ran = subprocess.run(
        ["ngspice", "-b", "/dev/stdin"],
        input=text,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    simulated = settled_voltages(text, ran.stdout)
    ours = {
        str(node): volts
        for node, volts in solution.voltage_v.items()
        if node not in solution.loose and node != solution.network.reference
    }
    assert ours.keys() <= simulated.keys()
    for node, expected in ours.items():
        assert simulated[node] == pytest.approx(expected, rel=1e-6, abs=1e-6), node


@pytest.mark.parametrize("name", ["van_original_ballast", "van_original_resistance"])
def test_ballast_takes_about_half_with_points_closed(points, name):
    # US Navy NAVEDTRA 14329, ch. 6, running ignition test: 4.5 to 6.9 V from battery to coil
    point = points(name)[KEY_ON.name]
    assert 4.5 <= point.battery_v - volts(point, COIL) <= 6.9


@pytest.mark.parametrize("name", ["van_original_ballast", "van_original_resistance"])
def test_running_coil_voltage_is_as_a_shop_manual_says(points, name):
    # light-truck shop manual, 1970, ignition switch test: 5 to 7 V, points closed, key on
    assert 5.0 <= volts(points(name)[KEY_ON.name], COIL) <= 7.0


@pytest.mark.parametrize("name", ["van_original_ballast", "van_original_resistance"])
def test_bypass_gives_nearly_battery_voltage_while_cranking(points, name):
    # British workshop manual, 1960s, ignition test 1: at least 9 V at the coil while cranking
    point = points(name)[CRANKING.name]
    starter = TerminalRef("starter", "battery")
    assert volts(point, COIL) >= 9.0
    assert volts(point, starter) - volts(point, COIL) < 0.25


@pytest.mark.parametrize("name", ["van_upgraded", "tractor_upgraded"])
def test_electronic_unit_gets_full_voltage(points, name):
    for state in (KEY_ON.name, LOADED.name):
        point = points(name)[state]
        assert point.battery_v - volts(point, UNIT) < 0.5


def test_coil_current_is_what_points_stand(points):
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


@pytest.mark.parametrize("state", STATES, ids=STATE_NAMES)
@pytest.mark.parametrize("name", SHIPPED)
def test_positive_ground_gives_the_same_currents_the_other_way(points, turned, name, state):
    plain, other = points(name)[state.name], turned(name).points[state.name]
    for wire in plain.configuration.wires:
        expected = pytest.approx(-plain.wire_current_a(wire.id), rel=1e-6, abs=1e-6)
        assert other.wire_current_a(wire.id) == expected, wire.id
    assert other.battery_v == pytest.approx(plain.battery_v, rel=1e-9)


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
