"""Parts and wire list: the sum over the operations, with every made end and every cap in it."""

from collections import Counter
from decimal import Decimal

import pytest
from drawn_once import of_each
from every_case import every_case
from generating import pairs
from pair_facts import planned, way_back_once
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.part_changes import PartDisposition
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.model import Conductor, Joint
from upgrade_planner.kit.articles import shelves, sorts
from upgrade_planner.kit.cable import cable_article
from upgrade_planner.kit.materials import consumption, cut_length_m, gives_back, totals
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning.operations import (
    AdjustPart,
    CapWire,
    FitPart,
    RebuildPart,
    RemovePart,
    RunWire,
    ends_joined,
)
from upgrade_planner.planning.plan import plan_upgrade

PIECES = ("cable", "fusible link", "resistance wire", "heat-shrink", "sleeve")
MADE_ENDS = ("ring terminal", "blade receptacle", "bullet", "battery clamp")
MAIN_PARTS = ("part", "fuse holder", "diode assembly", "connector housing")
FROM_BAG = {"tie", "clamp", "tape"}


def all_of(plan):
    return [material for found in consumption(plan).values() for material in found]


def count(materials, *names):
    return sum(m.quantity for m in materials if m.article.sort in names)


def assert_complete(plan):
    assert_sums_and_forms(plan)
    assert_cable(plan)
    assert_ends(plan)
    assert_caps(plan)
    assert_parts(plan)
    assert_bag(plan)


def assert_sums_and_forms(plan):
    used, by_article, pieces = all_of(plan), Counter(), Counter()
    for material in used:
        by_article[material.article] += material.quantity
        pieces[material.article] += len(material.pieces)
    summed = totals(used)
    assert {m.article: m.quantity for m in summed} == by_article
    assert {m.article: len(m.pieces) for m in summed} == pieces
    assert len(summed) == len(by_article)
    on_shelves = [shelves().index(m.article.shelf) for m in summed]
    assert on_shelves == sorted(on_shelves)
    operations = {operation.id: operation for operation in plan.operations}
    assert list(consumption(plan)) == [op for op in operations if op in consumption(plan)]
    for operation_id, found in consumption(plan).items():
        for material in found:
            assert material.operation_id == operation_id
            assert material.place == operations[operation_id].place
            assert isinstance(material.quantity, Decimal)
            assert material.quantity > 0
            assert material.wires
            assert tuple(name for name, _ in material.article.traits) == (
                sorts()[material.article.sort].traits
            )
            if material.article.unit == "each":
                assert material.quantity == material.quantity.to_integral_value()
            if material.article.sort in PIECES:
                assert sum(material.pieces) == material.quantity


def assert_cable(plan):
    """Each new or resized wire has exactly one piece of its own cable, as long as its run."""
    after, found = plan.comparison.after, consumption(plan)
    laid = [op for op in plan.operations if isinstance(op, RunWire) and not op.from_bag]
    made = {
        c.after.id
        for c in plan.comparison.wires
        if c.disposition in (Disposition.ADD, Disposition.RESIZE)
    }
    assert made <= {op.wire.id for op in laid}
    for operation in laid:
        cables = [m for m in found[operation.id] if m.article.shelf == "cable"]
        (only,) = cables
        (piece,) = only.pieces
        assert only.article == cable_article(operation.wire)
        assert float(piece) >= after.runs[operation.wire.id].length_m - 1e-6
    blocks = count(all_of(plan), "distribution block")  # each with a short cable of its own
    assert sum(m.article.shelf == "cable" for m in all_of(plan)) == len(laid) + blocks


def assert_ends(plan):
    after, used = plan.comparison.after, all_of(plan)
    made = [(op.id, one) for op in plan.operations for one in ends_joined(op) if one.remade]
    splices = {one.end.role for _, one in made if joint_of(one, after) is Joint.SPLICE}
    plain = [(at, one) for at, one in made if joint_of(one, after) is not Joint.SPLICE]
    assert count(used, "crimp splice") == len(splices)
    shared = 0
    for at, one in plain:
        found = consumption(plan)[at]
        of_blocks = rings_of_blocks(found)
        held = [
            m
            for m in found
            if m.article.sort in MADE_ENDS and one.wire.id in m.wires and m not in of_blocks
        ]
        assert count(held, *MADE_ENDS) == 1
        shared += len(held[0].wires) - 1
    made_of_blocks = 2 * int(count(used, "distribution block"))
    assert count(used, *MADE_ENDS) == len(plain) - shared / 2 + made_of_blocks
    laid = [op.wire for op in plan.operations if isinstance(op, RunWire) and not op.from_bag]
    cavities = sum(len(after.runs[wire.id].connectors) for wire in laid)
    assert count(used, "connector pin") == count(used, "connector socket") == cavities


def rings_of_blocks(found):
    """Of the short cables that join distribution blocks: two rings each."""
    blocks = [m.wires for m in found if m.article.sort == "distribution block"]
    return [m for m in found if m.quantity == 2 and m.wires in blocks]


