"""From what a picture shows to nodes and pieces in rows: sides of terminals, rows of labels."""

from collections.abc import Iterable, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Family, When
from upgrade_planner.configuration.model import Component
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.documents.drawings.labels import (
    Lettering,
    WireLabel,
    flag_label,
    line_label,
    old_end_label,
)
from upgrade_planner.documents.drawings.lattice import (
    Facing,
    Lattice,
    Node,
    NodeSort,
    Pin,
    channel_of,
    pin_at,
)
from upgrade_planner.documents.drawings.ranks import ranks_of
from upgrade_planner.documents.drawings.selection import Scene
from upgrade_planner.documents.drawings.shapes.bars import Bar, Ground
from upgrade_planner.documents.drawings.shapes.battery import Battery
from upgrade_planner.documents.drawings.shapes.boxes import BoxedPart
from upgrade_planner.documents.drawings.shapes.figure import Figure
from upgrade_planner.documents.drawings.shapes.signs import upright_sign
from upgrade_planner.documents.drawings.shapes.upright import Upright
from upgrade_planner.documents.drawings.union import GROUNDED, LIVE, DrawnWire, End

ROOM_OF_A_ROW = 60.0
"""Labels go to the row with the least of them, in steps of this width. [mm]"""
TURN_ROOM = 5.0
"""More room for a label that is met at its sides. [mm]"""

_ONE_TERMINAL = (Family.JOINT, Family.GROUND_POINT)
_SHOW_USED_ONLY = (Family.CONNECTOR, Family.SWITCH)
_BOTH_WAYS = (Family.REGULATOR, Family.CUT_OUT)
"""Families whose current may come from below."""


@frozen(kw_only=True, eq=False)
class Sketch:
    """
    A picture before it is laid out.

    Attributes:
        labels: Of conductors and flags, by their keys.
        old_ends: Conductor of each stub that shows where a moved one comes from.
    """

    scene: Scene
    lattice: Lattice
    figures: Mapping[str, Figure]
    labels: Mapping[str, WireLabel]
    old_ends: Mapping[str, DrawnWire]


def draft_of(scene: Scene, lettering: Lettering) -> Sketch:
    """The nodes and pieces of a scene."""
    return _Building(scene, lettering).draft()


