"""Rules on fuses: is there one, does it fit the wire, does it open in time."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from math import inf, isinf

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Facts,
    Finding,
    Remedy,
    Severity,
    Subject,
    at_part,
    at_wire,
    at_wires,
)
from upgrade_planner.checks.guard_remedies import (
    Guarded,
    load_of,
    new_sizes,
    next_rating,
    output_ways,
    rated,
    smaller_fuse,
    standing_short,
    thicker,
)
from upgrade_planner.checks.resizing import size_that_would_do
from upgrade_planner.configuration.model import Conductor, Configuration, Wire
from upgrade_planner.configuration.values.measures import (
    ampere,
    celsius,
    is_above,
    ratio,
    second,
)
from upgrade_planner.configuration.values.sizes import sizes_in
from upgrade_planner.electrical.branches import Branch, Guard
from upgrade_planner.electrical.heat_balance import conductor_temperature
from upgrade_planner.electrical.lasting_current import (
    MARGIN_RATIO,
    lasting_current,
    lasting_output_a,
)
from upgrade_planner.electrical.metals import PLAIN
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.protection import (
    FUSE_LOAD_RATIO,
    greatest_unprotected_length_m,
    rating_limits,
)
from upgrade_planner.electrical.short_circuit import (
    CRANKING_CIRCUITS,
    DeadShort,
    Feed,
    ends_surely,
    fault_at,
)
from upgrade_planner.electrical.states import Engine

NOTHING_OPENS = "nothing-opens"
"""Cause of a short circuit that no fuse or link ends."""

SHORT_WIRE_M = greatest_unprotected_length_m(sheathed=False)


def wires_to_protect(examined: Examined) -> Iterator[Feed]:
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
    return _limited_a(feed, examined) <= lasting_current(feed.wire, examined.configuration)[0]


def fuse_too_big(examined: Examined) -> Iterator[Finding]:
    """A fuse that lets a wire behind it carry more than it may."""
    behind: dict[Branch, list[Wire]] = defaultdict(list)
    for feed in wires_to_protect(examined):
        is_fused = feed.guard is not None and feed.guard.guard is Guard.FUSE
        if is_fused and feed.guard and not is_safe_by_resistance(feed, examined):
            behind[feed.guard].append(feed.wire)
    for fuse, wires in behind.items():
        yield from _judged_fuse(fuse, wires, examined)


def _judged_fuse(fuse: Branch, wires: list[Wire], examined: Examined) -> Iterator[Finding]:
    configuration = examined.configuration
    allowed = {wire.id: lasting_current(wire, configuration)[0] for wire in wires}
    over = [wire for wire in wires if fuse.rating_a > allowed[wire.id]]
    if not over:
        return
    weakest = min(over, key=lambda wire: allowed[wire.id])
    limits = rating_limits(allowed[weakest.id], configuration.vehicle.voltage_v)
    is_far = fuse.rating_a > limits.loose_a
    found = Guarded(guard=fuse, wires=tuple(over), load_a=load_of(fuse, examined))
    sizes = {wire: size_that_would_do(wire, fuse.rating_a, configuration) for wire in over}
    remedy = smaller_fuse(found, limits.strict_a, examined) or thicker(sizes)
    yield Finding(
        code="PROT-FUSE-BIG",
        severity=Severity.WARNING if is_far else Severity.CAUTION,
        subjects=(at_part(fuse.name), *at_wires(wire.id for wire in over)),
        value=ampere(fuse.rating_a),
        limit=ampere(limits.strict_a),
        facts={
            "size": weakest.size,
            "wire": at_wire(weakest.id),
            "loose": ampere(limits.loose_a),
        },
        remedy=remedy or Remedy("fit-smaller-fuse-or-other-insulation"),
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
            yield Finding(
                code="PROT-FUSE-SMALL",
                cause="overloaded" if most_a > branch.rating_a else "near-its-rating",
                severity=Severity.WARNING if most_a > branch.rating_a else Severity.CAUTION,
                subjects=(at_part(branch.name),),
                value=ampere(most_a),
                limit=ampere(FUSE_LOAD_RATIO * branch.rating_a),
                facts={"rating": ampere(branch.rating_a), "share": ratio(FUSE_LOAD_RATIO)},
                remedy=_larger_fuse(branch, most_a, examined),
                source="common practice",
            )


def _larger_fuse(fuse: Branch, load_a: float, examined: Examined) -> Remedy:
    """The next rating that the wires behind it allow, or thicker wires with it."""
    configuration = examined.configuration
    behind = [f.wire for f in wires_to_protect(examined) if f.guard == fuse]
    rating_a = next_rating(load_a / FUSE_LOAD_RATIO, inf)
    if rating_a is None:
        return Remedy("fit-next-rating")
    weak = [w for w in behind if lasting_current(w, configuration)[0] < rating_a]
    grown = thicker({w: size_that_would_do(w, rating_a, configuration) for w in weak})
    facts: Facts = {"fuse": at_part(fuse.name), "rating": ampere(rating_a)}
    rate = rated(fuse, rating_a, configuration)
    if not weak:
        return Remedy("fit-fuse-of", facts, edits=(rate,))
    if grown is None:
        return Remedy("fit-next-rating")
    more: Facts = {**facts, "sizes": new_sizes(grown.edits)}
    return Remedy("fit-fuse-and-larger-wires", more, edits=(rate, *grown.edits))


def opens_too_late(examined: Examined) -> Iterator[Finding]:
    """A dead short spoils wires before their fuse or link has opened; one finding a guard."""
    open_questions: dict[tuple[str, str], list[str]] = {}
    late: dict[str, list[DeadShort]] = defaultdict(list)
    behind: dict[str, list[Wire]] = defaultdict(list)
    for feed in wires_to_protect(examined):
        if feed.guard is None or is_safe_by_resistance(feed, examined):
            continue
        behind[feed.guard.name].append(feed.wire)
        if ends_surely(feed, examined.warmest_c):
            continue
        try:
            fault = fault_at(feed, examined.warmest_c)
        except NetworkError as error:
            cause, why = "no-solution", str(error)
        else:
            if fault.is_surely_ended:
                continue
            cause, why = _why_open(fault), ""
            if fault.stands.time_s is not None and fault.least_s > fault.stands.time_s:
                late[fault.device.name if fault.device else ""].append(fault)
        if cause:
            open_questions.setdefault((cause, why), []).append(feed.wire.id)
    for device, faults in late.items():
        yield _judged_faults(faults, behind[device], examined)
    for (cause, why), wires in open_questions.items():
        yield _not_computed(wires, cause, {"why": why} if why else {})


def _why_open(fault: DeadShort) -> str:
    """Why the computation cannot say whether the wire stands it; "" if it can."""
    stands_s = fault.stands.time_s
    if stands_s is None:
        return "no-withstand-time"
    if fault.least_s <= stands_s < fault.most_s:
        return "opening-times-leave-open"
    return ""


def _judged_faults(faults: list[DeadShort], behind: list[Wire], examined: Examined) -> Finding:
    """The wires of one guard, that which stands it the shortest first."""
    faults = sorted(faults, key=lambda f: (f.stands.time_s or 0.0, f.feed.wire.id))
    worst = faults[0]
    cause, opening = _opening(worst)
    device = (_at_branch(worst.device),) if worst.device else ()
    return Finding(
        code="PROT-LATE",
        severity=Severity.DANGER,
        subjects=(*at_wires(fault.feed.wire.id for fault in faults), *device),
        cause=cause,
        value=ampere(worst.current_a),
        facts={
            **opening,
            "wire": at_wire(worst.feed.wire.id),
            "stands": second(worst.stands.time_s or 0.0),
        },
        remedy=standing_short(faults, behind, examined),
        source="IEC 60364-5-54 adiabatic rule; melting of copper; fuse curves as quoted",
    )


def _opening(fault: DeadShort) -> tuple[str, Facts]:
    """How a short circuit ends, and what the sentence on it names."""
    if fault.device is None:
        return NOTHING_OPENS, {}
    device = _at_branch(fault.device)
    if isinf(fault.least_s):
        return "never-opens", {"device": device}
    return "opens-late", {"device": device, "opens": second(fault.least_s)}


def _not_computed(wires: list[str], cause: str, facts: Facts) -> Finding:
    return Finding(
        code="PROT-NOT-COMPUTED",
        severity=Severity.NOTE,
        subjects=at_wires(sorted(wires)),
        cause=cause,
        facts=facts,
        remedy=Remedy("judge-by-fuse-ratings"),
        source="limits of the model",
    )


def _at_branch(branch: Branch) -> Subject:
    """The wire or fuse that a branch stands for."""
    return at_part(branch.name) if branch.wire_id is None else at_wire(branch.wire_id)


def output_above_wire(examined: Examined) -> Iterator[Finding]:
    """With a flat battery the whole output goes to it: the wires on that way must carry it."""
    configuration = examined.configuration
    for rated_a, names in output_ways(examined):
        output_a = lasting_output_a(rated_a, configuration)
        wires = [wire for wire in map(configuration.wire_by_id.get, names) if wire is not None]
        judged = {
            wire: lasting_current(wire, configuration)
            for wire in wires
            if wire.conductor in PLAIN and wire.circuit not in CRANKING_CIRCUITS
        }
        over = ampere(output_a)
        thin = {w: may for w, may in judged.items() if is_above(over, ampere(may[0]))}
        if thin:
            yield _too_thin(thin, output_a, configuration)
        for wire in judged:
            if wire not in thin and rated_a > judged[wire][0]:
                yield from _gain(wire, rated_a, configuration)


def _too_thin(
    thin: Mapping[Wire, tuple[float, str]], output_a: float, configuration: Configuration
) -> Finding:
    """One finding for a machine: its wires, the weakest first."""
    wires = sorted(thin, key=lambda wire: (thin[wire][0], wire.id))
    allowed_a, source = thin[wires[0]]
    return Finding(
        code="PROT-OUTPUT",
        severity=Severity.WARNING,
        subjects=at_wires(wire.id for wire in wires),
        value=ampere(output_a),
        limit=ampere(allowed_a),
        facts={
            "size": wires[0].size,
            "weakest": at_wire(wires[0].id),
            "margin": ratio(MARGIN_RATIO),
        },
        remedy=thicker({w: size_that_would_do(w, output_a, configuration) for w in wires})
        or Remedy("change-insulation-or-share-current"),
        source=source,
    )


def _gain(wire: Wire, rated_a: float, configuration: Configuration) -> Iterator[Finding]:
    """A note where practice is kept: what one size more would gain while the machine is cold."""
    air_c = configuration.runs[wire.id].ambient_c
    sizes = sizes_in(configuration.vehicle.size_system)
    larger = next((size for size in sizes if size.area_mm2 > wire.size.area_mm2 * 1.01), None)
    if larger is not None:
        yield Finding(
            code="SIZE-GAIN",
            severity=Severity.NOTE,
            subjects=(at_wire(wire.id),),
            value=celsius(conductor_temperature(wire.size, rated_a, air_c)),
            limit=celsius(wire.insulation.rated_c),
            facts={
                "size": wire.size,
                "larger": larger,
                "cooler": celsius(conductor_temperature(larger, rated_a, air_c)),
                "output": ampere(rated_a),
            },
            remedy=Remedy("fit-one-size-more-at-renewal", {"size": larger}),
            source="heat balance of a single wire in still air",
        )


def output_above_fuse(examined: Examined) -> Iterator[Finding]:
    """A fuse between alternator and battery that the rated output blows: a surge follows."""
    ratings = {b.name: b.rating_a for b in examined.ways.branches if b.guard is Guard.FUSE}
    for output_a, names in output_ways(examined):
        for name in names:
            if name in ratings and output_a > FUSE_LOAD_RATIO * ratings[name]:
                yield Finding(
                    code="PROT-OUTPUT-FUSE",
                    severity=Severity.WARNING,
                    subjects=(at_part(name),),
                    value=ampere(output_a),
                    limit=ampere(FUSE_LOAD_RATIO * ratings[name]),
                    facts={"rating": ampere(ratings[name])},
                    remedy=Remedy("fit-fuse-of-third-more"),
                    source="common practice",
                )
