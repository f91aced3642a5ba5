"""
What one picture is about: conductors of circuits that belong together.

A picture that gets too large is told in two: by its finer circuits while there are some, then by
what hangs together, then by halves, the nearer to the battery first. So a picture never misses
its page for long, and every changed conductor stands in exactly one.
"""

from collections import Counter
from collections.abc import Iterable, Sequence

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import PartKept
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.documents.drawings.union import DrawnWire, Union
from upgrade_planner.documents.words.wording import sentence

GROUND = "ground"
"""Circuit of returns: they go with the parts that they serve."""


@frozen(kw_only=True)
class CircuitGroup:
    """
    Circuits that are drawn together.

    Attributes:
        from_battery: True if the way from the battery is drawn, too.
        finer: The subjects that it can be told in, if it gets too large.
    """

    title: str
    circuits: frozenset[str]
    from_battery: bool = False
    finer: tuple["CircuitGroup", ...] = ()


_STARTING = CircuitGroup(
    title="Battery, starting, main feed",
    circuits=frozenset({"battery cable", "starter cable", "start signal", "main feed"}),
    from_battery=True,
)
_FUSES = CircuitGroup(title="Key switch and fuses", circuits=frozenset({"distribution"}))
_CHARGING = CircuitGroup(
    title="Charging and charge lamp",
    circuits=frozenset(
        {"charge output", "sensing", "charge lamp", "field", "field relay", "regulator supply"}
    ),
)
_FEEDING = CircuitGroup(
    title="Battery, starting, main feed",
    circuits=_STARTING.circuits | _FUSES.circuits,
    from_battery=True,
    finer=(_STARTING, _FUSES),
)
SUBJECTS = (
    CircuitGroup(
        title="Battery, starting, charging, main feed",
        circuits=_FEEDING.circuits | _CHARGING.circuits,
        from_battery=True,
        finer=(_FEEDING, _CHARGING),
    ),
    CircuitGroup(
        title="Ignition",
        circuits=frozenset(
            {"ignition feed", "ignition primary", "start bypass", "tachometer", "trigger"}
        ),
    ),
)
OTHERS = CircuitGroup(title="Lamps and other loads", circuits=frozenset())
"""What no subject claims."""


@frozen(kw_only=True, eq=False)
class Topic:
    """
    What one picture must show.

    Attributes:
        lines: Changed conductors, each in exactly one topic.
        roles: Changed parts that none of these reaches.
        part: Counts the pictures of one title; 0 if there is one only.
    """

    subject: CircuitGroup
    lines: tuple[DrawnWire, ...]
    roles: tuple[str, ...] = ()
    part: int = 0

    @property
    def title(self) -> str:
        """Heading of the picture."""
        return f"{self.name} ({self.part})" if self.part else self.name

    @property
    def name(self) -> str:
        """The circuits, as people say them."""
        circuits = sorted({line.wire.circuit for line in self.lines} - {GROUND})
        return (
            sentence(", ".join(circuits))
            if self.subject is OTHERS and circuits
            else (self.subject.title)
        )


def topics_of(union: Union) -> tuple[Topic, ...]:
    """What the pictures of a comparison are about, in the order of the pages."""
    lines = [line for line in union.lines if not line.stays]
    reached = {end.role for line in lines for end in line.every_end}
    roles = [
        role
        for role, change in union.parts.items()
        if not isinstance(change, PartKept) and role not in reached
    ]
    subjects = (*SUBJECTS, OTHERS)
    topics = _shared_out(union, lines, roles, subjects)
    return tuple(
        piece
        for topic in topics
        for piece in (_pieces(union, topic) if topic.subject is OTHERS else (topic,))
    )


def told_in_two(union: Union, topic: Topic) -> tuple[Topic, ...]:
    """The same in smaller pictures; the topic alone if there is nothing left to part."""
    finer = topic.subject.finer
    if finer:
        topics = _shared_out(union, topic.lines, topic.roles, finer)
        if len(topics) == 1:
            return told_in_two(union, topics[0])
        return topics
    pieces = _pieces(union, topic)
    return pieces if len(pieces) > 1 else _halves(union, topic)


def _shared_out(
    union: Union, lines: Iterable[DrawnWire], roles: Iterable[str], subjects: Sequence[CircuitGroup]
) -> tuple[Topic, ...]:
    by_line = [(_subject_of(union, line, subjects), line) for line in lines]
    by_role = [(_most_of(union, (role,), subjects), role) for role in roles]
    found = (
        Topic(
            subject=subject,
            lines=tuple(line for mine, line in by_line if mine is subject),
            roles=tuple(role for mine, role in by_role if mine is subject),
        )
        for subject in subjects
    )
    return tuple(topic for topic in found if topic.lines or topic.roles)


