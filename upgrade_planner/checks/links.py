"""Rules on fusible links: the right size for what is behind them, and made as a link must be."""

from collections import defaultdict
from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Facts,
    Finding,
    Remedy,
    Severity,
    at_wire,
    at_wires,
)
from upgrade_planner.checks.guard_remedies import (
    LINK_LOAD_RATIO,
    Guarded,
    guarded_by_link,
    load_of,
    new_sizes,
    output_ways,
    thicker,
)
from upgrade_planner.checks.protection import is_safe_by_resistance, wires_to_protect
from upgrade_planner.configuration.edits import Resize
from upgrade_planner.configuration.model import Conductor, Wire
from upgrade_planner.configuration.values.measures import Quantity, ampere, is_above, metre
from upgrade_planner.configuration.values.sizes import sizes_in
from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.circuit import wire_name
from upgrade_planner.electrical.fusible_links import (
    LINK_GREATEST_LENGTH_M,
    sustained_melting_current_of,
    wire_protected_by,
)
from upgrade_planner.electrical.short_circuit import Feed
from upgrade_planner.electrical.states import Engine

LINK_HANDY_LENGTH_M = 0.15
"""Length of a link that is easy to fit and well below the greatest. [m] Source: common practice."""


def link_too_big(examined: Examined) -> Iterator[Finding]:
    """A link less than four gauge numbers thinner than the thinnest wire that it guards."""
    behind: dict[str, list[Wire]] = defaultdict(list)
    for feed in wires_to_protect(examined):
        guards = [branch for branch in feed.way if branch.guard is not Guard.NONE]
        is_behind = bool(guards) and guards[-1].guard is Guard.LINK
        if is_behind and not is_safe_by_resistance(feed, examined):
            behind[guards[-1].owner].append(feed.wire)
    for link_id, wires in sorted(behind.items()):
        link = examined.configuration.wire_by_id[link_id]
        least = wire_protected_by(link.size)
        thin = [w for w in wires if least is None or w.size.area_mm2 < least.area_mm2 * 0.99]
        if thin:
            thinnest = min(thin, key=lambda wire: wire.size)
            facts: Facts = {
                "link": link.size,
                "size": thinnest.size,
                "wire": at_wire(thinnest.id),
            }
            yield Finding(
                code="PROT-LINK-BIG",
                severity=Severity.WARNING,
                subjects=(at_wire(link_id), *at_wires(wire.id for wire in thin)),
                cause="for-thicker-wires" if least else "for-no-wire",
                facts={**facts, "least": least} if least else facts,
                remedy=guarded_by_link(link, thin, _guarded(link, thin, examined), examined),
                source="common practice: four gauge numbers smaller than the wire",
            )


def _guarded(link: Wire, thin: list[Wire], examined: Examined) -> Guarded:
    name = wire_name(link.id)
    branch = next(branch for branch in examined.ways.branches if branch.name == name)
    return Guarded(guard=branch, wires=tuple(thin), load_a=load_of(branch, examined))


def link_badly_made(examined: Examined) -> Iterator[Finding]:
    """A link that is too long, in ordinary insulation, or inside the cabin."""
    configuration = examined.configuration
    for wire in configuration.wires:
        if wire.conductor is not Conductor.LINK:
            continue
        length_m = configuration.runs[wire.id].length_m
        limit = metre(LINK_GREATEST_LENGTH_M)
        if is_above(metre(length_m), limit):
            yield _bad_link("PROT-LINK-LONG", wire, value=metre(length_m), limit=limit)
        if wire.insulation.name != "LINK":
            yield _bad_link("PROT-LINK-INSULATION", wire, {"insulation": wire.insulation.name})
        if all(configuration.place_of(ref).space == "cabin" for ref in wire.ends):
            yield _bad_link("PROT-LINK-CABIN", wire)


def _bad_link(
    code: str,
    wire: Wire,
    facts: Facts | None = None,
    *,
    value: Quantity | None = None,
    limit: Quantity | None = None,
) -> Finding:
    return Finding(
        code=code,
        severity=Severity.WARNING,
        subjects=(at_wire(wire.id),),
        value=value,
        limit=limit,
        facts=facts or {},
        remedy=Remedy("fit-proper-link", {"length": metre(LINK_HANDY_LENGTH_M)}),
        source="common practice",
    )


def link_too_small(examined: Examined) -> Iterator[Finding]:
    """A link that the current in use, or the output of the alternator, wears out."""
    for wire in examined.configuration.wires:
        if wire.conductor is not Conductor.LINK:
            continue
        lasting = [p for p in examined.points.values() if p.state.engine is not Engine.CRANKING]
        most_a = max((abs(p.wire_current_a(wire.id)) for p in lasting), default=0.0)
        most_a = max([most_a, *(a for a, ids in output_ways(examined) if wire.id in ids)])
        melting_a = sustained_melting_current_of(wire.size)
        if most_a > LINK_LOAD_RATIO * melting_a:
            yield Finding(
                code="PROT-LINK-SMALL",
                severity=Severity.WARNING,
                subjects=(at_wire(wire.id),),
                value=ampere(most_a),
                limit=ampere(LINK_LOAD_RATIO * melting_a),
                facts={"melting": ampere(melting_a)},
                remedy=_heavier_link(wire, most_a, examined),
                source="Preece's law; half of it as limit is our assumption",
            )


def _heavier_link(link: Wire, load_a: float, examined: Examined) -> Remedy:
    """A link that its load does not wear, and wires behind it four gauge numbers thicker."""
    standard = sizes_in(examined.configuration.vehicle.size_system)
    for size in sizes_in(link.size.system):
        least = wire_protected_by(size)
        if least is None or load_a > LINK_LOAD_RATIO * sustained_melting_current_of(size):
            continue
        fitting = next((s for s in standard if s.area_mm2 >= least.area_mm2 * 0.99), None)
        behind = [f.wire for f in wires_to_protect(examined) if _is_behind(f, link)]
        thin = [wire for wire in behind if wire.size.area_mm2 < least.area_mm2 * 0.99]
        grown = thicker(dict.fromkeys(thin, fitting))
        if grown is not None:
            edits = (Resize(link.id, size), *grown.edits)
            return Remedy("fit-larger-each", {"sizes": new_sizes(edits)}, edits=edits)
    return Remedy("fit-heavier-link")


def _is_behind(feed: Feed, link: Wire) -> bool:
    guards = [branch for branch in feed.way if branch.guard is not Guard.NONE]
    return bool(guards) and guards[-1].owner == link.id
