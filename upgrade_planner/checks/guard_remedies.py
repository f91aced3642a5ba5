"""
What settles a guard that does not fit its wires: another rating, another link, thicker wires.

Each function tries sizes and ratings in the order of the trade's series and gives the first that
does, as a remedy with its edits; where none does, the remedy is in words alone.
"""

from collections.abc import Iterable, Mapping, Sequence

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Fact, Facts, Remedy, at_part, at_wire
from upgrade_planner.configuration.edits import Edit, Rerate, Resize
from upgrade_planner.configuration.kinds import Capability, TerminalUse
from upgrade_planner.configuration.model import Conductor, Configuration, Wire
from upgrade_planner.configuration.values.measures import ampere
from upgrade_planner.configuration.values.sizes import WireSize, sizes_in
from upgrade_planner.electrical.branches import Branch, Guard
from upgrade_planner.electrical.fusible_links import (
    sustained_melting_current_of,
    wire_protected_by,
)
from upgrade_planner.electrical.lasting_current import lasting_current
from upgrade_planner.electrical.protection import (
    BLADE,
    FUSE_LOAD_RATIO,
    LARGE_BLADE,
    fuse_ratings,
)
from upgrade_planner.electrical.short_circuit import DeadShort, stands_with
from upgrade_planner.electrical.states import Engine

LINK_LOAD_RATIO = 0.5
"""A link that carries more of its melting current than this ages and opens. Source: our
assumption."""


OWN_FUSE_OR_SIZE = "fit-own-fuse-or-size"
"""Remedy of a wire that a guard does not suit: a fuse for it as it is, or a thicker wire."""

FAR_THICKER_STEPS = 2
"""So many sizes thicker, a wire costs more than a fuse of its own. Source: our assumption."""


@frozen(kw_only=True)
class Guarded:
    """
    A fuse or link, and the wires behind it that are in question.

    Attributes:
        guard: The fuse or link.
        wires: The wires.
        load_a: What the guard carries for good. [A]
    """

    guard: Branch
    wires: tuple[Wire, ...]
    load_a: float


def output_ways(examined: Examined) -> Iterable[tuple[float, tuple[str, ...]]]:
    """Rated output of each machine [A], and the wires and fuses on its way to the battery."""
    ways = examined.ways
    for part in examined.configuration.components:
        output = part.ref_as(TerminalUse.OUTPUT)
        if part.can(Capability.CHARGES) and output is not None and not ways.is_shorted:
            way = ways.way(ways.live, str(output), through_cut_out=True)
            found = tuple(branch.owner for branch in way or ())
            yield float(part.ratings["rated_output"]), found


def load_of(guard: Branch, examined: Examined) -> float:
    """What a guard carries for good: its greatest current, or the output that passes it. [A]"""
    points = examined.points.values()
    lasting = [p for p in points if p.state.engine is not Engine.CRANKING]
    most_a = max((abs(p.element_current_a(guard.name)) for p in lasting), default=0.0)
    outputs = (a for a, names in output_ways(examined) if guard.owner in names)
    return max([most_a, *outputs])


def next_rating(least_a: float, most_a: float) -> float | None:
    """The smallest standard fuse of at least so much; None if it is above `most_a`. [A]"""
    ratings = {one.rating_a for kind in (BLADE, LARGE_BLADE) for one in fuse_ratings(kind)}
    found = min((rating for rating in ratings if rating >= least_a), default=None)
    return found if found is not None and found <= most_a else None


def rated(fuse: Branch, rating_a: float, configuration: Configuration) -> Rerate:
    """The edit that gives a fuse, or a fuse of a box, another rating."""
    role, _, end = fuse.name.partition(":")
    part = configuration.component(role)
    if "fuses" not in part.ratings:
        return Rerate(role, {"rated_current": rating_a})
    fuses = (
        evolve(way, rated_current_a=rating_a) if way.end == end else way
        for way in part.ratings["fuses"]
    )
    return Rerate(role, {"fuses": tuple(fuses)})


def smaller_fuse(found: Guarded, most_a: float, examined: Examined) -> Remedy | None:
    """A smaller fuse that its load still passes; None if there is none."""
    rating_a = next_rating(found.load_a / FUSE_LOAD_RATIO, min(most_a, found.guard.rating_a - 0.1))
    if rating_a is None:
        return None
    largest_a = max(
        r.rating_a
        for kind in (BLADE, LARGE_BLADE)
        for r in fuse_ratings(kind)
        if r.rating_a <= most_a and r.rating_a < found.guard.rating_a
    )
    edit = rated(found.guard, largest_a, examined.configuration)
    facts: dict[str, Fact] = {"fuse": at_part(found.guard.name), "rating": ampere(largest_a)}
    return Remedy("fit-fuse-of", facts, edits=(edit,))


def new_sizes(edits: Iterable[Edit]) -> Fact:
    """Each wire that gets another size, with that size."""
    return tuple((at_wire(e.wire_id), e.size) for e in edits if isinstance(e, Resize))


def thicker(sizes: Mapping[Wire, WireSize | None]) -> Remedy | None:
    """Every wire in a larger size; None if one has none."""
    chosen = {wire.id: size for wire, size in sizes.items() if size is not None}
    if len(chosen) < len(sizes):
        return None
    edits = tuple(Resize(wire_id, size) for wire_id, size in chosen.items())
    if len(edits) == 1:
        return Remedy("fit-at-least", {"size": edits[0].size}, edits=edits)
    return Remedy("fit-larger-each", {"sizes": new_sizes(edits)}, edits=edits)