def _claiming(circuit: str, subjects: Sequence[CircuitGroup]) -> CircuitGroup:
    return next((item for item in subjects if circuit in item.circuits), subjects[-1])


def _subject_of(union: Union, line: DrawnWire, subjects: Sequence[CircuitGroup]) -> CircuitGroup:
    if line.wire.circuit != GROUND:
        return _claiming(line.wire.circuit, subjects)
    served = [
        role
        for role in line.roles
        if union.family(role) not in (Family.GROUND_POINT, Family.BATTERY)
    ]
    return _most_of(union, served, subjects) if served else subjects[0]


def _most_of(union: Union, roles: Iterable[str], subjects: Sequence[CircuitGroup]) -> CircuitGroup:
    """The subject of most conductors at some parts; the first of equals."""
    counts = Counter(
        subjects.index(_claiming(line.wire.circuit, subjects))
        for role in roles
        for line in union.lines_at[role]
        if line.wire.circuit != GROUND
    )
    most = min(counts, key=lambda index: (-counts[index], index), default=0)
    return subjects[most]


def _pieces(union: Union, topic: Topic) -> tuple[Topic, ...]:
    """The topic by what hangs together over parts other than ground points."""
    groups: list[tuple[set[str], list[DrawnWire]]] = []
    for line in topic.lines:
        roles = {
            end.role for end in line.every_end if union.family(end.role) is not Family.GROUND_POINT
        }
        joined = [group for group in groups if group[0] & roles]
        groups = [group for group in groups if group not in joined]
        together = [*(one for group in joined for one in group[1]), line]
        groups.append((roles.union(*(group[0] for group in joined)), together))
    if topic.roles:
        groups.append((set(topic.roles), []))
    if len(groups) < 2:
        return (topic,)
    return tuple(
        evolve(
            topic,
            lines=tuple(line for line in topic.lines if line in lines),
            roles=topic.roles if not lines else (),
        )
        for _, lines in groups
    )


def _halves(union: Union, topic: Topic) -> tuple[Topic, ...]:
    """The half that is nearer to the battery, and the rest, without the way from there."""
    if len(topic.lines) < 2:
        return (topic,)
    away = hops_from_battery(union)
    ordered = sorted(
        topic.lines, key=lambda line: (min(away.get(role, 99) for role in line.roles), line.key)
    )
    half = len(ordered) // 2
    near = set(ordered[:half])
    first, rest = (
        tuple(line for line in topic.lines if (line in near) is wanted) for wanted in (True, False)
    )
    far = evolve(topic.subject, from_battery=False)
    return evolve(topic, lines=first), evolve(topic, subject=far, lines=rest, roles=())


def numbered(topics: Iterable[Topic]) -> tuple[Topic, ...]:
    """The same, with numbers where several have one title."""
    topics = tuple(topics)
    counts = Counter(topic.name for topic in topics)
    seen: Counter[str] = Counter()
    found = []
    for topic in topics:
        title = topic.name
        seen[title] += 1
        found.append(evolve(topic, part=seen[title] if counts[title] > 1 else 0))
    return tuple(found)


def hops_from_battery(union: Union) -> dict[str, int]:
    """How many conductors lie between the battery and each part, along their own direction."""
    following: dict[str, list[str]] = {role: [] for role in union.parts}
    for line in union.lines:
        above, below = downwards(union, line)
        if line.is_in_target and Family.GROUND_POINT not in map(union.family, (above, below)):
            following[above].append(below)
    away = {role: 0 for role in union.parts if union.family(role) is Family.BATTERY}
    front = sorted(away)
    while front:
        reached = sorted({role for known in front for role in following[known]} - set(away))
        away |= dict.fromkeys(reached, away[front[0]] + 1)
        front = reached
    return away


_LEVELS = {
    Family.ALTERNATOR: 2,
    Family.DYNAMO: 2,
    Family.REGULATOR: 1,
    Family.CUT_OUT: 1,
}
"""Machines that charge stand low in a picture, their regulators above them."""


def downwards(union: Union, line: DrawnWire) -> tuple[str, str]:
    """The part that stands above a conductor and the one below: from supply to load."""
    above, below = line.roles
    levels = [_LEVELS.get(union.family(role), 0) for role in (above, below)]
    if levels[0] > levels[1]:
        above, below = below, above
    if union.family(below) is Family.BATTERY:
        above, below = below, above
    return above, below
