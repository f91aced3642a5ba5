"""Regulators that sense elsewhere: their small problem, the slow way, what has no solution."""

import math
import random

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx
from random_networks import grounded_networks

from upgrade_planner.electrical.network import (
    CurrentSink,
    Diode,
    LawPiece,
    Network,
    NotSolved,
    Regulated,
    Resistor,
    Source,
    solve,
)
from upgrade_planner.electrical.network.bracketing import enclosed
from upgrade_planner.electrical.network.line_search import Search
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.regulators import Bounded

BATTERY = Source("battery", "plus", "0", 12.6, 0.01, 0.02)
COUNTS = st.integers(1, 4)
# Changes that bring a regulator of 10 A to nothing and to its limit, by its present state. [A]
SPANS_A = {"idle": (0.0, 10.0), "between": (-4.0, 6.0), "limit": (-10.0, 0.0)}


@st.composite
def bounded_problems(draw, counts=COUNTS):
    count = draw(counts)
    rows = st.lists(st.floats(-1, 1), min_size=count, max_size=count)
    matrix = draw(st.lists(rows, min_size=count, max_size=count))
    present = draw(st.lists(st.sampled_from(list(SPANS_A)), min_size=count, max_size=count))
    wanted = draw(st.lists(st.floats(-5, 5), min_size=count, max_size=count))
    lowest, highest = zip(*(SPANS_A[state] for state in present), strict=True)
    for k in range(count):
        matrix[k][k] = abs(matrix[k][k]) + 0.05
    return Bounded(matrix, wanted, lowest, highest)


def agrees(problem, changes):
    """Whether the changes satisfy what `Bounded` promises, from its definition."""
    for k, change_a in enumerate(changes):
        pairs = zip(problem.matrix_ohm[k], changes, strict=True)
        excess_v = math.fsum(m * x for m, x in pairs) - problem.lacking_v[k]
        low_a, high_a = problem.lowest_a[k], problem.highest_a[k]
        if not low_a <= change_a <= high_a:
            return False
        if excess_v > 1e-7 and change_a > low_a + 1e-9:
            return False
        if excess_v < -1e-7 and change_a < high_a - 1e-9:
            return False
    return True


class TestBounded:
    @given(bounded_problems())
    def test_changes_agree_with_every_law(self, problem):
        """For any matrix a solution exists (Brouwer); up to six regulators it is found."""
        changes = problem.solved()
        assert changes is not None
        assert agrees(problem, changes)

    @given(bounded_problems(counts=st.just(1)))
    def test_single_regulator_against_the_formula(self, problem):
        wanted_a = problem.lacking_v[0] / problem.matrix_ohm[0][0]
        expected_a = min(max(wanted_a, problem.lowest_a[0]), problem.highest_a[0])
        assert problem.solved()[0] == approx(expected_a)

    def test_exact_tie_does_not_send_a_regulator_to_and_fro(self):
        """Rounding alone would have the third one on; regulating, it would be below nothing."""
        matrix = [[0.05, 0, 0, 0], [0, 0.05, 0, 0], [0, 0, 0.05, -1e-38], [0, 0, -1.0, 0.05]]
        problem = Bounded(matrix, [0.0, 0.0, 0.0, 0.25], [0.0] * 4, [10.0] * 4)
        assert problem.solved() == (0.0, 0.0, 0.0, approx(5.0))

    @every_case("size", [3, 8])
    def test_regulators_that_go_round_when_they_all_change_together(self, size):
        """
        Three hinder each other in a ring, each the next by twice what it does itself.

        Eight are too many for trying all combinations: changing one at a time has to do it.
        """
        matrix = [[float(row == column) for column in range(size)] for row in range(size)]
        matrix[0][1] = matrix[1][2] = matrix[2][0] = 2.0
        problem = Bounded(matrix, [1.0] * size, [0.0] * size, [10.0] * size)
        assert agrees(problem, problem.solved())

    def test_many_that_contradict_each_other_end_without_an_answer_or_with_a_right_one(self):
        """Above six the combinations are not tried; the pivoting must end all the same."""
        rng = random.Random(1)
        answers = []
        for _ in range(200):
            size = 8
            matrix = [[rng.uniform(-1, 1) for _ in range(size)] for _ in range(size)]
            wanted = [rng.uniform(-5, 5) for _ in range(size)]
            problem = Bounded(matrix, wanted, [0.0] * size, [10.0] * size)
            answers.append(problem.solved())
            assert answers[-1] is None or agrees(problem, answers[-1])
        assert None in answers
        assert any(answer is not None for answer in answers)