def joint_of(operation, configuration):
    end = operation.end
    return configuration.component(end.role).terminal(end.terminal).connection.joint


def assert_caps(plan):
    used = all_of(plan)
    caps = [op for op in plan.operations if isinstance(op, CapWire)]
    assert count(used, "end cap") == count(used, "tag") == 2 * len(caps)
    for operation in caps:
        sleeves = [m for m in consumption(plan)[operation.id] if m.article.sort == "heat-shrink"]
        assert [len(m.pieces) for m in sleeves] == [2]


def assert_parts(plan):
    used, changes = all_of(plan), plan.comparison.part_by_role
    bought = [
        op
        for op in plan.operations
        if isinstance(op, FitPart)
        and not op.from_bag
        and changes[op.part.role].disposition is not PartDisposition.RELOCATE
    ]
    breakers = sum(
        isinstance(op, AdjustPart) and op.part.kind == "breaker" and not op.from_bag
        for op in plan.operations
    )
    rebuilt = [op for op in plan.operations if isinstance(op, RebuildPart) and not op.from_bag]
    kinds = {op.before.kind for op in rebuilt}
    inside = sum(bool(kinds & {*op.part.rebuilt_of}) for op in bought)
    kits = sum(bool(op.gets) for op in rebuilt)
    assert count(used, *MAIN_PARTS) == len(bought) - inside + breakers + kits
    back = [m for found in gives_back(plan).values() for m in found]
    off = {op.id for op in plan.operations if isinstance(op, RemovePart)}
    assert set(gives_back(plan)) <= off
    assert len(back) <= len(bought)


def assert_bag(plan):
    """What comes from the bag is not bought again; only what held it was cut away."""
    for operation in plan.operations:
        if getattr(operation, "from_bag", False):
            found = consumption(plan).get(operation.id, ())
            assert {m.article.sort for m in found} <= FROM_BAG


@of_each(40, pairs)
def test_generated_lists_are_complete(pair):
    assert_complete(plan_upgrade(*pair))


@of_each(20, pairs)
def test_generated_lists_of_the_way_back_are_complete(pair):
    for policy in Policy:
        assert_complete(way_back_once(plan_upgrade(*pair, policy)).plan)


@every_case("policy", list(Policy))
@every_case(("before", "after"), SHIPPED_PAIRS)
def test_shipped_lists_are_complete(before, after, policy):
    plan = planned(before, after, policy)
    assert_complete(plan)
    assert_complete(way_back_once(plan).plan)


@every_case("pair", ready_pairs())
def test_lists_of_ready_pairs_are_complete(pair):
    assert_complete(planned(pair.before, pair.after))


class TestCutLength:
    def test_every_end_can_be_made_once_more(self, load):
        """Two ends, and two more in a connector, 20 mm each; up to the next centimetre."""
        after = load("van_upgraded")
        plain = [w for w in after.wires if w.conductor is Conductor.COPPER]
        assert any(after.runs[wire.id].connectors for wire in plain)
        for wire in plain:
            run = after.runs[wire.id]
            spare = float(cut_length_m(wire, after)) - run.length_m
            wanted = 0.08 if run.connectors else 0.04
            assert wanted - 1e-6 <= spare < wanted + 0.01

    def test_a_link_keeps_its_free_length_between_its_crimps(self, load):
        after = load("van_upgraded")
        link = after.wire_by_id["battery-link"]
        assert after.runs[link.id].measured
        assert float(cut_length_m(link, after)) == pytest.approx(
            after.runs[link.id].length_m + 0.02
        )

    def test_a_resistance_wire_is_not_lengthened(self, load):
        after = load("van_original_resistance")
        wire = after.wire_by_id["ignition-resistance"]
        spare = float(cut_length_m(wire, after)) - after.runs[wire.id].length_m
        assert 0 <= spare + 1e-9 < 0.01


class TestVan:
    @pytest.fixture
    def plan(self):
        return planned("van_original_ballast", "van_upgraded")

    def test_exchange_parts_go_back_for_those_of_their_family(self, plan):
        """Alternator for alternator, distributor for distributor; coil and ballast stay."""
        kinds = [m.article.trait("kind") for found in gives_back(plan).values() for m in found]
        assert sorted(kinds) == ["alternator_external_regulator", "points_distributor"]

    def test_nothing_goes_back_on_the_way_back(self, plan):
        assert gives_back(way_back_once(plan).plan) == {}

    def test_a_hole_into_the_cabin_has_a_grommet_a_connector_has_not(self, plan):
        """The main feed passes the bulkhead alone, the ignition feed by the bulkhead connector."""
        grommets = [m for m in all_of(plan) if m.article.sort == "grommet"]
        assert [m.wires for m in grommets] == [("main-feed",)]

    def test_battery_cable_lies_in_lined_clamps_not_in_ties(self, plan):
        for material in all_of(plan):
            if material.article.sort == "tie":
                assert "battery-main" not in material.wires
        clamped = [m.wires for m in all_of(plan) if m.article.sort == "clamp"]
        assert any("battery-main" in wires for wires in clamped)
