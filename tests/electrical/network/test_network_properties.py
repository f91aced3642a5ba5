"""What must hold in every network: balance, energy, one result from anywhere."""

import math
import random

from attrs import evolve
from drawn_once import of_each
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx
from random_networks import (
    LINEAR,
    MONOTONE,
    any_networks,
    far_sensing_networks,
    grounded_networks,
    held_networks,
    resistances_ohm,
    resistor,
    steady_networks,
    two_of,
    voltages_at,
)
from wiring_trees import STATES, wiring

from upgrade_planner.electrical.network import (
    Network,
    NotSolved,
    Regulated,
    Resistor,
    Source,
    solve,
)

# Of a voltage: far below what a meter shows, far above rounding. [V]
SAME_V = 1e-6


def excess_at(solution):
    """Current that leaves each node, and the sum of all currents at it, from the elements alone."""
    excess = dict.fromkeys(solution.network.nodes, 0.0)
    through = dict.fromkeys(solution.network.nodes, 0.0)
    for element in solution.network.elements:
        for node, sign in zip(element.ends, (1, -1), strict=True):
            excess[node] += sign * solution.current_a[element.name]
            through[node] += abs(solution.current_a[element.name])
    return {node: (excess[node], through[node]) for node in excess}


def governing_v(solution, element):
    ends = element.ends
    if isinstance(element, Regulated):
        ends = (element.sense_plus, element.sense_minus)
    return solution.across_v(*ends) or 0.0


def firmly_held(solution):
    """Nodes whose voltage is not a matter of next to nothing."""
    return [node for node in solution.voltage_v if node not in solution.loose]


class TestBalance:
    @of_each(100, far_sensing_networks)
    def test_currents_balance_and_follow_the_laws(self, network):
        solution = solve(network)
        for excess_a, through_a in excess_at(solution).values():
            assert abs(excess_a) <= 1e-9 + 1e-12 * through_a
        for element in network.elements:
            across_v = governing_v(solution, element)
            assert solution.current_a[element.name] == element.law(across_v)[0]
            assert solution.piece[element.name] is element.piece(across_v)

    @given(any_networks())
    def test_currents_balance_whatever_holds_the_nodes(self, network):
        solution = solve(network)
        assert all(math.isfinite(voltage_v) for voltage_v in solution.voltage_v.values())
        for excess_a, through_a in excess_at(solution).values():
            assert abs(excess_a) <= 1e-9 + 1e-12 * through_a

    @given(any_networks(most_remote=3))
    def test_search_always_ends_with_a_balance_or_with_names(self, network):
        """Generators that sense anywhere may have no solution where nothing holds the nodes."""
        try:
            solution = solve(network)
        except NotSolved as error:
            assert set(error.names) <= {element.name for element in network.elements}
            assert error.names
            assert error.nodes
            assert error.residual_a > 0.0
        else:
            assert all(abs(a) <= 1e-9 + 1e-12 * b for a, b in excess_at(solution).values())

    @of_each(100, far_sensing_networks)
    def test_powers_add_up_to_nothing(self, network):
        solution = solve(network)
        powers_w = [
            solution.across_v(*element.ends) * solution.current_a[element.name]
            for element in network.elements
        ]
        size_w = sum(map(abs, powers_w))
        assert sum(powers_w) == approx(0.0, abs=1e-7 + 1e-11 * size_w)


