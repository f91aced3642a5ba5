"""Sleeve, tape, grommets, ties and clamps: what holds and covers the wires along their routes."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from math import ceil
from typing import TypeVar

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Conductor, Configuration, Wire
from upgrade_planner.configuration.ways import Covering, Route
from upgrade_planner.electrical.heat_balance import outside_diameter_mm
from upgrade_planner.kit.allowances import (
    BATTERY_CABLE_MM2,
    BATTERY_SPACING_M,
    CUT_STEP_M,
    SUPPORT_SPACING_M,
)
from upgrade_planner.kit.articles import Article, Material, article
from upgrade_planner.kit.cable import exact_m
from upgrade_planner.kit.diameters import bore_for, bundle_diameter_mm, tape_length_m
from upgrade_planner.kit.prices.money import rounded_up
from upgrade_planner.planning.operations import CapWire, RemoveWire, RunWire
from upgrade_planner.planning.plan import Plan

T = TypeVar("T")


@frozen(kw_only=True)
class _Work:
    """
    What is done along one route.

    Attributes:
        laid: Operations that lay a wire along it, in the order of the plan.
        taken: Operations that take a wire out of it.
        before: Wires in it before the work.
        after: Wires in it after the work, dead ones that stay included.
    """

    route: Route
    laid: tuple[RunWire, ...]
    taken: tuple[RemoveWire, ...]
    before: tuple[Wire, ...]
    after: tuple[Wire, ...]

    @property
    def new(self) -> tuple[RunWire, ...]:
        """Those that lay a new wire, not one from the bag."""
        return tuple(op for op in self.laid if not op.from_bag)

    @property
    def closing(self) -> RemoveWire | RunWire:
        """The last operation that has it open."""
        return self.laid[-1] if self.laid else self.taken[-1]


def harness(plan: Plan) -> Mapping[str, list[Material]]:
    """
    What holds and covers the wires, by the operation that takes it.

    What several wires of a route share is taken by the first that is laid there; tape by the last
    operation that has the loom open. An old wire that goes back needs new ties and tape, but finds
    its sleeve and grommets.
    """
    found: dict[str, list[Material]] = defaultdict(list)
    for work in _works(plan):
        for operation_id, material in _along(work, plan.comparison.after):
            found[operation_id].append(material)
    for operation in plan.operations:
        if isinstance(operation, RunWire):
            found[operation.id] += _beside(operation.wire, plan.comparison.after)
    return found


def opened_looms_m(plan: Plan) -> Mapping[str, float]:
    """Length of the taped looms that are opened, by the operation that closes them. [m]"""
    found: dict[str, float] = defaultdict(float)
    for work in _works(plan):
        if work.route.covering is Covering.LOOM and work.after:
            found[work.closing.id] += work.route.length_m
    return found


def _along(work: _Work, after: Configuration) -> Iterator[tuple[str, Material]]:
    if work.route.covering is Covering.LOOM:
        yield from _tape(work)
    if work.new:
        yield from _sleeve(work)
        yield from _grommet(work, after)
    yield from _supports(work, after)


def _works(plan: Plan) -> Iterator[_Work]:
    """The work along each route on which there is any, in the order of the routes."""
    before, after = plan.comparison.before, plan.comparison.after
    dead = [op.wire for op in plan.operations if isinstance(op, CapWire)]
    laid = _on_routes(after, ((op.wire, op) for op in plan.operations if isinstance(op, RunWire)))
    taken = _on_routes(
        before, ((op.wire, op) for op in plan.operations if isinstance(op, RemoveWire))
    )
    old = _on_routes(before, zip(before.wires, before.wires, strict=True))
    new = _on_routes(after, zip(after.wires, after.wires, strict=True))
    left = _on_routes(before, ((wire, wire) for wire in (*dead, *plan.comparison.spares)))
    for route in dict.fromkeys((*after.routes, *before.routes)):
        if laid[route] or taken[route]:
            yield _Work(
                route=route,
                laid=tuple(laid[route]),
                taken=tuple(taken[route]),
                before=tuple(old[route]),
                after=(*new[route], *left[route]),
            )


def _on_routes(
    configuration: Configuration, found: Iterable[tuple[Wire, T]]
) -> Mapping[Route, list[T]]:
    """What belongs to the wires along each route; a link hangs free."""
    along: dict[Route, list[T]] = defaultdict(list)
    for wire, item in found:
        run = configuration.runs.get(wire.id)
        if run is not None and wire.conductor is not Conductor.LINK:
            for route in dict.fromkeys(run.routes):
                along[route].append(item)
    return along


def _tape(work: _Work) -> Iterator[tuple[str, Material]]:
    """A taped loom that is opened is wound anew over its whole route."""
    if not work.after:
        return
    length = tape_length_m(work.route.length_m, _diameter_mm(work.after))
    quantity = rounded_up(exact_m(length), CUT_STEP_M)
    yield work.closing.id, _material(article("tape"), quantity, work)


def _sleeve(work: _Work) -> Iterator[tuple[str, Material]]:
    """New sleeve where none is yet, or where the bundle has outgrown the old one."""
    if work.route.covering is not Covering.SLEEVE:
        return
    bore = bore_for(_diameter_mm(work.after))
    if work.before and bore == bore_for(_diameter_mm(work.before)):
        return
    if work.before and _diameter_mm(work.after) < _diameter_mm(work.before):
        return
    length = rounded_up(exact_m(work.route.length_m), CUT_STEP_M)
    yield work.new[0].id, _material(article("sleeve", bore=bore), length, work, (length,))


def _grommet(work: _Work, after: Configuration) -> Iterator[tuple[str, Material]]:
    """One for the hole between cabin and outside; the old rubber is not trusted again."""
    spaces = {after.place_by_id[place].space for place in (work.route.start, work.route.end)}
    if work.route.through or "cabin" not in spaces or len(spaces) == 1:
        return
    bore = bore_for(_diameter_mm(work.after))
    yield work.new[0].id, _material(article("grommet", bore=bore), Decimal(1), work)


def _supports(work: _Work, after: Configuration) -> Iterator[tuple[str, Material]]:
    """
    What holds the wires that are laid.

    Thin wires share ties, outside taped looms. A battery cable has lined clamps of its own where it
    lies open; in a sleeve or loom the clamps hold the whole bundle.
    """
    heavy = [op for op in work.laid if is_battery_cable(op.wire)]
    if work.route.covering is Covering.EXPOSED:
        for operation in heavy:
            count = _count(work.route, _spacing_m(operation.wire, after))
            yield operation.id, _clamps(operation.wire, count)
        yield from _ties(work)
    elif heavy:
        spacing = min(_spacing_m(operation.wire, after) for operation in heavy)
        what = article("clamp", bore=bore_for(_diameter_mm(work.after)))
        yield heavy[0].id, _material(what, _count(work.route, spacing), work)
    elif work.route.covering is Covering.SLEEVE:
        yield from _ties(work)


def _ties(work: _Work) -> Iterator[tuple[str, Material]]:
    thin = [op for op in work.laid if not is_battery_cable(op.wire)]
    if thin:
        count = _count(work.route, SUPPORT_SPACING_M)
        wires = tuple(sorted({op.wire.id for op in thin}))
        yield thin[0].id, Material(article=article("tie"), quantity=count, wires=wires)


def _count(route: Route, spacing_m: Decimal) -> Decimal:
    return Decimal(ceil(exact_m(route.length_m) / spacing_m))


def _beside(wire: Wire, after: Configuration) -> Iterator[Material]:
    """Supports of a wire between two parts at one place: only between its ends, if it is long."""
    run = after.runs[wire.id]
    if run.routes:
        return
    spacing = _spacing_m(wire, after)
    count = Decimal(max(0, ceil(exact_m(run.length_m) / spacing) - 1))
    if count and is_battery_cable(wire):
        yield _clamps(wire, count)
    elif count:
        yield Material(article=article("tie"), quantity=count, wires=(wire.id,))


def is_battery_cable(wire: Wire) -> bool:
    """True for cables so heavy that a tie does not hold them."""
    return wire.size.area_mm2 >= BATTERY_CABLE_MM2


def _spacing_m(wire: Wire, after: Configuration) -> Decimal:
    at_battery = any(after.component(end.role).family is Family.BATTERY for end in wire.ends)
    return BATTERY_SPACING_M if at_battery and is_battery_cable(wire) else SUPPORT_SPACING_M


def _clamps(wire: Wire, count: Decimal) -> Material:
    bore = bore_for(outside_diameter_mm(wire.size))
    return Material(article=article("clamp", bore=bore), quantity=count, wires=(wire.id,))


def _diameter_mm(wires: Iterable[Wire]) -> float:
    return bundle_diameter_mm(wire.size for wire in wires)


def _material(
    what: Article, quantity: Decimal, work: _Work, pieces: tuple[Decimal, ...] = ()
) -> Material:
    wires = tuple(sorted({op.wire.id for op in work.laid or work.taken}))
    return Material(article=what, quantity=quantity, wires=wires, pieces=pieces)
