"""What a restorer may do as well, or better, raises nothing: sizes, colours, lengths, orders."""

import random

import pytest
from attrs import evolve
from every_case import every_case
from pair_facts import found, loaded

from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.values.colours import parse_colour
from upgrade_planner.configuration.values.sizes import sizes_in
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import LOADED

GOOD = (
    "van_upgraded",
    "tractor_upgraded",
    "pickup_upgraded",
    "roadster_alternator",
    "saloon_negative_alternator",
    "launch_complete",
    "rear_upgraded",
    "six_volt_tractor_trigger",
    "truck_headlamp_relays",
)
"""One of each vehicle."""

OTHER_SYSTEM = {"SAE": "mm²", "mm²": "SAE"}

TERMINALS = ("CONN-", "IGN-BYPASS")
"""A larger size may not go on its terminal: right, and no matter of the current."""


def grave(findings):
    return {
        (finding.code, name)
        for finding in every(findings)
        if finding.severity in (Severity.DANGER, Severity.WARNING)
        for name in finding.where
    }


def raised(variant, name):
    """Dangers and warnings that a variant has and the shipped configuration has not."""
    return {
        one
        for one in grave(check(variant)) - grave(found(name))
        if not one[0].startswith(TERMINALS)
    }


def with_wires(configuration, change):
    wires = [w if w.conductor is not Conductor.COPPER else change(w) for w in configuration.wires]
    return evolve(configuration, wires=tuple(wires))


def least_in(system, area_mm2):
    fitting = [size for size in sizes_in(system) if size.area_mm2 >= 0.99 * area_mm2]
    return min(fitting, key=lambda size: size.area_mm2, default=None)


@pytest.mark.parametrize("name", GOOD)
def test_sizes_of_the_other_system_are_silent(name):
    def other(wire):
        system = OTHER_SYSTEM.get(wire.size.system)
        size = least_in(system, wire.size.area_mm2) if system else None
        return evolve(wire, size=size) if size else wire

    assert raised(with_wires(loaded(name), other), name) == set()


@pytest.mark.parametrize("name", GOOD)
def test_the_next_larger_size_is_silent(name):
    chosen = random.Random(name).sample(loaded(name).wires, 12)

    def larger(wire):
        size = least_in(wire.size.system, 1.05 * wire.size.area_mm2)
        return evolve(wire, size=size) if size and wire in chosen else wire

    assert raised(with_wires(loaded(name), larger), name) == set()


@pytest.mark.parametrize("name", GOOD)
def test_wires_of_other_colours_that_are_a_tenth_longer_are_silent(name):
    configuration = loaded(name)
    chosen = {wire.id for wire in random.Random(name).sample(configuration.wires, 12)}
    runs = {
        wire_id: evolve(run, length_m=1.1 * run.length_m)
        if wire_id in chosen and configuration.wire_by_id[wire_id].conductor is Conductor.COPPER
        else run
        for wire_id, run in configuration.runs.items()
    }
    longer = evolve(configuration, runs=runs)
    coloured = with_wires(longer, lambda wire: evolve(wire, colour=parse_colour("PK")))
    assert raised(coloured, name) == set()


@every_case("name", ["van_upgraded", "rear_upgraded"])
def test_the_order_in_which_contacts_are_listed_changes_no_finding_and_no_voltage(name):
    configuration = loaded(name)

    def turned(part):
        positions = part.ratings.get("positions")
        if not positions:
            return part
        again = {key: tuple(group[::-1] for group in groups) for key, groups in positions.items()}
        return evolve(part, ratings={**part.ratings, "positions": again})

    again = evolve(configuration, components=tuple(map(turned, configuration.components)))
    assert check(again) == found(name)
    one, other = (operating_point(it, LOADED).solution.voltage_v for it in (configuration, again))
    assert one == pytest.approx(other, abs=1e-9)
