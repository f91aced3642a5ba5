"""
Both configurations as one set of parts and conductors, as a picture of the change needs them.

A conductor is one line, at its new ends; the end that a moved one leaves is kept beside it. The
posts of a battery and of a coil are told apart as live and grounded, so that a change of polarity
leaves the picture upright and shows in the labels alone.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cached_property

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import PartChange
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import (
    Disposition,
    IntoTarget,
    Kept,
    Moved,
    WireChange,
)
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import (
    OTHER_POST,
    Component,
    Configuration,
    Joint,
    TerminalRef,
    Wire,
)
from upgrade_planner.documents.words.wording import mark_words

LIVE, GROUNDED = "live", "grounded"
POSTS = ("positive", "negative")
POLAR = (Family.BATTERY, Family.COIL)
"""Families whose terminals `positive` and `negative` are told apart as live and grounded."""


@frozen(order=True)
class End:
    """A terminal as drawn; of a battery or coil its post is `live` or `grounded`."""

    role: str
    terminal: str


@frozen(kw_only=True, eq=False)
class DrawnWire:
    """
    One conductor as drawn.

    Attributes:
        key: Unique among the lines of a union.
        start: Where current enters in normal use, as the profile says; at its new end if moved.
        left: The ends that a moved conductor leaves.
        reached: The ends that a moved conductor goes to, or its current if that is drawn.
    """

    key: str
    change: WireChange
    start: End
    end: End
    left: tuple[End, ...] = ()
    reached: tuple[End, ...] = ()

    @property
    def wire(self) -> Wire:
        """The conductor as it shall be, or as it is if it goes."""
        return self.change.wire

    @property
    def action(self) -> Disposition:
        """What happens to it."""
        return self.change.disposition

    @property
    def stays(self) -> bool:
        """True if nothing is done to it."""
        return isinstance(self.change, Kept)

    @property
    def is_in_target(self) -> bool:
        """True if it is in use after the work."""
        return isinstance(self.change, IntoTarget)

    @property
    def ends(self) -> tuple[End, End]:
        """Both ends, start first."""
        return self.start, self.end

    @property
    def every_end(self) -> tuple[End, ...]:
        """Both ends, and those that it leaves."""
        return (*self.ends, *self.left)

    @property
    def roles(self) -> tuple[str, str]:
        """Parts at both ends."""
        return self.start.role, self.end.role


@frozen(kw_only=True)
class Labels:
    """What is cast on a terminal before and after; None where the part has no such terminal."""

    before: str | None
    after: str | None


@frozen(kw_only=True, eq=False)
class Union:
    """Two configurations as one picture sees them."""

    comparison: Comparison
    lines: tuple[DrawnWire, ...]

    @cached_property
    def parts(self) -> Mapping[str, PartChange]:
        """What happens to each part, by role."""
        return self.comparison.part_by_role

    @cached_property
    def lines_at(self) -> Mapping[str, tuple[DrawnWire, ...]]:
        """Lines by the parts at their ends, each once."""
        found: dict[str, dict[str, DrawnWire]] = {role: {} for role in self.parts}
        for line in self.lines:
            for end in line.every_end:
                found[end.role][line.key] = line
        return {role: tuple(lines.values()) for role, lines in found.items()}

    @cached_property
    def wires_on(self) -> Mapping[End, int]:
        """How many conductors each terminal has before or after, those that leave counted too."""
        return Counter(end for line in self.lines for end in dict.fromkeys(line.every_end))

    def part(self, role: str) -> Component:
        """The part as it shall be, or as it is if it goes."""
        return self.parts[role].part

    def family(self, role: str) -> Family:
        """What does the same job as it."""
        return self.part(role).family

    def sides(self, role: str) -> Iterator[tuple[Configuration, Component | None]]:
        """The part in both configurations, the old one first."""
        for configuration in (self.comparison.before, self.comparison.after):
            yield configuration, configuration.component_by_role.get(role)

    @cached_property
    def _labels(self) -> dict[str, Mapping[str, Labels]]:
        return {}

    def labels(self, role: str) -> Mapping[str, Labels]:
        """What each terminal of a part is called, by its name as drawn; old ones first."""
        if role not in self._labels:
            self._labels[role] = self._read_labels(role)
        return self._labels[role]

    def _read_labels(self, role: str) -> Mapping[str, Labels]:
        old, new = (
            {
                end_of(configuration, TerminalRef(role, one.name)).terminal: mark_words(one)
                for one in (part.terminals if part else ())
            }
            for configuration, part in self.sides(role)
        )
        return {
            name: Labels(before=old.get(name), after=new.get(name))
            for name in dict.fromkeys((*old, *new))
        }

    def is_case(self, end: End) -> bool:
        """True if the terminal is the part's own housing, joined to the metal it is bolted to."""
        found = (
            part.terminal(end.terminal) for _, part in reversed(list(self.sides(end.role))) if part
        )
        terminal = next((item for item in found if item is not None), None)
        return terminal is not None and terminal.connection.joint is Joint.CASE


def union_of(comparison: Comparison) -> Union:
    """Both configurations of a comparison as one set of parts and lines."""
    return Union(
        comparison=comparison, lines=tuple(_line(comparison, change) for change in comparison.wires)
    )


def line_key(change: WireChange) -> str:
    """Names a conductor among the lines of a union."""
    return f"{change.mark} {change.disposition}"


def end_of(configuration: Configuration, ref: TerminalRef) -> End:
    """A terminal as drawn."""
    part = configuration.component(ref.role)
    if part.family not in POLAR or ref.terminal not in POSTS:
        return End(ref.role, ref.terminal)
    live = OTHER_POST[configuration.vehicle.ground]
    return End(ref.role, LIVE if ref.terminal == live else GROUNDED)


def _line(comparison: Comparison, change: WireChange) -> DrawnWire:
    before, after = comparison.before, comparison.after
    configuration = after if isinstance(change, IntoTarget) else before
    start, end = (end_of(configuration, ref) for ref in change.wire.ends)
    key = line_key(change)
    if not isinstance(change, Moved):
        return DrawnWire(key=key, change=change, start=start, end=end)
    old = tuple(end_of(before, ref) for ref in change.before.ends)
    new = [
        drawn
        for drawn, ref in zip((start, end), change.after.ends, strict=True)
        if drawn not in old or ref not in change.before.ends
    ]
    left = tuple(item for item in old if item not in (start, end))
    return DrawnWire(key=key, change=change, start=start, end=end, left=left, reached=tuple(new))
