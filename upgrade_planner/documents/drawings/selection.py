"""
What one picture shows: the changed conductors of its topic, and as little else as they need.

Of what stays there are: the cheapest way from the battery to each part concerned, the returns of
these parts, and what else of the same circuits lies between drawn parts. A conductor that feeds
a drawn part from elsewhere is a flag; all others are counted behind the label of their terminal,
so that no terminal hides one.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from heapq import heappop, heappush

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.documents.drawings.topics import GROUND, Topic
from upgrade_planner.documents.drawings.union import GROUNDED, LIVE, DrawnWire, End, Union

CABLES = (GROUND, "battery cable")
OTHER_SUBJECT = 3
"""A way over conductors of other circuits counts as so much longer."""

_SHARED = (Family.JOINT, Family.PROTECTION, Family.STARTER_RELAY)
"""Families that feed several circuits: where their own feed changes, the picture says so."""


@frozen(kw_only=True, eq=False)
class Flag:
    """A conductor that feeds a drawn part from elsewhere."""

    line: DrawnWire
    here: End
    there: End


@frozen(kw_only=True, eq=False)
class Scene:
    """
    What a picture shows.

    Attributes:
        roles: Parts that are drawn.
        concerned: Those of them that the topic is about.
        is_whole: True if a whole vehicle is drawn.
        uncounted: Conductors at a drawn terminal that are neither lines nor flags, by terminal.
        notes: What stands behind the label of a terminal.
        warned: What stands in capitals over a part that has nothing done to it, by role.
    """

    title: str
    union: Union
    lines: tuple[DrawnWire, ...]
    flags: tuple[Flag, ...]
    roles: tuple[str, ...]
    concerned: frozenset[str]
    uncounted: Mapping[End, int]
    is_whole: bool = False
    notes: Mapping[End, str] = field(factory=dict)
    warned: Mapping[str, str] = field(factory=dict)


def scene_of(union: Union, topic: Topic) -> Scene:
    """What the picture of a topic shows."""
    return _Selecting(union, topic).scene()


def whole_scene(union: Union, title: str) -> Scene:
    """Every conductor in use after the work, and every part that has one."""
    lines = tuple(line for line in union.lines if line.is_in_target)
    roles = tuple(sorted({role for line in lines for role in line.roles}))
    return Scene(
        title=title,
        union=union,
        lines=lines,
        flags=(),
        roles=roles,
        concerned=frozenset(roles),
        uncounted={},
        is_whole=True,
    )


class _Selecting:
    """Collects lines and flags of one topic."""

    def __init__(self, union: Union, topic: Topic) -> None:
        self._union = union
        self._topic = topic
        self._lines = set(topic.lines)
        self._flags: list[Flag] = []
        ends = {end.role for line in topic.lines for end in line.every_end}
        self._concerned = ends | set(topic.roles)
        if topic.subject.from_battery:
            self._concerned |= set(self._batteries)

    def scene(self) -> Scene:
        if self._topic.subject.from_battery:
            self._lines |= set(self._ways_from_battery())
        touched = self._touched
        for line in self._others:
            self._place(line, touched)
        self._lines |= set(self._straps())
        lines = tuple(line for line in self._union.lines if line in self._lines)
        roles = tuple(sorted(self._touched))
        return Scene(
            title=self._topic.title,
            union=self._union,
            lines=lines,
            flags=tuple(self._flags),
            roles=roles,
            concerned=frozenset(self._concerned),
            uncounted=uncounted_in(self._union, lines, self._flags, roles),
        )

    @property
    def _batteries(self) -> list[str]:
        return [r for r in self._union.parts if self._family(r) is Family.BATTERY]

    @property
    def _touched(self) -> set[str]:
        left = {end.role for line in self._topic.lines for end in line.left}
        drawn = {role for line in self._lines for role in line.roles}
        return self._concerned | drawn | left

    @property
    def _others(self) -> Iterator[DrawnWire]:
        return (line for line in self._union.lines if line not in self._lines)

    def _family(self, role: str) -> Family:
        return self._union.family(role)

    def _is_ground(self, role: str) -> bool:
        return self._family(role) is Family.GROUND_POINT

    def _is_mine(self, line: DrawnWire) -> bool:
        return line.wire.circuit in self._topic.subject.circuits

    # Ways -----------------------------------------------------------------------------------

    def _ways_from_battery(self) -> Iterator[DrawnWire]:
        """What stays, or belongs to the topic, of the cheapest ways to the parts concerned."""
        before = self._cheapest()
        for role in sorted(self._concerned):
            at = role
            while at in before:
                at, line = before[at]
                if line.stays or line in self._lines:
                    yield line

    def _cheapest(self) -> dict[str, tuple[str, DrawnWire]]:
        """For each part the one before it on the cheapest way from the battery, and the line."""
        joined = self._joined()
        cost = dict.fromkeys(self._batteries, 0)
        before: dict[str, tuple[str, DrawnWire]] = {}
        open_: list[tuple[int, str]] = [(0, role) for role in sorted(cost)]
        while open_:
            so_far, role = heappop(open_)
            if so_far > cost[role]:
                continue
            for other, line in joined.get(role, ()):
                longer = so_far + (1 if self._is_mine(line) else OTHER_SUBJECT)
                if longer < cost.get(other, longer + 1):
                    cost[other], before[other] = longer, (role, line)
                    heappush(open_, (longer, other))
        return before

    def _joined(self) -> dict[str, list[tuple[str, DrawnWire]]]:
        joined: dict[str, list[tuple[str, DrawnWire]]] = {}
        for line in sorted(self._union.lines, key=lambda one: (not self._is_mine(one), one.key)):
            if not self._is_return(line):
                first, second = line.roles
                joined.setdefault(first, []).append((second, line))
                joined.setdefault(second, []).append((first, line))
        return joined

    def _is_return(self, line: DrawnWire) -> bool:
        return (
            line.wire.circuit == GROUND
            or any(self._is_ground(role) for role in line.roles)
            or any(self._is_grounded_post(end) for end in line.ends)
        )

    def _is_grounded_post(self, end: End) -> bool:
        return end.terminal == GROUNDED and self._family(end.role) is Family.BATTERY

    # What stays -----------------------------------------------------------------------------

    def _place(self, line: DrawnWire, touched: set[str]) -> None:
        """A conductor that the topic does not change: a line, a flag, or only counted."""
        if not line.stays:
            if self._is_shared_feed(line, touched):
                self._flags.append(Flag(line=line, here=line.end, there=line.start))
        elif self._is_context(line, touched):
            self._lines.add(line)
        elif self._feeds(line, touched):
            self._flags.append(Flag(line=line, here=line.end, there=line.start))

    def _is_context(self, line: DrawnWire, touched: set[str]) -> bool:
        inside = touched.issuperset(line.roles)
        cable = line.wire.circuit in CABLES
        if inside and (self._is_mine(line) or line.wire.circuit == GROUND):
            return True
        if self._topic.subject.from_battery and cable and self._is_battery_return(line):
            return True
        return line.wire.circuit == GROUND and bool(self._concerned.intersection(line.roles))

    def _is_battery_return(self, line: DrawnWire) -> bool:
        batteries = [end for end in line.ends if self._family(end.role) is Family.BATTERY]
        return bool(batteries) and all(end.terminal != LIVE for end in batteries)

    def _feeds(self, line: DrawnWire, touched: set[str]) -> bool:
        start, end = line.roles
        if end not in touched or start in touched or self._is_ground(end):
            return False
        return "fuses" not in self._union.part(end).ratings

    def _is_shared_feed(self, line: DrawnWire, touched: set[str]) -> bool:
        start, end = line.roles
        if not line.is_in_target or line.wire.circuit == GROUND:
            return False
        shares = self._family(end) in _SHARED or self._union.part(end).can(Capability.KEY)
        return end in touched and start not in touched and shares

    def _straps(self) -> Iterator[DrawnWire]:
        """What joins drawn ground points."""
        touched = self._touched
        for line in self._others:
            grounds = all(self._is_ground(role) for role in line.roles)
            if line.stays and grounds and touched.issuperset(line.roles):
                yield line


def uncounted_in(
    union: Union, lines: Iterable[DrawnWire], flags: Iterable[Flag], roles: Iterable[str]
) -> dict[End, int]:
    """How many conductors of each drawn terminal are neither lines nor flags."""
    shown = Counter(end for line in lines for end in dict.fromkeys(line.every_end))
    shown.update(flag.here for flag in flags)
    drawn = set(roles)
    return {
        end: count - shown[end]
        for end, count in union.wires_on.items()
        if end.role in drawn
        and count > shown[end]
        and union.family(end.role) is not Family.GROUND_POINT
    }
