"""Ties, tape, sleeve and clamps of ready jobs, counted again from routes and lengths alone."""

from collections import Counter
from decimal import Decimal
from math import ceil, hypot, pi

from every_case import every_case
from pair_facts import planned
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.ways import Covering
from upgrade_planner.kit.diameters import bundle_diameter_mm
from upgrade_planner.kit.materials import consumption
from upgrade_planner.planning.operations import CapWire, RemoveWire, RunWire

SPACING_M, POST_SPACING_M, HEAVY_MM2 = 0.45, 0.30, 12.0
"""From the same published tables as the kit, typed here again."""


def spaces(length_m, spacing_m):
    """How many supports a length takes; a tenth of a millimetre is no further one."""
    return ceil(round(length_m / spacing_m, 6))


def used(plan):
    found = Counter()
    for taken in consumption(plan).values():
        for one in taken:
            found[one.article.sort] += one.quantity
    return found


def laid_on(plan, route):
    return [
        op.wire
        for op in plan.operations
        if isinstance(op, RunWire)
        and op.wire.conductor is not Conductor.LINK
        and route in plan.comparison.after.runs[op.wire.id].routes
    ]


def is_heavy(wire):
    return wire.size.area_mm2 >= HEAVY_MM2


def beside(plan):
    """Supports of wires that follow no route: between their ends only."""
    after = plan.comparison.after
    for op in plan.operations:
        if isinstance(op, RunWire) and not after.runs[op.wire.id].routes:
            roles = {end.role for end in op.wire.ends}
            batteries = {part.role for part in after.components if part.kind.startswith("battery")}
            at_post = is_heavy(op.wire) and bool(roles & batteries)
            spacing = POST_SPACING_M if at_post else SPACING_M
            yield op.wire, max(0, spaces(after.runs[op.wire.id].length_m, spacing) - 1)


@every_case("pair", SHIPPED_PAIRS[::3])
def test_ties_are_the_spaces_of_all_routes_with_thin_wires(pair):
    plan = planned(*pair)
    after = plan.comparison.after
    ties = sum(count for wire, count in beside(plan) if not is_heavy(wire))
    for route in after.routes:
        wires = laid_on(plan, route)
        thin = [wire for wire in wires if not is_heavy(wire)]
        if not thin or route.covering is Covering.LOOM:
            continue
        if route.covering is Covering.SLEEVE and len(thin) < len(wires):
            continue  # clamps of the heavy one hold the bundle
        ties += spaces(route.length_m, SPACING_M)
    assert used(plan)["tie"] == ties


@every_case("pair", SHIPPED_PAIRS[::3])
def test_tape_is_the_helix_round_each_loom_that_was_opened(pair):
    plan = planned(*pair)
    before, after = plan.comparison.before, plan.comparison.after
    dead = [op.wire for op in plan.operations if isinstance(op, CapWire)]
    dead += plan.comparison.spares
    tape = Decimal(0)
    for route in {*after.routes, *before.routes}:
        taken = any(
            isinstance(op, RemoveWire) and route in before.runs[op.wire.id].routes
            for op in plan.operations
        )
        if route.covering is not Covering.LOOM or not (taken or laid_on(plan, route)):
            continue
        inside = [
            w
            for w in after.wires
            if w.conductor is not Conductor.LINK and route in after.runs[w.id].routes
        ]
        inside += [w for w in dead if route in before.runs[w.id].routes]
        if inside:
            round_mm = pi * bundle_diameter_mm(wire.size for wire in inside)
            pitch_mm = 19.0 * 0.5  # half-lapped
            length_m = route.length_m * hypot(round_mm, pitch_mm) / pitch_mm
            tape += Decimal(ceil(round(length_m * 100, 4))) / 100
    assert abs(used(plan)["tape"] - tape) <= Decimal("0.05") * max(tape, 1)


@every_case("pair", SHIPPED_PAIRS[::3])
def test_no_more_sleeve_than_there_are_routes_for_it(pair):
    plan = planned(*pair)
    routes = [r for r in plan.comparison.after.routes if r.covering is Covering.SLEEVE]
    longest = sum(ceil(r.length_m * 100) / 100 for r in routes if laid_on(plan, r))
    assert float(used(plan)["sleeve"]) <= longest + 1e-6
