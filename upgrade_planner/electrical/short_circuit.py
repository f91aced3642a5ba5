"""
A dead short at the far end of each wire: how much current, which device opens, and is it in time.

The engine stands; the battery feeds the fault through the way that `feed_ways` finds, whose
switches are closed for it. The fault is a resistance of `FAULT_OHM` from the far end to the metal
beside it, or to the grounded post where there is none. Wires are as cold as the air around them,
which gives the greatest current; the wire begins as warm as it gets in use.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from itertools import product
from math import inf

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Conductor, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.electrical.batteries import posts_of
from upgrade_planner.electrical.branches import Branch, Guard, key_positions, wires_on
from upgrade_planner.electrical.circuit import wire_name, wire_ohms
from upgrade_planner.electrical.feed_ways import FeedWays
from upgrade_planner.electrical.fusible_links import melting_time
from upgrade_planner.electrical.metals import shorting_current
from upgrade_planner.electrical.models.context import metal_node, node_of
from upgrade_planner.electrical.protection import BLADE, LARGE_BLADE, opening_window
from upgrade_planner.electrical.shorts import FAULT_OHM, Shorts
from upgrade_planner.electrical.withstand import (
    ADIABATIC_LONGEST_S,
    Withstand,
    short_circuit_limit,
    withstand,
)

LARGEST_BLADE_A = 30.0
"""Fuses up to here are reckoned as regular blades, greater ones as large blades, for profiles do
not say the body. [A] Source: our assumption; ranges as in data/fuse_ratings.csv."""

ALIKE_RATIO = 1e-9
"""Devices whose times differ by less open at once: of equal links in series rounding would decide.
[1] Our choice."""

CRANKING_CIRCUITS = ("battery cable", "starter cable")
"""Exempt from fuses: 33 CFR 183.455, cranking cables."""


@frozen(kw_only=True)
class Feed:
    """
    How the battery can feed a wire.

    Attributes:
        ways: What the way was found in: the key position that guards the wire least.
        wire: The wire.
        near: Its end nearer to the battery.
        way: Branches from the battery to that end.
        guard: The weakest guard on the way; None if there is none.
        last_guard: The guard nearest to the wire; None if there is none.
        unguarded_m: Length of conductor from battery or cranking cable to the first guard, or to
            the far end of the wire if there is none. [m]
        shorts: Dead shorts like the one at its far end.
    """

    ways: FeedWays
    wire: Wire
    near: TerminalRef
    way: tuple[Branch, ...]
    guard: Branch | None
    last_guard: Branch | None
    unguarded_m: float
    shorts: Shorts

    @property
    def reach_a(self) -> float:
        """What the weakest guard on the way passes. [A]"""
        return self.ways.reach_a[node_of(self.near)]

    @property
    def far(self) -> TerminalRef:
        """The other end."""
        return self.wire.other_end(self.near)


@frozen(kw_only=True)
class DeadShort:
    """
    A dead short at the far end of a wire.

    Attributes:
        current_a: In the wire. [A]
        device: The device that opens first; None if none needs to open.
        least_s: It opens no earlier. [s]
        most_s: It has opened by then. [s]
        start_c: How warm the wire is when it begins. [°C]
    """

    feed: Feed
    current_a: float
    device: Branch | None
    least_s: float
    most_s: float
    start_c: float

    @cached_property
    def stands(self) -> Withstand:
        """How long the wire stands it."""
        wire = self.feed.wire
        air_c = self.feed.ways.configuration.runs[wire.id].ambient_c
        return _stands(wire, self.current_a, self.start_c, air_c)

    @property
    def is_surely_ended(self) -> bool:
        """Whether the device has opened before the wire, all its heat kept, is spoiled."""
        kept = _stands(self.feed.wire, self.current_a, self.start_c)
        return self.most_s <= (ADIABATIC_LONGEST_S if kept.time_s is None else kept.time_s)


def feeds(configuration: Configuration) -> Iterator[Feed]:
    """Every wire that a battery can feed, by the least guarded way; not the returns."""
    worst: dict[str, Feed] = {}
    shorts: dict[tuple[str, ...], Shorts] = {}
    posts = posts_of(configuration).live or (None,)
    ends = [(w, [(ref, node_of(ref)) for ref in w.ends]) for w in configuration.wires]
    for key, post in product(key_positions(configuration), posts):
        ways = FeedWays(configuration, key, post)
        reach_a = ways.reach_a
        for wire, nodes in ends:
            known = worst.get(wire.id)
            reached = [end for end in nodes if end[1] in reach_a]
            most_a = max([reach_a[node] for _, node in reached], default=-inf)
            if not reached or (known is not None and most_a <= known.reach_a):
                continue
            feed = _feed(wire, reached, ways, shorts)
            if feed is not None and (known is None or feed.reach_a > known.reach_a):
                worst[wire.id] = feed
    for feed in worst.values():
        feed.shorts.include(node_of(feed.far))
    yield from worst.values()


def _feed(
    wire: Wire,
    reached: Iterable[tuple[TerminalRef, str]],
    ways: FeedWays,
    shorts: dict[tuple[str, ...], Shorts],
) -> Feed | None:
    """How a wire is fed at one of the ends that are reached; None if through itself alone."""
    found = []
    for ref, node in reached:
        reach_a = ways.reach_a[node]
        way = ways.way(ways.live, node, reach_a)
        if way is not None and wire.id not in wires_on(way):
            found.append((-reach_a, sum(branch.ohms for branch in way), ref, way))
    if not found:
        return None
    negative, _, near, way = min(found, key=lambda item: item[:2])
    guard = next((b for b in way if b.guard is not Guard.NONE and b.limit_a <= -negative), None)
    guards = [branch for branch in way if branch.guard is not Guard.NONE]
    return Feed(
        ways=ways,
        wire=wire,
        near=near,
        way=way,
        guard=guard,
        last_guard=guards[-1] if guards else None,
        unguarded_m=_unguarded_m(wire, way, ways.configuration),
        shorts=_shorts(wire.other_end(near), way, ways, shorts),
    )


def _shorts(
    far: TerminalRef, way: tuple[Branch, ...], ways: FeedWays, known: dict[tuple[str, ...], Shorts]
) -> Shorts:
    """The shorts that the contacts of a way feed, to the metal beside a terminal."""
    on_way = {branch.name for branch in way}
    closed = tuple(contact for contact in ways.contacts if contact.name in on_way)
    metal = metal_node(ways.configuration.place_of(far).metal)
    back = metal if metal in ways.grounded else ways.reference
    alike = (back, *(contact.name for contact in closed))
    if alike not in known:
        known[alike] = Shorts(ways, closed, back)
    return known[alike]


def _unguarded_m(wire: Wire, way: tuple[Branch, ...], configuration: Configuration) -> float:
    """Counted from the last cranking cable on the way, which is exempt. [m]"""
    total_m = 0.0
    for branch in way:
        if branch.guard in (Guard.FUSE, Guard.LINK):
            return total_m
        if branch.wire_id is not None:
            passed = configuration.wire_by_id[branch.wire_id]
            is_cable = passed.circuit in CRANKING_CIRCUITS
            total_m = 0.0 if is_cable else total_m + configuration.runs[passed.id].length_m
    return total_m + configuration.runs[wire.id].length_m


def fault_at(feed: Feed, warmest_c: Mapping[str, float]) -> DeadShort:
    """
    The dead short at the far end of a wire.

    Args:
        feed: How the battery feeds it.
        warmest_c: Highest temperature of each wire in use, by id; its air if it is not named. [°C]

    Raises:
        NetworkError: The network with the fault cannot be solved.
    """
    ways = feed.ways
    current_a = feed.shorts.current_a(node_of(feed.far))
    wire = feed.wire
    through_a = abs(current_a.get(wire_name(wire.id), 0.0))
    first, least_s, most_s = _first_to_open(feed, current_a, ways.configuration)
    return DeadShort(
        feed=feed,
        current_a=through_a,
        device=first,
        least_s=least_s,
        most_s=most_s,
        start_c=_start_c(wire, ways.configuration, warmest_c),
    )


def _first_to_open(
    feed: Feed, current_a: Mapping[str, float], configuration: Configuration
) -> tuple[Branch | None, float, float]:
    """The device that has surely opened first, the first on the way of equals; its window. [s]"""
    first, least_s, most_s = None, inf, inf
    for branch in feed.way:
        if branch.guard not in (Guard.FUSE, Guard.LINK):
            continue
        early_s, late_s = opening_times(branch, abs(current_a.get(branch.name, 0.0)), configuration)
        least_s = min(least_s, early_s)
        if first is None or late_s < most_s * (1 - ALIKE_RATIO):
            first, most_s = branch, late_s
    return first, least_s, most_s


def ends_surely(feed: Feed, warmest_c: Mapping[str, float]) -> bool:
    """
    Whether a dead short at the far end of a wire is surely ended in time: by bounds, not solved.

    All that it gets passes a device without which no conductor leads there; loads make the current
    of wire and device differ by as much as they draw. The time of a device falls at least with the
    square of the current, that which a wire stands no faster: what holds for the least current
    holds for any.

    Args:
        feed: How the battery feeds it, whose posts no conductors join without a short
            (`FeedWays.is_shorted`).
        warmest_c: As at `fault_at`.
    """
    ways, drawn_a = feed.ways, feed.shorts.drawn_a
    least_a = feed.shorts.least_a([*(b.name for b in feed.way), wire_name(feed.wire.id)])
    devices = [
        branch
        for branch in feed.way
        if branch.guard in (Guard.FUSE, Guard.LINK)
        and node_of(feed.far) not in ways.live_without(branch.name)
    ]
    if not least_a or not devices:
        return False
    times = (opening_times(device, least_a, ways.configuration) for device in devices)
    bound = DeadShort(
        feed=feed,
        current_a=least_a + 2 * drawn_a,
        device=devices[0],
        least_s=0.0,
        most_s=min(latest_s for _, latest_s in times),
        start_c=_start_c(feed.wire, ways.configuration, warmest_c),
    )
    return bound.is_surely_ended


def opening_times(
    device: Branch, current_a: float, configuration: Configuration
) -> tuple[float, float]:
    """Between which times a fuse or link opens; both infinite if it need not. [s]"""
    if current_a <= 0:
        return inf, inf
    if device.guard is Guard.FUSE:
        kind = BLADE if device.rating_a <= LARGEST_BLADE_A else LARGE_BLADE
        window = opening_window(kind, current_a / device.rating_a)
        return window.least_s, window.most_s
    link = configuration.wire_by_id[device.owner]
    ambient_c = configuration.runs[link.id].ambient_c
    time_s = melting_time(link.size.area_mm2, current_a, ambient_c)
    return time_s, time_s


def stands_with(
    fault: DeadShort,
    size: WireSize,
    configuration: Configuration,
    warmest_c: Mapping[str, float],
) -> bool:
    """
    Whether a wire of another size would outlast the device before it.

    The greater current is reckoned by the resistances alone, without solving again: battery, way
    and metal keep theirs.
    """
    wire, device = fault.feed.wire, fault.device
    if device is None or fault.current_a <= 0:
        return False
    air_c = configuration.runs[wire.id].ambient_c
    larger = evolve(wire, size=size, conductor=Conductor.COPPER)
    whole_ohm = fault.feed.ways.emf_v / fault.current_a
    saved_ohm = wire_ohms(wire, configuration, air_c) - wire_ohms(larger, configuration, air_c)
    current_a = fault.feed.ways.emf_v / max(whole_ohm - saved_ohm, FAULT_OHM)
    start_c = _start_c(wire, configuration, warmest_c)
    opens_s = opening_times(device, current_a, configuration)[1]
    kept_s = _stands(larger, current_a, start_c).time_s
    if opens_s < (ADIABATIC_LONGEST_S if kept_s is None else kept_s):
        return True
    stands_s = _stands(larger, current_a, start_c, air_c).time_s
    return stands_s is not None and opens_s < stands_s


def _start_c(wire: Wire, configuration: Configuration, warmest_c: Mapping[str, float]) -> float:
    air_c = configuration.runs[wire.id].ambient_c
    return max(warmest_c.get(wire.id, air_c), air_c)


def _stands(wire: Wire, current_a: float, start_c: float, air_c: float | None = None) -> Withstand:
    """How long a wire stands a current; no time if it is long and the air is not named."""
    limit_c = short_circuit_limit(wire.insulation.name).limit_c
    if wire.conductor is Conductor.RESISTANCE or current_a <= 0:
        return Withstand(time_s=inf, method="limited by its own resistance")
    if start_c >= limit_c:
        return Withstand(time_s=0.0, method="already too hot")
    alike_a = shorting_current(wire, current_a)
    return withstand(wire.size, alike_a, start_c, limit_c, ambient_c=air_c)