class _Building:
    """Puts parts into rows, then conductors between them."""

    def __init__(self, scene: Scene, lettering: Lettering) -> None:
        self._scene = scene
        self._union = scene.union
        self._lettering = lettering
        self._lattice = Lattice()
        self._ranks = ranks_of(scene)
        self._leanings = self._leaning()
        self._sides: dict[End, Facing] = {}
        self._figures: dict[str, Figure] = {}
        self._labels: dict[str, WireLabel] = {}
        self._old_ends: dict[str, DrawnWire] = {}

    def draft(self) -> Sketch:
        for role in self._scene.roles:
            self._add_part(role)
        for line in sorted(self._scene.lines, key=lambda one: one.key):
            self._add_line(line)
        for flag in self._scene.flags:
            label = flag_label(self._union, flag, self._lettering.units)
            self._add_stub(f"flag {flag.line.key}", flag.here, Facing.TOP, label)
        return Sketch(
            scene=self._scene,
            lattice=self._lattice,
            figures=self._figures,
            labels=self._labels,
            old_ends=self._old_ends,
        )

    # Parts ----------------------------------------------------------------------------------

    def _leaning(self) -> dict[End, float]:
        """For each terminal how many of its conductors lead down, less those that lead up."""
        leaning: dict[End, float] = {}
        for line in self._scene.lines:
            for here, there in (line.ends, line.ends[::-1]):
                down = self._ranks[there.role] - self._ranks[here.role]
                leaning[here] = leaning.get(here, 0) + (down > 0) - (down < 0)
            for end in line.left:
                leaning[end] = leaning.get(end, 0) + 0.5
        for flag in self._scene.flags:
            leaning[flag.here] = leaning.get(flag.here, 0) - 1
        return leaning

    def _add_part(self, role: str) -> None:
        part = self._union.part(role)
        node = Node(id=role, sort=NodeSort.PART, row=2 * self._ranks[role] + 1)
        if part.family in _ONE_TERMINAL and len(part.terminals) == 1:
            node.terminals = {side: [part.terminals[0].name] for side in Facing}
        else:
            for name in self._shown(role, part):
                end = End(role, name)
                self._sides[end] = self._side(end, part)
                node.terminals[self._sides[end]].append(name)
        self._lattice.add(node)
        self._figures[role] = self._figure(node, part)

    def _shown(self, role: str, part: Component) -> list[str]:
        """Terminals that are drawn: those with conductors, and all of a part that changes."""
        names = self._union.labels(role)
        used = [name for name in names if End(role, name) in self._leanings]
        case = [name for name in names if self._union.is_case(End(role, name))]
        real = [name for name in names if name not in case]
        if (part.family in _SHOW_USED_ONLY and len(real) != 2) or "fuses" in part.ratings:
            return used
        is_upright = upright_sign(part) is not None and len(real) <= 2
        if is_upright or role in self._changed:
            return [*real, *case]
        return [*used, *(name for name in case if name not in used)]

    @property
    def _changed(self) -> set[str]:
        changes = self._union.parts
        return {
            role
            for role in self._scene.concerned
            if str(changes[role].disposition) in ("add", "replace", "remove", "convert")
        }

    def _side(self, end: End, part: Component) -> Facing:
        if part.family is Family.BATTERY:
            is_high = self._ranks[end.role] and end.terminal == LIVE
            return Facing.TOP if is_high else Facing.BOTTOM
        if self._union.is_case(end):
            return Facing.BOTTOM
        given = _given_side(part, end.terminal)
        if given is not None:
            return given
        leaning = self._leanings.get(end, 0)
        is_fed = leaning == 0 and end.terminal in part.feed_terminals
        return Facing.TOP if leaning < 0 or is_fed else Facing.BOTTOM

    def _figure(self, node: Node, part: Component) -> Figure:
        sort: type[Figure] = BoxedPart
        above, below = (len(node.terminals[side]) for side in Facing)
        is_box = "fuses" in part.ratings
        if part.family is Family.GROUND_POINT and len(part.terminals) == 1:
            sort = Ground
        elif part.family is Family.JOINT and len(part.terminals) == 1:
            sort = Bar
        elif part.family is Family.BATTERY and not self._ranks[node.id]:
            sort = Battery
            node.terminals[Facing.BOTTOM] = [GROUNDED, LIVE]
            node.keeps_order = True
        elif upright_sign(part) and above == 1 and below <= 1 and not is_box:
            sort = Upright
        return sort(scene=self._scene, node=node)

    # Conductors -----------------------------------------------------------------------------

    def _pin(self, end: End, towards: int) -> tuple[Node, Facing, str]:
        """Node, side and terminal where a conductor lands; `towards` is the row it comes from."""
        node = self._lattice.nodes[end.role]
        own = self._ranks[end.role]
        if end in self._sides:
            return node, self._sides[end], end.terminal
        if towards == own:
            return node, self._free_side(end), end.terminal
        return node, Facing.TOP if towards < own else Facing.BOTTOM, end.terminal

    def _add_line(self, line: DrawnWire) -> None:
        ranks = [self._ranks[role] for role in line.roles]
        ends = [self._pin(line.start, ranks[1]), self._pin(line.end, ranks[0])]
        ends.sort(key=lambda end: channel_of(end[0], end[1]))
        label = self._labels[line.key] = line_label(line, self._lettering)
        (upper, upper_side, above), (lower, lower_side, below) = ends
        first, last = pin_at(upper, upper_side, above), pin_at(lower, lower_side, below)
        if channel_of(upper, upper_side) == channel_of(lower, lower_side):
            self._turn_back(line.key, label, first, last)
        else:
            self._lead_down(line.key, label, first, last)
        for number, end in enumerate(line.left):
            key = f"old {line.key} {number}"
            self._old_ends[key] = line
            self._add_stub(key, end, self._free_side(end), old_end_label(line))

    def _free_side(self, end: End) -> Facing:
        """Where a stud takes what comes from neither side; a ground point has its name below."""
        is_ground = self._union.family(end.role) is Family.GROUND_POINT
        return Facing.TOP if is_ground else Facing.BOTTOM

    def _turn_back(self, key: str, label: WireLabel, first: Pin, last: Pin) -> None:
        """A conductor whose ends look into one channel: its label is met at both sides."""
        channel = channel_of(first.node, first.side)
        row = channel if channel % 2 == 0 else channel - 1
        side = Facing.TOP if row == channel else Facing.BOTTOM
        node = self._label_node(key, label, row)
        node.width += TURN_ROOM
        node.beside = True
        self._lattice.join(key, first, pin_at(node, side), channel)
        self._lattice.join(key, pin_at(node, side), last, channel)

    def _lead_down(self, key: str, label: WireLabel, first: Pin, last: Pin) -> None:
        rows = range(channel_of(first.node, first.side), channel_of(last.node, last.side))
        labelled = self._emptiest([row for row in rows if row % 2 == 0] or list(rows))
        upper = first
        for row in rows:
            if row == labelled:
                node = self._label_node(key, label, row)
            else:
                name = f"{key} passes {row}"
                node = self._lattice.add(Node(id=name, sort=NodeSort.PASSING, row=row, owner=key))
            self._lattice.join(key, upper, pin_at(node, Facing.TOP), row)
            upper = pin_at(node, Facing.BOTTOM)
        self._lattice.join(key, upper, last, channel_of(last.node, last.side))

    def _emptiest(self, rows: Iterable[int]) -> int:
        def load(row: int) -> float:
            return sum(node.width + 3 for node in self._lattice.rows.get(row, ()))

        return min(rows, key=lambda row: (round(load(row) / ROOM_OF_A_ROW), -row))

    def _label_node(self, key: str, label: WireLabel, row: int) -> Node:
        return self._lattice.add(
            Node(
                id=f"label {key}",
                sort=NodeSort.LABEL,
                row=row,
                width=label.width,
                height=label.height,
                owner=key,
            )
        )

    def _add_stub(self, key: str, end: End, bar_side: Facing, label: WireLabel) -> None:
        """A label beside a terminal, for what leads out of the picture."""
        node = self._lattice.nodes[end.role]
        side = self._sides.get(end, bar_side)
        self._labels[key] = label
        row = node.row - 1 if side is Facing.TOP else node.row + 1
        at = self._label_node(key, label, row)
        first = pin_at(node, side, end.terminal)
        self._lattice.join(key, first, pin_at(at, side.other), channel_of(node, side))


