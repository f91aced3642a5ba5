"""Rules on fuses: is there one, does it fit the wire, does it open in time."""

from collections import defaultdict
from collections.abc import Iterator
from math import isinf

from upgrade_planner.checks.drops import allowed_for, size_that_would_do
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.configuration.kinds import Capability, Job
from upgrade_planner.configuration.model import Conductor, Wire
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.configuration.ways import Covering
from upgrade_planner.electrical.branches import Branch, Guard
from upgrade_planner.electrical.fusible_links import link_for
from upgrade_planner.electrical.network.errors import NetworkError
from upgrade_planner.electrical.protection import greatest_unprotected_length_m, rating_limits
from upgrade_planner.electrical.short_circuit import (
    CRANKING_CIRCUITS,
    Fault,
    Feed,
    fault_at,
)
from upgrade_planner.electrical.states import Engine

SHORT_WIRE_M = greatest_unprotected_length_m(sheathed=False)
FUSE_LOAD_RATIO = 0.75
"""A fuse should not carry more of its rating for good. Source: common practice."""


def judged(examined: Examined) -> Iterator[Feed]:
    """Wires that protection is asked for: no cranking cables, no links, no short pieces."""
    if examined.ways.is_shorted:
        return  # what is live and what is grounded cannot be told apart; `power` reports it
    for feed in examined.feeds:
        wire = feed.wire
        if wire.circuit in CRANKING_CIRCUITS or wire.conductor is Conductor.LINK:
            continue
        if examined.configuration.runs[wire.id].length_m > SHORT_WIRE_M:
            yield feed


def _limited_a(feed: Feed, examined: Examined) -> float:
    """Fault current that resistances on the way, or in the wire itself, allow. [A]"""
    loads = [branch.limit_a for branch in feed.way if branch.guard is Guard.LOAD]
    if feed.wire.conductor is Conductor.RESISTANCE and feed.wire.resistance_ohm:
        loads.append(examined.ways.emf_v / feed.wire.resistance_ohm)
    return min(loads, default=float("inf"))


def is_safe_by_resistance(feed: Feed, examined: Examined) -> bool:
    """Whether resistances keep the fault current at what the wire may carry for good."""
    return _limited_a(feed, examined) <= allowed_for(feed.wire, examined.configuration)[0]


def no_device(examined: Examined) -> Iterator[Finding]:
    """Wires that the battery can feed without any fuse or link on the way, by their first one."""
    unguarded: dict[str, list[Feed]] = defaultdict(list)
    for feed in judged(examined):
        is_guarded = feed.guard is not None and feed.guard.guard is not Guard.LOAD
        limit_m = greatest_unprotected_length_m(sheathed=_is_sheathed(feed.wire, examined))
        is_open = not is_guarded and not is_safe_by_resistance(feed, examined)
        if is_open and feed.unguarded_m > limit_m:
            unguarded[_first_wire(feed, examined)].append(feed)
    for first, found in unguarded.items():
        yield _unguarded(first, found, examined)


def _first_wire(feed: Feed, examined: Examined) -> str:
    """The first wire on the way that is no cranking cable: there a fuse belongs."""
    wires = examined.configuration.wire_by_id
    on_way = [wires[plain(b)] for b in feed.way if b.name.startswith("wire ")]
    return next((w.id for w in on_way if w.circuit not in CRANKING_CIRCUITS), feed.wire.id)


def _unguarded(first: str, found: list[Feed], examined: Examined) -> Finding:
    wire = examined.configuration.wire_by_id[first]
    link = link_for(wire.size)
    with_link = f"a fusible link of {link.label}, or a fuse," if link else "a fuse"
    longest_m = max(feed.unguarded_m for feed in found)
    others = [feed.wire.id for feed in found if feed.wire.id != first]
    return worded(
        code="PROT-NONE",
        title="No fuse or link on the way",
        severity=Severity.WARNING,
        where=(first, *others),
        what=f"Up to {longest_m:.1f} m from the battery or its cable without a fuse or link; "
        f"{SHORT_WIRE_M * 1000:.0f} mm are allowed, "
        f"{greatest_unprotected_length_m(sheathed=True) * 1000:.0f} mm in a sleeve.",
        remedy=f"Fit {with_link} where {first} begins; thinner wires behind it need their own.",
        source="33 CFR 183.455",
    )