class TestEnclosing:
    @given(grounded_networks(most_remote=2))
    def test_enclosed_currents_are_those_that_are_found_at_once(self, network):
        """Where every node is held the slow way leads to the same voltages."""
        equations = NodalEquations(network)
        minus_is_common = all(
            remote.sense_minus == remote.minus == equations.size for remote in equations.remote
        )
        if not minus_is_common or not equations.remote:
            return
        outcome = enclosed(equations)
        expected = solve(network)
        for node, index in equations.index.items():
            assert outcome.voltages[index] == approx(expected.voltage_v[node], abs=1e-3)

    @every_case("limit_a", [5.0, 80.0])
    @every_case("set_point_v", [12.0, 14.2])
    def test_one_regulator_in_each_of_its_pieces(self, set_point_v, limit_a):
        network = remote_circuit(set_point_v, limit_a)
        equations = NodalEquations(network)
        expected = solve(network)
        outcome = enclosed(equations)
        for node, index in equations.index.items():
            assert outcome.voltages[index] == approx(expected.voltage_v[node], abs=1e-6)

    def test_more_than_two_are_not_tried(self):
        generators = [
            Regulated(f"alternator {n}", f"output {n}", "0", "plus", "0", 14.2, 0.01, 30.0)
            for n in range(3)
        ]
        wires = [Resistor(f"wire {n}", f"output {n}", "plus", 0.02) for n in range(3)]
        network = Network("0", (BATTERY, *generators, *wires))
        assert enclosed(NodalEquations(network)) is None
        assert solve(network).piece["alternator 2"] is LawPiece.REGULATING


def remote_circuit(set_point_v, limit_a):
    generator = Regulated("alternator", "output", "0", "plus", "0", set_point_v, 0.01, limit_a)
    wire = Resistor("wire", "output", "plus", 0.03)
    diode = Diode("diode", "plus", "load", 0.7, 0.02)
    load = CurrentSink("load", "load", "0", 8.0, 0.5)
    return Network("0", (BATTERY, generator, wire, diode, load))


class TestHeldByItAlone:
    """Where no battery and no resistance holds the voltage, the sensing does."""

    def loads_alone(self, load_a):
        generator = Regulated("alternator", "output", "0", "bus", "0", 14.2, 0.01, 60.0)
        wire = Resistor("wire", "output", "bus", 0.02)
        return Network("0", (generator, wire, CurrentSink("unit", "bus", "0", load_a, 0.5)))

    def test_with_the_battery_off_it_holds_the_bus_of_constant_loads(self):
        solution = solve(self.loads_alone(25.0))
        assert solution.loose == ()
        assert solution.voltage_v["bus"] == approx(14.2 - 25.0 * 0.01, rel=1e-12)
        assert solution.voltage_v["output"] == approx(13.95 + 25.0 * 0.02, rel=1e-12)

    def test_with_more_load_than_it_can_give_the_bus_collapses(self):
        solution = solve(self.loads_alone(80.0))
        assert solution.piece["alternator"] is LawPiece.AT_LIMIT
        assert solution.voltage_v["bus"] == approx(60.0 / 80.0 * 0.5)

    def test_two_that_push_and_pull_the_same_node_agree_on_its_voltage(self):
        """One gives its limit to a node that the other empties, both holding nothing else."""
        giving = Regulated("giving", "node", "0", "node", "0", 14.4, 0.4, 15.0)
        taking = Regulated("taking", "0", "node", "plus", "node", 13.8, 0.05, 25.0)
        solution = solve(Network("0", (BATTERY, giving, taking)))
        assert solution.current_a["taking"] == approx(-15.0, abs=1e-9)
        assert solution.voltage_v["node"] == approx(12.6 - (13.8 - 15.0 * 0.05), abs=1e-6)