def standing_short(
    faults: Sequence[DeadShort], behind: Sequence[Wire], examined: Examined
) -> Remedy:
    """
    What lets wires stand a short: a smaller guard for several, thicker copper for one.

    A fuse above what its wires may carry is the fault itself, and costs least to mend; the new one
    suits all wires `behind` it. Words alone where no guard of the series and no size would do.
    """
    device = faults[0].device
    found = None
    if device is not None and device.guard is not Guard.LOAD:
        load_a = load_of(device, examined)
        ours = tuple(fault.feed.wire for fault in faults)
        may_a = min(lasting_current(w, examined.configuration)[0] for w in (*ours, *behind))
        guarded = Guarded(guard=device, wires=(*ours, *behind), load_a=load_a)
        smaller = _smaller_guard(guarded, faults, examined)
        larger = thicker({f.feed.wire: _standing_size(f, device, examined) for f in faults})
        if larger and len(ours) == 1:
            larger = _or_own_fuse(larger, ours[0], examined)
        is_too_big = device.guard is Guard.FUSE and device.rating_a > may_a
        found = smaller or larger if is_too_big or len(ours) > 1 else larger or smaller
    return found or Remedy("fit-smaller-fuse-or-thicker-wire-behind")


def _smaller_guard(
    found: Guarded, faults: Sequence[DeadShort], examined: Examined
) -> Remedy | None:
    configuration = examined.configuration
    if found.guard.guard is Guard.FUSE:
        allowed = [lasting_current(wire, configuration)[0] for wire in found.wires]
        return smaller_fuse(found, min(allowed), examined)
    ours = [fault.feed.wire for fault in faults]
    return _smaller_link(configuration.wire_by_id[found.guard.owner], ours, found.load_a)


def _smaller_link(link: Wire, wires: Sequence[Wire], load_a: float) -> Remedy | None:
    """The largest link that guards these wires and still passes its load."""
    sizes = [s for s in sizes_in(link.size.system) if s.area_mm2 < link.size.area_mm2 * 0.99]
    for size in reversed(sizes):
        if load_a > LINK_LOAD_RATIO * sustained_melting_current_of(size):
            return None
        if all(_is_guarded_by(size, wire) for wire in wires):
            return Remedy("fit-link-of", {"link": size}, edits=(Resize(link.id, size),))
    return None


def _is_guarded_by(link: WireSize, wire: Wire) -> bool:
    least = wire_protected_by(link)
    return least is not None and wire.size.area_mm2 >= least.area_mm2 * 0.99


def _standing_size(fault: DeadShort, device: Branch, examined: Examined) -> WireSize | None:
    """The smallest size in which a wire outlasts its guard, and may carry what a fuse passes."""
    configuration, wire = examined.configuration, fault.feed.wire
    link = configuration.wire_by_id.get(device.owner)
    for size in sizes_in(configuration.vehicle.size_system):
        if size.area_mm2 <= wire.size.area_mm2 or wire.conductor is not Conductor.COPPER:
            continue
        if link is not None and not _is_guarded_by(link.size, evolve(wire, size=size)):
            continue
        carries_a = lasting_current(wire, configuration, size)[0]
        if device.rating_a <= carries_a and stands_with(
            fault, size, configuration, examined.warmest_c
        ):
            return size
    return None


def guarded_by_link(link: Wire, thin: Sequence[Wire], found: Guarded, examined: Examined) -> Remedy:
    """
    What makes a link fit the wires behind it: a smaller one for several, else thicker wires.

    One wire that would have to be far thicker is offered a fuse of its own first: that is cheaper.
    """
    configuration = examined.configuration
    least = wire_protected_by(link.size)
    smaller, larger = _smaller_link(link, thin, found.load_a), None
    if least is not None and all(wire.conductor is Conductor.COPPER for wire in thin):
        standard = sizes_in(configuration.vehicle.size_system)
        fitting = next((s for s in standard if s.area_mm2 >= least.area_mm2 * 0.99), None)
        larger = thicker(dict.fromkeys(thin, fitting))
    if larger and len(thin) == 1:
        larger = _or_own_fuse(larger, thin[0], examined)
    found_remedy = smaller or larger if len(thin) > 1 else larger or smaller
    return found_remedy or Remedy("give-own-fuse-or-link", {"wire": at_wire(thin[0].id)})


def _or_own_fuse(larger: Remedy, wire: Wire, examined: Examined) -> Remedy:
    """A thicker wire, or before it the fuse that suits the wire as it is, if that is far thinner"""
    sizes = sizes_in(wire.size.system)
    steps = sum(wire.size.area_mm2 < s.area_mm2 <= _only_size(larger).area_mm2 for s in sizes)
    rating_a = _own_fuse_a(wire, examined)
    if steps < FAR_THICKER_STEPS or rating_a is None:
        return larger
    facts: Facts = {**larger.facts, "wire": at_wire(wire.id), "rating": ampere(rating_a)}
    return Remedy(OWN_FUSE_OR_SIZE, facts, edits=larger.edits)


def _only_size(larger: Remedy) -> WireSize:
    return next(edit.size for edit in larger.edits if isinstance(edit, Resize))


def _own_fuse_a(wire: Wire, examined: Examined) -> float | None:
    """The largest fuse that a wire may have, if it passes the wire's load. [A]"""
    points = examined.points.values()
    lasting = [p for p in points if p.state.engine is not Engine.CRANKING]
    outputs = [a for a, names in output_ways(examined) if wire.id in names]
    load_a = max([0.0, *outputs, *(abs(p.wire_current_a(wire.id)) for p in lasting)])
    most_a = lasting_current(wire, examined.configuration)[0]
    rating_a = max((r.rating_a for r in fuse_ratings(BLADE) if r.rating_a <= most_a), default=0.0)
    return rating_a if load_a <= FUSE_LOAD_RATIO * rating_a else None
