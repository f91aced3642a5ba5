"""
Fusible links that fit both ways: they bear what passes them, and melt before what lies behind.

A link grown alone asks for thicker wires behind it, and those wires for a thinner link: so link and
wires grow in one cure.
"""

from collections.abc import Iterable, Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, SubjectForm
from upgrade_planner.checks.guard_remedies import output_ways
from upgrade_planner.configuration.model import Conductor, Wire
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.sizes import WireSize, size_text, sizes_in
from upgrade_planner.electrical.branches import Guard, wires_on
from upgrade_planner.electrical.fusible_links import wire_protected_by
from upgrade_planner.electrical.heat_balance import conductor_temperature
from upgrade_planner.targets.guards import Bench, Cure, changed, fused
from upgrade_planner.targets.wish_edits import Edit

NEARLY_RATIO = 2.1
"""A wire of which the size that fits has no more copper than this is made thicker, a thinner one
gets a fuse. Our assumption."""


def fitting_link(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The next link that bears the output, and all behind it as thick as that asks."""
    link = _first_wire(finding, bench)
    output = finding.facts.get("output")
    amps = output.number if isinstance(output, Quantity) else 0.0
    for size in sizes_in(link.size.system):
        if size.area_mm2 > link.size.area_mm2 * 1.01 and _stays_cool(link, size, amps, bench):
            edit = changed(link, {"size": size_text(size)}, "larger-link")
            behind = _last_guarded_by(link, bench)
            yield from ((edit, *cure) for cure in _fitted(behind, size, bench))
            yield (edit,)
            return


def behind_link(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """Wires behind a link that are too thin for it: thicker, or a fuse of their own."""
    link = _first_wire(finding, bench)
    names = [s.name for s in finding.subjects[1:] if s.form is SubjectForm.WIRE]
    thin = [bench.configuration.wire_by_id[name] for name in names]
    yield from _fitted(thin, link.size, bench)


def _first_wire(finding: Finding, bench: Bench) -> Wire:
    name = next(s.name for s in finding.subjects if s.form is SubjectForm.WIRE)
    return bench.configuration.wire_by_id[name]


def _stays_cool(link: Wire, size: WireSize, amps: float, bench: Bench) -> bool:
    ambient_c = bench.configuration.runs[link.id].ambient_c
    return conductor_temperature(size, amps, ambient_c) <= link.insulation.rated_c


def _last_guarded_by(link: Wire, bench: Bench) -> list[Wire]:
    """Wires with nothing but this link between them and the battery that would open first."""
    found = []
    for feed in bench.feeds.values():
        guards = [branch for branch in feed.way if branch.guard in (Guard.LINK, Guard.FUSE)]
        if guards and guards[-1].owner == link.id and feed.wire.conductor is Conductor.COPPER:
            found.append(feed.wire)
    return found


def _fitted(wires: list[Wire], link: WireSize, bench: Bench) -> Iterator[Cure]:
    """Wires made to fit a link: those on the way of an output and nearly right ones thicker."""
    least = wire_protected_by(link)
    if least is None:
        yield tuple(e for w in _first_of_each_way(wires, bench) for e in fused(w, bench))
        return
    thin = [wire for wire in wires if wire.size.area_mm2 < least.area_mm2 * 0.99]
    ways = output_ways(Examined(configuration=bench.configuration))
    outputs = {name for _, names in ways for name in names}
    near = [w for w in thin if w.id in outputs or w.size.area_mm2 * NEARLY_RATIO > least.area_mm2]
    rest = _first_of_each_way([wire for wire in thin if wire not in near], bench)
    yield (*_thick(near, least), *(edit for wire in rest for edit in fused(wire, bench)))
    yield _thick(thin, least)


def _thick(wires: Iterable[Wire], least: WireSize) -> tuple[Edit, ...]:
    """Each wire in the smallest standard size of its trade that is thick enough."""
    edits = []
    for wire in wires:
        fitting = (s for s in sizes_in(wire.size.system) if s.area_mm2 >= least.area_mm2 * 0.99)
        size = next(fitting, None)
        edits += [changed(wire, {"size": size_text(size)}, "thicker-behind-link")] if size else []
    return tuple(edits)


def _first_of_each_way(wires: Iterable[Wire], bench: Bench) -> list[Wire]:
    """Those of some wires that are not fed through another one of them."""
    every = {wire.id for wire in wires}
    first = []
    for name in sorted(every):
        feed = bench.feeds.get(name)
        if feed and every.isdisjoint(wires_on(feed.way)):
            first.append(feed.wire)
    return first