class TestSeveralSolutions:
    """Where guesses lead elsewhere, the result is still the one found without."""

    @every_case("guess_v", [-6.0, 2.0, 14.0])
    def test_swapped_sensing_leads(self, guess_v):
        """Idle at -6 V, at its limit at 14 V, and unstable at 2 V between."""
        network = Network(
            "0",
            (
                Source("bias", "0", "low", 6.0, 0.5, 0.5),
                Resistor("wire", "low", "output", 0.5),
                Regulated("alternator", "output", "0", "0", "output", 2.0, 0.5, 20.0),
            ),
        )
        guess = {"output": guess_v, "low": (guess_v - 6.0) / 2}
        expected_v = solve(network).voltage_v["output"]
        assert expected_v in (approx(-6.0), approx(14.0), approx(2.0))
        assert solve(network, guess).voltage_v["output"] == approx(expected_v)

    @every_case(("left_v", "right_v"), [(18.0, 2.0), (2.0, 18.0), (13.0, 13.0)])
    def test_two_that_sense_at_each_other_across_a_weak_link(self, left_v, right_v):
        """Either may do all the work, while the other sees too high a voltage and idles."""
        network = Network(
            "0",
            (
                Regulated("one", "left", "0", "right", "0", 14.0, 0.05, 20.0),
                Regulated("two", "right", "0", "left", "0", 14.0, 0.05, 20.0),
                Resistor("link", "left", "right", 10.0),
                Resistor("left load", "left", "0", 1.0),
                Resistor("right load", "right", "0", 1.0),
            ),
        )
        expected = solve(network)
        guessed = solve(network, {"left": left_v, "right": right_v})
        assert guessed.voltage_v == approx(expected.voltage_v)
        assert expected.residual_a <= 1e-9


class TestContradiction:
    def test_search_that_goes_round_ends_by_enclosing(self):
        """Three local and one remote regulator on one loose node: Newton's method alone fails."""
        network = Network(
            "0",
            (
                Source("battery", "plus", "0", 12.6, 0.01, 0.02),
                Regulated("a", "0", "plus", "0", "plus", 14.2, 0.95, 29.0),
                Regulated("b", "plus", "node", "plus", "node", 14.9, 0.026, 20.0),
                Regulated("c", "node", "0", "0", "node", 14.0, 0.39, 53.0),
                Regulated("d", "0", "node", "0", "node", 13.4, 0.27, 35.0),
            ),
        )
        assert not Search(NodalEquations(network)).from_lines().is_balanced
        assert solve(network).residual_a <= 1e-9

    def test_two_generators_that_sense_at_each_other_come_to_terms(self):
        """Each holds the bus of the other, and current runs through the link to make both true."""
        generators = (
            Regulated("one", "left", "0", "right", "0", 14.4, 0.005, 60.0),
            Regulated("two", "right", "0", "left", "0", 14.0, 0.005, 60.0),
        )
        buses = Resistor("link", "left", "right", 0.05), Resistor("loads", "right", "0", 0.5)
        wire = Resistor("wire", "plus", "left", 0.01)
        solution = solve(Network("0", (BATTERY, *generators, *buses, wire)))
        for generator, sensed in zip(generators, ("right", "left"), strict=True):
            delivered_a = generator.delivered_a(solution.voltage_v[sensed])
            assert -solution.current_a[generator.name] == approx(delivered_a)
        assert solution.residual_a <= 1e-9
        assert {solution.piece[name] for name in ("one", "two")} == {LawPiece.REGULATING}
        assert solution.current_a["link"] == approx((14.0 - 14.4) / 0.05, abs=8.0)

    def test_current_forced_into_nodes_without_a_way_out_is_told_with_names(self):
        """An open sensing lead drives the limit through a diode that stands the wrong way."""
        generator = Regulated("alternator", "output", "0", "open", "0", 14.2, 0.01, 30.0)
        diode = Diode("diode", "plus", "output", 0.7, 0.02)
        network = Network("0", (BATTERY, generator, diode, Resistor("wire", "plus", "bus", 0.01)))
        with pytest.raises(NotSolved, match=r"output: found 30 A out of balance") as caught:
            solve(network)
        assert caught.value.names == ("alternator", "diode")
        assert caught.value.nodes == ("output",)
        assert caught.value.residual_a == approx(30.0)

    def test_next_to_no_current_without_a_way_out_is_no_balance_either(self):
        """The pull on loose nodes could carry a microampere, at a megavolt; that is no result."""
        forcing = Regulated("forcing", "output", "0", "open", "0", 14.2, 0.01, 1e-6)
        diode = Diode("diode", "plus", "output", 0.7, 0.02)
        network = Network("0", (BATTERY, forcing, diode))
        with pytest.raises(NotSolved) as caught:
            solve(network)
        assert caught.value.nodes == ("output",)
        assert caught.value.residual_a == approx(1e-6)

    def test_generator_wired_to_push_its_own_sensing_down_is_told_or_solved(self):
        """Sensing leads swapped: more current, less sensed voltage, more current."""
        generator = Regulated("alternator", "plus", "0", "0", "plus", -0.0, 0.01, 30.0)
        solution = solve(Network("0", (BATTERY, generator)))
        assert solution.piece["alternator"] is LawPiece.AT_LIMIT
        assert solution.voltage_v["plus"] == approx(12.6 + 30.0 * 0.02)
