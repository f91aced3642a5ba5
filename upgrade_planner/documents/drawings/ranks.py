"""
Which part stands in which row: from the supply at the top to ground at the bottom.

Minimises nothing by itself; it makes the conductors one direction without circles. They are let in
one after the other, the surest first (those of the finished vehicle, by their steps from the
battery); one that would close a circle is turned round. The rank of a part is its longest way from
the top. This order decides how the picture looks more than anything that comes later.
"""

from collections.abc import Iterable

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.documents.drawings.selection import Scene
from upgrade_planner.documents.drawings.topics import downwards, hops_from_battery
from upgrade_planner.documents.drawings.union import DrawnWire, Union

FAR = 99
_WEAK = ("tachometer", "start bypass")
"""Circuits that lead back from a load to another one."""
_PASSES = 6


def ranks_of(scene: Scene) -> dict[str, int]:
    """The row of each drawn part, from 0 without gaps; ground points in the last."""
    union = scene.union
    above = _directions(scene)
    grounds = [r for r in scene.roles if union.family(r) is Family.GROUND_POINT]
    parts = [role for role in scene.roles if role not in grounds]
    ranks = _longest_ways(union, parts, above)
    _pulled_down(union, parts, above, ranks)
    last = max(ranks.values(), default=0) + 1
    ranks |= dict.fromkeys(grounds, last)
    rows = {rank: row for row, rank in enumerate(sorted(set(ranks.values())))}
    return {role: rows[rank] for role, rank in ranks.items()}


def _directions(scene: Scene) -> dict[str, set[str]]:
    """For each part those right above it, over the drawn conductors."""
    union = scene.union
    above: dict[str, set[str]] = {role: set() for role in scene.roles}
    below: dict[str, set[str]] = {role: set() for role in scene.roles}
    for line in _surest_first(union, scene.lines):
        upper, lower = downwards(union, line)
        if upper == lower or Family.GROUND_POINT in map(union.family, (upper, lower)):
            continue
        if _reaches(below, lower, upper):
            upper, lower = lower, upper
        below[upper].add(lower)
        above[lower].add(upper)
    return above


def _surest_first(union: Union, lines: Iterable[DrawnWire]) -> list[DrawnWire]:
    steps = hops_from_battery(union)

    def key(line: DrawnWire) -> tuple[bool, bool, bool, int, str]:
        circuit = line.wire.circuit
        start = steps.get(downwards(union, line)[0], FAR)
        return (
            circuit == "start signal",
            not line.is_in_target,
            circuit in _WEAK,
            start,
            line.key,
        )

    return sorted(lines, key=key)


def _reaches(below: dict[str, set[str]], start: str, target: str) -> bool:
    seen: set[str] = set()
    open_ = [start]
    while open_:
        role = open_.pop()
        if role == target:
            return True
        if role not in seen:
            seen.add(role)
            open_.extend(below[role])
    return False


def _longest_ways(union: Union, parts: list[str], above: dict[str, set[str]]) -> dict[str, int]:
    has_battery = any(union.family(role) is Family.BATTERY for role in parts)
    ranks: dict[str, int] = {}

    def rank(role: str) -> int:
        if role not in ranks:
            top = 0 if union.family(role) is Family.BATTERY or not has_battery else 1
            ranks[role] = max((rank(upper) + 1 for upper in above[role]), default=top)
        return ranks[role]

    for role in parts:
        rank(role)
    return ranks


def _pulled_down(
    union: Union, parts: list[str], above: dict[str, set[str]], ranks: dict[str, int]
) -> None:
    """What has more conductors below than above hangs right above the nearest of these."""
    below: dict[str, list[str]] = {role: [] for role in parts}
    for role in parts:
        for upper in sorted(above[role]):
            below[upper].append(role)
    for _ in range(_PASSES):
        for role in parts:
            hangs = len(below[role]) > len(above[role]) or not above[role]
            if below[role] and hangs and union.family(role) is not Family.BATTERY:
                lowest = min(ranks[lower] for lower in below[role]) - 1
                highest = max((ranks[upper] + 1 for upper in above[role]), default=lowest)
                ranks[role] = max(lowest, highest)
