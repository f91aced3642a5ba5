"""Parts and wire list: the sum over the operations, with every made end and every cap in it."""

from collections import Counter

import pytest
from generating import pairs
from hypothesis import given, settings
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.sizes import parse_wire_size
from upgrade_planner.kit.materials import Group, consumption, cut_length_m, totals
from upgrade_planner.kit.terminals import barrel_for
from upgrade_planner.planning.operations import AttachEnd, CapWire, FitPart, RunWire
from upgrade_planner.planning.plan import plan_upgrade


def by_item(materials):
    counted = Counter()
    for material in materials:
        counted[(material.item, material.unit)] += material.quantity
    return counted


def assert_complete(plan):
    after = plan.comparison.after
    used = consumption(plan)
    summed = totals(m for found in used.values() for m in found)
    assert by_item(summed) == pytest.approx(by_item(m for f in used.values() for m in f))
    assert len(summed) == len({(m.group, m.item, m.unit) for m in summed})
    cable = sum(m.quantity for m in summed if m.group is Group.CABLE)
    laid = [op.wire for op in plan.operations if isinstance(op, RunWire)]
    assert cable == pytest.approx(sum(cut_length_m(wire, after) for wire in laid))
    ends = [op for op in plan.operations if isinstance(op, AttachEnd) and op.remade]
    splices = {op.end.role for op in ends if after.component(op.end.role).kind == "splice"}
    plain = [op for op in ends if op.end.role not in splices]
    cavities = 2 * sum(len(after.runs[wire.id].connectors) for wire in laid)
    terminals = sum(m.quantity for m in summed if m.group is Group.TERMINALS)
    assert terminals == len(plain) + len(splices) + cavities
    caps = [op for op in plan.operations if isinstance(op, CapWire)]
    assert sum(m.quantity for m in summed if m.item.startswith("Closed-end cap")) == 2 * len(caps)
    assert sum(m.quantity for m in summed if m.item.startswith("Tag for")) == 2 * len(caps)
    parts = sum(m.quantity for m in summed if m.group is Group.PARTS and "Fuse" not in m.item)
    assert parts == sum(isinstance(op, FitPart) for op in plan.operations)


@given(pairs())
@settings(max_examples=60)
def test_generated_lists_are_complete(pair):
    assert_complete(plan_upgrade(*pair))


@pytest.mark.parametrize("policy", list(Policy))
@pytest.mark.parametrize(("before", "after"), SHIPPED_PAIRS)
def test_shipped_lists_are_complete(load, before, after, policy):
    assert_complete(plan_upgrade(load(before), load(after), policy))


def test_cut_length_is_never_shorter_than_the_run(load):
    after = load("van_upgraded")
    for wire in after.wires:
        run = after.runs[wire.id].length_m
        assert run - 1e-9 <= cut_length_m(wire, after) <= run + 0.01


@pytest.mark.parametrize(
    ("size", "words"),
    [
        # Colours and ranges: terminal maker table in the reference data, 22-16 red, 16-14 blue,
        # 12-10 yellow; 0.5-1.5, 1.5-2.5 and 4-6 mm².
        ("18 SAE", "red"),
        ("16 SAE", "red"),
        ("14 SAE", "blue"),
        ("12 AWG", "yellow"),
        ("10 SAE", "yellow"),
        ("1.5 mm²", "red"),
        ("2.5 mm²", "blue"),
        ("6 mm²", "yellow"),
        ("8 SAE", "plain barrel"),
        ("3 mm²", "plain barrel"),
        ("4 SAE", "plain barrel"),
    ],
)
def test_barrel_matches_the_colour_code(size, words):
    assert words in barrel_for(parse_wire_size(size))