def _is_sheathed(wire: Wire, examined: Examined) -> bool:
    routes = examined.configuration.runs[wire.id].routes
    return bool(routes) and all(route.covering is Covering.SLEEVE for route in routes)


def fuse_too_big(examined: Examined) -> Iterator[Finding]:
    """A fuse that lets a wire behind it carry more than it may."""
    behind: dict[Branch, list[Wire]] = defaultdict(list)
    for feed in judged(examined):
        is_fused = feed.guard is not None and feed.guard.guard is Guard.FUSE
        if is_fused and feed.guard and not is_safe_by_resistance(feed, examined):
            behind[feed.guard].append(feed.wire)
    for fuse, wires in behind.items():
        yield from _judged_fuse(fuse, wires, examined)


def _judged_fuse(fuse: Branch, wires: list[Wire], examined: Examined) -> Iterator[Finding]:
    configuration = examined.configuration
    allowed = {wire.id: allowed_for(wire, configuration)[0] for wire in wires}
    over = [wire for wire in wires if fuse.rating_a > allowed[wire.id]]
    if not over:
        return
    weakest = min(over, key=lambda wire: allowed[wire.id])
    limits = rating_limits(allowed[weakest.id], configuration.vehicle.voltage_v)
    is_far = fuse.rating_a > limits.loose_a
    yield worded(
        code="PROT-FUSE-BIG",
        title="Fuse too big for the wire behind it",
        severity=Severity.WARNING if is_far else Severity.CAUTION,
        where=(fuse.name, *(wire.id for wire in over)),
        what=f"Fuse of {fuse.rating_a:g} A; {weakest.size.label} ({weakest.id}) may carry "
        f"{limits.strict_a:.1f} A, and {limits.loose_a:.1f} A by the loose rule.",
        remedy="Fit a smaller fuse. Or: "
        + _in_words(size_that_would_do(weakest, fuse.rating_a, configuration)),
        source=limits.source,
    )


def fuse_too_small(examined: Examined) -> Iterator[Finding]:
    """A fuse that its own load wears out or blows."""
    for branch in examined.ways.branches:
        if branch.guard is not Guard.FUSE:
            continue
        lasting = [p for p in examined.points.values() if p.state.engine is not Engine.CRANKING]
        most_a = max((abs(p.element_current_a(branch.name)) for p in lasting), default=0.0)
        if most_a > FUSE_LOAD_RATIO * branch.rating_a:
            yield worded(
                code="PROT-FUSE-SMALL",
                title="Fuse too small for its load",
                severity=Severity.WARNING if most_a > branch.rating_a else Severity.CAUTION,
                where=(branch.name,),
                what=f"{most_a:.1f} A through a fuse of {branch.rating_a:g} A; "
                f"{FUSE_LOAD_RATIO:.0%} of the rating is good practice.",
                remedy="Fit the next rating that the wire behind it allows, or share the load.",
                source="common practice",
            )


def opens_too_late(examined: Examined) -> Iterator[Finding]:
    """A dead short spoils the wire before the fuse or link has opened."""
    open_questions: dict[str, list[str]] = {}
    for feed in judged(examined):
        if feed.guard is None or is_safe_by_resistance(feed, examined):
            continue
        try:
            fault = fault_at(feed, examined.warmest_c)
        except NetworkError as error:
            why = f"the network with the short has no solution: {error}"
        else:
            why = _why_open(fault)
            yield from _judged_fault(fault)
        if why:
            open_questions.setdefault(why, []).append(feed.wire.id)
    for why, wires in open_questions.items():
        yield _not_computed(wires, why)


def _why_open(fault: Fault) -> str:
    """Why the computation cannot say whether the wire stands it; "" if it can."""
    stands_s = fault.stands.time_s
    if stands_s is None:
        return "no withstand time for so small a current"
    if fault.least_s <= stands_s < fault.most_s:
        return "the published opening times of the fuse leave it open which is faster"
    return ""