class TestOneResult:
    @given(st.data())
    def test_from_any_guess(self, data):
        network = data.draw(grounded_networks())
        expected = solve(network)
        guessed = solve(network, data.draw(voltages_at(network)))
        for node in expected.voltage_v:
            assert guessed.voltage_v[node] == approx(expected.voltage_v[node], abs=SAME_V)

    @given(st.data())
    def test_from_any_guess_where_blocking_elements_leave_nodes_loose(self, data):
        network = data.draw(any_networks(kinds=MONOTONE))
        expected = solve(network)
        guessed = solve(network, data.draw(voltages_at(network)))
        for node in firmly_held(expected):
            assert guessed.voltage_v[node] == approx(expected.voltage_v[node], abs=SAME_V)
        for node in expected.loose:  # told to the rounding of currents over a teraohm
            assert guessed.voltage_v[node] == approx(expected.voltage_v[node], abs=0.01)

    @of_each(100, far_sensing_networks)
    def test_from_any_order_of_elements(self, network):
        shuffled = list(network.elements)
        random.Random(7).shuffle(shuffled)
        assert solve(Network(network.reference, tuple(shuffled))) == solve(network)

    @of_each(100, steady_networks)
    def test_from_any_names(self, network):
        """Other names make another order of reckoning; the voltages stay."""
        renamed = tuple(
            evolve(element, name=f"{random.Random(element.name).random()}")
            for element in network.elements
        )
        expected = solve(network)
        other = solve(Network(network.reference, renamed))
        for node in expected.voltage_v:
            assert other.voltage_v[node] == approx(expected.voltage_v[node], abs=SAME_V)

    @of_each(100, held_networks)
    def test_from_its_own_result_there_is_no_way_to_go(self, network):
        first = solve(network)
        again = solve(network, first.voltage_v)
        for node in first.voltage_v:
            assert again.voltage_v[node] == approx(first.voltage_v[node], abs=1e-9)

    def test_from_the_results_of_a_like_network_the_searches_are_shorter(self):
        """One wire of a car has corroded; its states before and after."""
        steps_from_nothing = steps_from_results = 0
        for state in STATES:
            network = wiring(50, state)
            corroded = tuple(
                evolve(element, resistance_ohm=0.01) if element.name == "wire.feed1" else element
                for element in network.elements
            )
            changed = Network(network.reference, corroded)
            steps_from_nothing += solve(changed).steps
            steps_from_results += solve(changed, solve(network).voltage_v).steps
        assert steps_from_results < steps_from_nothing

    @of_each(100, held_networks)
    def test_reference_may_stand_anywhere(self, network):
        """Voltages between nodes do not depend on which node is called zero."""
        other = Network(network.nodes[-1], network.elements)
        expected, moved = solve(network), solve(other)
        for a, b in zip(network.nodes, network.nodes[1:], strict=False):
            assert moved.across_v(a, b) == approx(expected.across_v(a, b), abs=SAME_V)


class TestLinear:
    @given(grounded_networks(kinds=LINEAR, most_remote=0), st.data())
    def test_results_of_two_sets_of_sources_superpose(self, network, data):
        parts = {
            element.name: data.draw(st.floats(0, 1))
            for element in network.elements
            if isinstance(element, Source)
        }
        whole = solve(network).voltage_v
        first = solve(scaled(network, parts)).voltage_v
        second = solve(scaled(network, {name: 1 - part for name, part in parts.items()})).voltage_v
        for node, voltage_v in whole.items():
            assert first[node] + second[node] == approx(voltage_v, abs=1e-9, rel=1e-9)

    @given(grounded_networks(kinds=(resistor,), most_remote=0), resistances_ohm, st.data())
    def test_another_resistor_never_raises_the_resistance_between_two_nodes(
        self, network, extra_ohm, data
    ):
        """Rayleigh's law."""
        wires = tuple(e for e in network.elements if isinstance(e, Resistor))
        nodes = list(Network("0", wires).nodes)
        assume(len(nodes) > 2)
        measured = two_of(data.draw, nodes)
        extra = Resistor("extra", *two_of(data.draw, nodes), extra_ohm)
        before_ohm = resistance_between(wires, *measured)
        after_ohm = resistance_between((*wires, extra), *measured)
        assert after_ohm <= before_ohm * (1 + 1e-9) + 1e-12

    @given(resistances_ohm, resistances_ohm)
    def test_resistance_between_two_nodes_is_measured_right(self, first_ohm, second_ohm):
        """The measure of the test above, against the formula for two in parallel."""
        pair = Resistor("one", "a", "b", first_ohm), Resistor("two", "a", "b", second_ohm)
        expected_ohm = 1 / (1 / first_ohm + 1 / second_ohm)
        assert resistance_between(pair, "a", "b") == approx(expected_ohm, rel=1e-6)


def scaled(network, factors):
    return Network(
        network.reference,
        tuple(
            evolve(element, emf_v=element.emf_v * factors[element.name])
            if element.name in factors
            else element
            for element in network.elements
        ),
    )


def resistance_between(resistors, a, b):
    """Of a network of resistors, from the current that a source of 1 V and 1 Ω drives."""
    solution = solve(Network(a, (*resistors, Source("ohmmeter", b, a, 1.0, 1.0, 1.0))))
    current_a = -solution.current_a["ohmmeter"]
    return solution.voltage_v[b] / current_a
