"""The way of wires: against every path of small maps, and by the rules that hold for all maps."""

from math import fsum
from random import Random

import networkx
import pytest
from attrs import evolve
from drawn_once import of_each
from generating import numbers, one_of
from hypothesis import strategies as st

from upgrade_planner.configuration.composing.routing import (
    SLACK_PER_END_M,
    NoWay,
    RouteMap,
    walking_distances,
)
from upgrade_planner.configuration.ways import Covering, Route

PLACES = ("a", "b", "c", "d", "e", "f")
LOOMS = ("", "engine loom", "dash loom")
ENDS = st.lists(st.sampled_from(PLACES), min_size=2, max_size=2, unique=True)


def route(start, end, length_m, *, loom="", through=""):
    start, end = sorted((start, end))
    return Route(
        start=start,
        end=end,
        length_m=length_m,
        covering=Covering.SLEEVE,
        loom=loom,
        ambient_c=40.0,
        through=through,
    )


def map_of(*routes):
    return RouteMap(PLACES, tuple(routes))


@st.composite
def maps(draw):
    """Up to nine routes, some parallel, between up to six places that need not all be joined."""
    return RouteMap(
        PLACES,
        tuple(
            route(
                *draw(ENDS),
                draw(numbers(1, 30)) / 10,
                loom=draw(one_of(LOOMS)),
                through=draw(one_of(("", "", "plug"))),
            )
            for _ in range(draw(numbers(0, 9)))
        ),
    )


@st.composite
def wires_on_maps(draw):
    """A map, the ends of a wire on it, a loom that it may be wished in, a length measured."""
    return draw(maps()), draw(ENDS), draw(st.sampled_from(LOOMS[1:])), draw(st.floats(0.01, 20))


def all_ways(ways, start, end):
    """Every way from start to end that passes no place twice, each as its routes."""
    graph = networkx.MultiGraph()
    graph.add_nodes_from(ways.places)
    for number, item in enumerate(ways.routes):
        graph.add_edge(item.start, item.end, key=number)
    for edges in networkx.all_simple_edge_paths(graph, start, end):
        yield tuple(ways.routes[number] for _, _, number in edges)


def length(routes):
    return fsum(item.length_m for item in routes)


def outside(routes, loom):
    return fsum(item.length_m for item in routes if item.loom != loom)


def run_or_none(ways, start, end, **wanted):
    try:
        return ways.run(start, end, **wanted)
    except NoWay:
        return None


class TestShortestWay:
    @of_each(200, wires_on_maps)
    def test_no_way_is_shorter(self, wire):
        ways, ends, *_ = wire
        run = run_or_none(ways, *ends)
        lengths = [length(routes) for routes in all_ways(ways, *ends)]
        if run is None:
            assert not lengths
        else:
            assert length(run.routes) == pytest.approx(min(lengths))
            assert run.length_m == length(run.routes) + 2 * SLACK_PER_END_M

    @of_each(200, wires_on_maps)
    def test_routes_lead_from_start_to_end_and_back_the_same_way(self, wire):
        ways, ends, loom, _ = wire
        for wanted in ("", loom):
            there = run_or_none(ways, *ends, loom=wanted)
            back = run_or_none(ways, *ends[::-1], loom=wanted)
            assert (there is None) == (back is None)
            if there is not None:
                assert there.routes == back.routes[::-1]
                assert there.length_m == back.length_m
                place = ends[0]
                for item in there.routes:
                    assert place in (item.start, item.end)
                    place = item.end if place == item.start else item.start
                assert place == ends[1]

    @of_each(100, wires_on_maps)
    def test_order_of_the_routes_is_no_matter(self, wire):
        ways, ends, loom, seed = wire
        routes, places = list(ways.routes), list(ways.places)
        random = Random(seed)
        random.shuffle(routes)
        random.shuffle(places)
        again = RouteMap(tuple(places), tuple(routes))
        for wanted in ("", loom):
            assert run_or_none(again, *ends, loom=wanted) == run_or_none(ways, *ends, loom=wanted)

    def test_wire_that_stays_at_its_place_is_slack_alone(self):
        run = map_of(route("a", "b", 1)).run("a", "a")
        assert (run.length_m, run.routes) == (2 * SLACK_PER_END_M, ())

    def test_places_that_are_not_joined_are_named(self):
        with pytest.raises(NoWay, match="no route from 'a' to 'c'"):
            map_of(route("a", "b", 1)).run("c", "a")

    def test_shorter_of_parallel_routes_is_taken(self):
        long, short = route("a", "b", 1, loom="engine loom"), route("a", "b", 0.9)
        assert map_of(long, short).run("a", "b").routes == (short,)


