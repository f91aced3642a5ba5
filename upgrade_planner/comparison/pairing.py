"""
Pairs old wires with wanted ones: equal ends first, then one common end, then what is left.

Ids play no part: two files may name the same wire differently.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from enum import StrEnum

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.reuse import (
    follows,
    passes_same_connectors,
    reaches,
    shortfalls,
)
from upgrade_planner.configuration.model import (
    OTHER_POST,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)

UNPAIRABLE = None


class Bond(StrEnum):
    """What holds a pair together."""

    SAME_ENDS = "same ends"
    TURNED = "same ends, on the other posts"
    ONE_END = "one common end"
    LOOSE = "same circuit, both ends elsewhere"


@frozen
class Pair:
    """An old wire and the wanted wire it is held against."""

    before: Wire
    after: Wire
    bond: Bond


@frozen
class Pairing:
    """Pairs, and what is left on either side."""

    pairs: tuple[Pair, ...]
    unused: tuple[Wire, ...]
    missing: tuple[Wire, ...]


def pair_wires(before: Configuration, after: Configuration) -> Pairing:
    """Pairs every wire that can be paired; each wire stands in one pair at the most."""
    pairs = _same_ends(before, after)
    for bond, cost in (
        (Bond.TURNED, _turned_cost(before, after)),
        (Bond.ONE_END, _one_end_cost(before, after)),
        (Bond.LOOSE, _loose_cost(before, after)),
    ):
        old = _left(before.wires, [pair.before for pair in pairs])
        new = _left(after.wires, [pair.after for pair in pairs])
        pairs += [Pair(o, n, bond) for o, n in cheapest_pairs(old, new, cost)]
    return Pairing(
        pairs=tuple(pairs),
        unused=tuple(_left(before.wires, [pair.before for pair in pairs])),
        missing=tuple(_left(after.wires, [pair.after for pair in pairs])),
    )


def _left(wires: Iterable[Wire], taken: Iterable[Wire]) -> list[Wire]:
    ids = {wire.id for wire in taken}
    return [wire for wire in wires if wire.id not in ids]


def _same_ends(before: Configuration, after: Configuration) -> list[Pair]:
    wanted: dict[frozenset[TerminalRef], list[Wire]] = defaultdict(list)
    for wire in after.wires:
        wanted[wire.joins].append(wire)
    found: dict[frozenset[TerminalRef], list[Wire]] = defaultdict(list)
    for wire in before.wires:
        if wire.joins in wanted:
            found[wire.joins].append(wire)
    pairs = []
    for joins, old in found.items():
        chosen = cheapest_pairs(old, wanted[joins], _likeness_cost)
        pairs += [Pair(o, n, Bond.SAME_ENDS) for o, n in chosen]
    return pairs


def _likeness_cost(old: Wire, new: Wire) -> int | None:
    """Parallel wires: the most alike belong together; a resistance wire never turns copper."""
    if Conductor.RESISTANCE in (old.conductor, new.conductor) and old.conductor != new.conductor:
        return UNPAIRABLE
    cost = 1000 * (old.circuit != new.circuit) + 400 * len(shortfalls(old, new))
    cost += 100 * (old.conductor != new.conductor) + 10 * (old.size != new.size)
    return cost + (old.colour != new.colour)


def _turned_cost(before: Configuration, after: Configuration) -> Callable[[Wire, Wire], int | None]:
    """Where the ground changes over: a wire that goes to the other posts, and fits there."""
    is_turned = before.vehicle.ground != after.vehicle.ground

    def cost(old: Wire, new: Wire) -> int | None:
        if not is_turned or {_other_post(end) for end in old.ends} != new.joins:
            return UNPAIRABLE
        return UNPAIRABLE if shortfalls(old, new) else _likeness_cost(old, new)

    return cost


def _other_post(end: TerminalRef) -> TerminalRef:
    return TerminalRef(end.role, OTHER_POST.get(end.terminal, end.terminal))


def _one_end_cost(
    before: Configuration, after: Configuration
) -> Callable[[Wire, Wire], int | None]:
    def cost(old: Wire, new: Wire) -> int | None:
        if old.circuit != new.circuit or not old.joins & new.joins or shortfalls(old, new):
            return UNPAIRABLE
        old_run, new_run = before.runs[old.id], after.runs[new.id]
        if not reaches(old_run, new_run) or not passes_same_connectors(old_run, new_run):
            return UNPAIRABLE
        return _waste(old_run.length_m, new_run.length_m, old, new)

    return cost


def _loose_cost(before: Configuration, after: Configuration) -> Callable[[Wire, Wire], int | None]:
    def cost(old: Wire, new: Wire) -> int | None:
        if old.circuit != new.circuit or shortfalls(old, new):
            return UNPAIRABLE  # another circuit's colour would mislead the next owner
        old_run, new_run = before.runs[old.id], after.runs[new.id]
        if not old_run.routes or not reaches(old_run, new_run):
            return UNPAIRABLE
        if not follows(old_run, new_run) or not passes_same_connectors(old_run, new_run):
            return UNPAIRABLE
        return _waste(old_run.length_m, new_run.length_m, old, new)

    return cost


def _waste(old_m: float, new_m: float, old: Wire, new: Wire) -> int:
    copper = round(100 * (old.size.area_mm2 - new.size.area_mm2))
    return round(1000 * max(old_m - new_m, 0.0)) + copper + 5 * (old.colour != new.colour)


def cheapest_pairs(
    old: Sequence[Wire], new: Sequence[Wire], cost: Callable[[Wire, Wire], int | None]
) -> list[tuple[Wire, Wire]]:
    """
    As many pairs as possible, and of all such ways the cheapest one.

    Args:
        old: Wires in the vehicle.
        new: Wires wanted.
        cost: Cost of a pair; None if the two cannot be paired.
    """
    olds, news = _ranked(old), _ranked(new)
    prices = [
        (i, j, price)
        for i, one in enumerate(olds)
        for j, other in enumerate(news)
        if (price := cost(one, other)) is not None
    ]
    if len({i for i, *_ in prices}) == len({j for _, j, _ in prices}) == len(prices):
        return [(olds[i], news[j]) for i, j, _ in prices]  # no wire has a choice
    import networkx  # slow to import, and only comparisons of two wirings need it

    graph = networkx.Graph()
    for i, j, price in prices:
        graph.add_edge(("old", i), ("new", j), weight=price)
    matched = networkx.min_weight_matching(graph)
    chosen = sorted(tuple(sorted(edge, reverse=True)) for edge in matched)
    return [(olds[i], news[j]) for (_, i), (_, j) in chosen]


def _ranked(wires: Sequence[Wire]) -> list[Wire]:
    """Order that depends on the wires, not on their names or places in the file."""

    def rank(wire: Wire) -> tuple[str, ...]:
        ends = sorted(str(ref) for ref in wire.ends)
        return (*ends, wire.circuit, wire.size.label, wire.colour.code, str(wire.conductor))

    return sorted(wires, key=rank) if len(wires) > 1 else list(wires)