def _judged_fault(fault: Fault) -> Iterator[Finding]:
    stands_s, wire = fault.stands.time_s, fault.feed.wire
    if stands_s is not None and fault.least_s > stands_s:
        named = (plain(fault.device),) if fault.device else ()
        opens = "never opens" if isinf(fault.least_s) else f"opens after {fault.least_s:.1f} s"
        opening = f"{named[0]} {opens}" if named else "no fuse or link opens"
        yield worded(
            code="PROT-LATE",
            title="Short circuit spoils the wire",
            severity=Severity.DANGER,
            where=(wire.id, *named),
            what=f"A short at its far end drives {fault.current_a:.0f} A; {opening}, "
            f"the insulation stands it {stands_s:.1f} s.",
            remedy="Fit a smaller fuse or link in front of it, or a thicker wire.",
            source="IEC 60364-5-54 adiabatic rule; melting of copper; fuse curves as quoted",
        )


def _not_computed(wires: list[str], why: str) -> Finding:
    return worded(
        code="PROT-NOT-COMPUTED",
        title="Short circuit not computed",
        severity=Severity.NOTE,
        where=tuple(sorted(wires)),
        what=f"Not computed: {why}.",
        remedy="Judge these wires by the ratings of their fuses.",
        source="limits of the model",
    )


def plain(branch: Branch) -> str:
    """Name of the wire or fuse that a branch stands for."""
    return branch.name.removeprefix("wire ")


def output_ways(examined: Examined) -> Iterator[tuple[float, tuple[str, ...]]]:
    """Rated output of each machine [A], and the wires and fuses on its way to the battery."""
    ways = examined.ways
    for part in examined.configuration.components:
        output = part.ref_as(Job.OUTPUT)
        if part.can(Capability.CHARGES) and output is not None and not ways.is_shorted:
            way = ways.way(ways.live, str(output), through_cut_out=True)
            found = tuple(plain(branch) for branch in way or ())
            yield float(part.ratings["rated_output"]), found


def output_above_wire(examined: Examined) -> Iterator[Finding]:
    """With a flat battery the whole output goes to it: the wires on that way must carry it."""
    configuration = examined.configuration
    for output_a, names in output_ways(examined):
        for wire in (configuration.wire_by_id.get(name) for name in names):
            if wire is None or wire.conductor is not Conductor.COPPER:
                continue
            if wire.circuit in CRANKING_CIRCUITS:
                continue
            allowed_a, source = allowed_for(wire, configuration)
            if output_a > allowed_a:
                yield worded(
                    code="PROT-OUTPUT",
                    title="Wire too thin for the rated output",
                    severity=Severity.WARNING,
                    where=(wire.id,),
                    what=f"{output_a:.0f} A may flow to a flat battery; {wire.size.label} may "
                    f"carry {allowed_a:.1f} A.",
                    remedy=_in_words(size_that_would_do(wire, output_a, configuration)),
                    source=source,
                )


def output_above_fuse(examined: Examined) -> Iterator[Finding]:
    """A fuse between alternator and battery that the rated output blows: a surge follows."""
    ratings = {b.name: b.rating_a for b in examined.ways.branches if b.guard is Guard.FUSE}
    for output_a, names in output_ways(examined):
        for name in names:
            if name in ratings and output_a > FUSE_LOAD_RATIO * ratings[name]:
                yield worded(
                    code="PROT-OUTPUT-FUSE",
                    title="Fuse too small for the rated output",
                    severity=Severity.WARNING,
                    where=(name,),
                    what=f"{output_a:.0f} A may flow through a fuse of {ratings[name]:g} A; "
                    "when it blows, the alternator loses its battery and the voltage surges.",
                    remedy="Fit a fuse of a third more than the rated output, or a link.",
                    source="common practice",
                )


def _in_words(size: WireSize | None) -> str:
    if size is None:
        return "Use an insulation for higher temperatures, or share the current over two wires."
    return f"Fit {size.label} at least, with this insulation."
