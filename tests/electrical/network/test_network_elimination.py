"""Elimination of nodes against the equations themselves and against a dense solver."""

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from upgrade_planner.electrical.network.elimination import StarMesh, solver_for

conductances_s = st.floats(-4, 4).map(lambda exponent: 10.0**exponent)


@st.composite
def problems(draw):
    """Size, edges, conductances to the reference and along the edges, injected currents."""
    size = draw(st.integers(1, 9))
    pairs = [(a, b) for a in range(size) for b in range(a + 1, size)]
    edges = draw(st.lists(st.sampled_from(pairs), unique=True)) if pairs else []
    ground = draw(st.lists(conductances_s, min_size=size, max_size=size))
    mutual = draw(st.lists(conductances_s, min_size=len(edges), max_size=len(edges)))
    currents = draw(st.lists(st.floats(-50, 50), min_size=size, max_size=size))
    return size, tuple(edges), ground, mutual, currents


def leaving(voltages, edges, ground, mutual):
    """Current that leaves each node through the conductances, and the sum of their sizes."""
    currents = [g * v for g, v in zip(ground, voltages, strict=False)]
    sizes = [abs(current) for current in currents]
    for (a, b), g in zip(edges, mutual, strict=True):
        current = g * (voltages[a] - voltages[b])
        for node, sign in ((a, 1), (b, -1)):
            currents[node] += sign * current
            sizes[node] += g * (abs(voltages[a]) + abs(voltages[b]))
    return currents, sizes


class TestStarMesh:
    @given(problems())
    def test_voltages_satisfy_the_equations(self, problem):
        size, edges, ground, mutual, injected = problem
        voltages = StarMesh(size, edges).factorise([*ground, *mutual]).solve([*injected, 0.0])
        assert voltages[size] == 0.0
        currents, sizes = leaving(voltages, edges, ground, mutual)
        for node in range(size):
            assert currents[node] == approx(injected[node], abs=1e-13 * (1 + sizes[node]))

    @given(problems())
    def test_voltages_are_those_of_a_dense_solver(self, problem):
        numpy = pytest.importorskip("numpy", reason="the dense solver is numpy's")
        size, edges, ground, mutual, injected = problem
        matrix = numpy.diag(numpy.array(ground))
        for (a, b), g in zip(edges, mutual, strict=True):
            matrix[[a, b], [a, b]] += g
            matrix[[a, b], [b, a]] -= g
        expected = numpy.linalg.solve(matrix, numpy.array(injected))
        voltages = StarMesh(size, edges).factorise([*ground, *mutual]).solve([*injected, 0.0])
        margin = 1e-14 * numpy.linalg.cond(matrix)
        scale = numpy.abs(expected).max() + 1e-300
        assert numpy.abs(expected - numpy.array(voltages[:-1])).max() <= margin * scale

    @every_case("ground_s", [1.0, 1e-6, 1e-12])
    def test_no_digit_is_lost_where_next_to_nothing_holds_a_stiff_chain(self, ground_s):
        """Ten nodes joined by 10 kS; 1 pA in at the end must come out at the only ground."""
        size = 10
        edges = tuple((node, node + 1) for node in range(size - 1))
        ground = [ground_s] + [0.0] * (size - 1)
        factors = StarMesh(size, edges).factorise([*ground, *[1e4] * len(edges)])
        voltages = factors.solve([0.0] * (size - 1) + [1e-12, 0.0])
        assert voltages[0] == approx(1e-12 / ground_s, rel=1e-14)

    def test_negative_conductance_that_outweighs_the_others_is_told(self):
        edges = ((0, 1),)
        assert StarMesh(2, edges).factorise([1.0, -0.4, 1.0]) is not None
        assert StarMesh(2, edges).factorise([1.0, -0.6, 1.0]) is None

    def test_negative_conductance_in_a_full_mesh_is_told(self):
        """All nodes have more than two neighbours, so that the other form of step is taken."""
        edges = tuple((a, b) for a in range(5) for b in range(a + 1, 5))
        assert StarMesh(5, edges).factorise([1.0] * 5 + [1.0] * 10) is not None
        assert StarMesh(5, edges).factorise([-1.0] * 5 + [1.0] * 10) is None

    def test_tree_and_wheel_get_less_than_one_new_conductance_for_each_node(self):
        tree = tuple((node, (node - 1) // 3) for node in range(1, 200))
        assert StarMesh(200, tree).fill < 200
        ring = tuple((node, node % 50 + 1) for node in range(1, 51))
        wheel = (*ring, *((0, node) for node in range(1, 51)))
        assert StarMesh(51, wheel).fill <= 50

    def test_equal_topologies_share_one_solver(self):
        assert solver_for(3, ((0, 1), (1, 2))) is solver_for(3, ((0, 1), (1, 2)))
        assert solver_for(3, ((0, 1), (1, 2))) is not solver_for(3, ((0, 1), (0, 2)))