# Which terminals look up ------------------------------------------------------------------------


def _given_side(part: Component, terminal: str) -> Facing | None:
    """Where a terminal lies whatever leads to it: the live end of a part is the upper one."""
    if part.family in _BOTH_WAYS:
        return None
    upper, lower = _through(part)
    if terminal in upper and terminal not in lower:
        return Facing.TOP
    if terminal in lower and terminal not in upper:
        return Facing.BOTTOM
    if upright_sign(part) is None:
        return None
    if terminal in kinds()[part.kind].returns:
        return Facing.BOTTOM
    return Facing.TOP if terminal in part.feed_terminals else None


def _through(part: Component) -> tuple[set[str], set[str]]:
    """Where a current enters a part and where it leaves, as far as its kind or ratings say."""
    if part.family is Family.COIL:
        return {LIVE}, {GROUNDED}
    if "fuses" in part.ratings:
        fuses = part.ratings["fuses"]
        return {fuse.start for fuse in fuses}, {fuse.end for fuse in fuses}
    if "positions" in part.ratings:
        joined = [ways for position in part.ratings["positions"].values() for ways in position]
        return {ways[0] for ways in joined}, {name for ways in joined for name in ways[1:]}
    kind = kinds()[part.kind]
    pairs = [p.between for p in kind.passes if p.between and p.when is not When.LET_GO]
    return {pair[0] for pair in pairs}, {pair[1] for pair in pairs}