class TestLoom:
    @of_each(400, wires_on_maps)
    def test_way_lies_in_the_loom_as_far_as_any_way_does(self, wire):
        ways, ends, loom, _ = wire
        run = run_or_none(ways, *ends, loom=loom)
        fitting = [
            (round(outside(routes, loom), 6), round(length(routes), 6))
            for routes in all_ways(ways, *ends)
            if any(item.loom == loom for item in routes)
        ]
        if run is None:
            assert not fitting
        else:
            found = round(outside(run.routes, loom), 6), round(length(run.routes), 6)
            assert found == min(fitting)
            assert loom in run.looms

    def test_longer_parallel_route_of_the_loom_is_taken(self):
        plain, loomed = route("a", "b", 1), route("a", "b", 1.5, loom="dash loom")
        assert map_of(plain, loomed).run("a", "b", loom="dash loom").routes == (loomed,)

    def test_way_round_through_the_loom_is_taken_though_a_direct_one_is_shorter(self):
        direct = route("a", "d", 1)
        around = (route("a", "b", 1), route("b", "c", 1, loom="dash loom"), route("c", "d", 1))
        assert map_of(direct, *around).run("a", "d", loom="dash loom").routes == around

    def test_wire_does_not_go_into_a_blind_loom_and_back(self):
        ways = map_of(route("a", "b", 1), route("b", "c", 1), route("b", "d", 1, loom="dash loom"))
        with pytest.raises(NoWay, match="no way from 'a' to 'c' in the loom 'dash loom'"):
            ways.run("a", "c", loom="dash loom")

    def test_unknown_loom_is_answered_with_the_nearest(self):
        with pytest.raises(NoWay, match=r"no loom 'dsh loom'; expected 'dash loom'"):
            map_of(route("a", "b", 1, loom="dash loom")).run("a", "b", loom="dsh loom")

    def test_loom_where_no_route_has_one(self):
        with pytest.raises(NoWay, match="expected no `route`: no route has a loom"):
            map_of(route("a", "b", 1)).run("a", "b", loom="dash loom")

    def test_loom_of_a_wire_that_stays_at_its_place(self):
        with pytest.raises(NoWay, match="both ends at 'a', outside the loom 'dash loom'"):
            map_of(route("a", "b", 1, loom="dash loom")).run("a", "a", loom="dash loom")


class TestMeasuredLength:
    @of_each(100, wires_on_maps)
    def test_measured_length_wins_and_the_way_stays(self, wire):
        ways, ends, _, measured = wire
        computed = run_or_none(ways, *ends)
        if computed is not None:
            run = ways.run(*ends, measured_m=measured)
            assert (run.length_m, run.measured, computed.measured) == (measured, True, False)
            assert run.routes == computed.routes


class TestConnectorShare:
    def test_connector_sits_in_the_middle_of_its_route(self):
        ways = map_of(route("a", "b", 1), route("b", "c", 0.4, through="plug"), route("c", "d", 2))
        run = ways.run("a", "d")
        assert run.connectors == ("plug",)
        assert run.before_connector_m == pytest.approx(SLACK_PER_END_M + 1 + 0.2)

    def test_way_without_connector_has_no_share(self):
        assert map_of(route("a", "b", 1)).run("a", "b").before_connector_m is None

    @of_each(200, wires_on_maps)
    def test_share_of_one_connector_is_the_same_from_both_ends(self, wire):
        ways, ends, _, length_m = wire
        for measured in (None, length_m):
            there = run_or_none(ways, *ends, measured_m=measured)
            if there is not None and len(there.connectors) == 1:
                back = ways.run(*ends[::-1], measured_m=measured)
                both = there.before_connector_m + back.before_connector_m
                assert both == pytest.approx(there.length_m)
                assert 0 < there.before_connector_m < there.length_m

    def test_measured_length_scales_the_share(self):
        ways = map_of(route("a", "b", 1, through="plug"), route("b", "c", 1))
        computed = ways.run("a", "c")
        measured = ways.run("a", "c", measured_m=2 * computed.length_m)
        assert measured.before_connector_m == pytest.approx(2 * computed.before_connector_m)


class TestWalkingDistances:
    @of_each(100, wires_on_maps)
    def test_distance_is_the_length_of_the_shortest_way(self, wire):
        ways, *_ = wire
        distances = walking_distances(ways.places, ways.routes)
        for start in PLACES:
            for end in PLACES:
                run = run_or_none(ways, start, end)
                if run is None:
                    assert end not in distances[start]
                else:
                    assert distances[start][end] == pytest.approx(length(run.routes))

    def test_covering_and_heat_do_not_matter(self):
        cool = route("a", "b", 1)
        hot = evolve(cool, ambient_c=90.0, covering=Covering.LOOM)
        assert walking_distances(PLACES, (cool,)) == walking_distances(PLACES, (hot,))
