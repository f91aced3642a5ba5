"""What stands in the label of a conductor: action, name, size, colour; and in that of a flag."""

import math
from collections.abc import Iterator, Mapping

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.wire_changes import Renewed, Resized
from upgrade_planner.configuration.model import Conductor, Wire
from upgrade_planner.configuration.values.measures import ohm
from upgrade_planner.documents.drawings.lettering import (
    NAME,
    SMALL,
    tag_width,
    widest,
    width_of,
    wrapped,
)
from upgrade_planner.documents.drawings.marks import FINE_DASHES, INK, PAPER, Box, Mark, Text
from upgrade_planner.documents.drawings.selection import Flag
from upgrade_planner.documents.drawings.union import DrawnWire, End, Union
from upgrade_planner.documents.words.quantities import MOST, quantity_words
from upgrade_planner.documents.words.wire_words import size_words, sizes_in_turn
from upgrade_planner.documents.words.wording import NBSP

HEAD, NAME_PITCH, PITCH = 3.1, 3.0, 2.8
"""Height of the action, of a line of the name, of other lines. [mm]"""
_NAME_ROOM = 17.0
_LINE_ROOM = 24.0
_FLAG_ROOM = 25.0
_EDGE = 1.2


@frozen(kw_only=True)
class WireLabel:
    """
    The box of a conductor or flag.

    Attributes:
        word: Action in capitals; "" for what stays.
        name: Name of the conductor, in bold lines.
        lines: What else is said of it.
        is_flag: True for what leads out of the picture.
    """

    word: str = ""
    name: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    is_flag: bool = False

    @property
    def width(self) -> float:
        """Room that it takes. [mm]"""
        head = tag_width(self.word)
        inside = max(widest(self.name, NAME, bold=True), widest(self.lines, SMALL), head)
        return float(math.ceil(inside + 2))

    @property
    def height(self) -> float:
        """Room that it takes. [mm]"""
        head = HEAD if self.word else 0.0
        return head + len(self.name) * NAME_PITCH + len(self.lines) * PITCH + _EDGE

    def marks(self, x: float, y: float) -> Iterator[Mark]:
        """The box at its upper left corner."""
        yield Box(
            x=x,
            y=y,
            width=self.width,
            height=self.height,
            line=0.6 if self.word else 0.2,
            dashes=FINE_DASHES if self.is_flag else "",
            sort="flag" if self.is_flag else "label",
        )
        middle = x + self.width / 2
        if self.word:
            yield Box(x=x, y=y, width=self.width, height=HEAD, fill=INK)
            yield Text(
                x=middle, y=y + 2.5, text=self.word, bold=True, anchor="middle", colour=PAPER
            )
            y += HEAD
        for text in self.name:
            y += NAME_PITCH
            yield Text(x=middle, y=y - 0.3, text=text, points=NAME, bold=True, anchor="middle")
        for text in self.lines:
            y += PITCH
            yield Text(x=middle, y=y - 0.2, text=text, anchor="middle")


@frozen(kw_only=True)
class Lettering:
    """
    What decides the words of labels.

    Attributes:
        units: `metric`, `us` or `both`.
        steps: Number of the row of the sheet by key of the conductor, where there is a sheet.
        notes: What else stands in the label of a conductor, by its key.
        words: What stands over the label of a conductor that stays, by its key.
    """

    units: str = "both"
    steps: Mapping[str, str] = field(factory=dict)
    notes: Mapping[str, str] = field(factory=dict)
    words: Mapping[str, str] = field(factory=dict)


def line_label(line: DrawnWire, lettering: Lettering) -> WireLabel:
    """The label of a conductor."""
    word = "" if line.stays else str(line.action).upper()
    step = lettering.steps.get(line.key, "")
    size, colour = size_of_line(line, lettering.units), line.wire.colour.code
    note = (lettering.notes[line.key],) if line.key in lettering.notes else ()
    return WireLabel(
        word=f"{word} {step}".strip() if word else lettering.words.get(line.key, ""),
        name=wrapped(line.change.mark, _NAME_ROOM, NAME, bold=True, at="-"),
        lines=(*_together(size, colour), *_kind(line.wire), *_of_old_one(line), *note),
    )


def _together(size: str, colour: str) -> tuple[str, ...]:
    """In one line if that is short enough."""
    both = f"{size} {colour}"
    return (both,) if width_of(both, SMALL) <= _LINE_ROOM else (size, colour)


def size_of_line(line: DrawnWire, units: str) -> str:
    """The size; of a resized conductor old and new one, the unit once if it is the same."""
    wire = line.wire
    if not isinstance(line.change, Resized):
        bound = MOST if wire.conductor is Conductor.LINK else ""
        return size_words(wire.size, units, bound=bound)
    old, new = sizes_in_turn(line.change.before.size, wire.size, units)
    if old == new:
        return new
    number, _, unit = old.partition(NBSP)
    return f"{number} → {new}" if new.endswith(f"{NBSP}{unit}") else f"{old} → {new}"


def _kind(wire: Wire) -> tuple[str, ...]:
    if wire.conductor is Conductor.LINK:
        return ("FUSIBLE LINK",)
    if wire.conductor is Conductor.RESISTANCE:
        return (f"RESIST. {quantity_words(ohm(wire.resistance_ohm or 0.0), 'g', 'metric')}",)
    return ()


def _of_old_one(line: DrawnWire) -> Iterator[str]:
    """What becomes of the conductor that another one replaces, and what else differs."""
    if isinstance(line.change, Renewed):
        old, new = line.change.before.insulation.name, line.wire.insulation.name
        if old != new:
            yield f"{old} → {new}"
    if isinstance(line.change, Resized) and line.change.old_stays:
        yield "old one: cap off"


def flag_label(union: Union, flag: Flag, units: str) -> WireLabel:
    """What leads to a drawn part from elsewhere, and from where."""
    wire = flag.line.wire
    size = f"{size_words(wire.size, units)} {wire.colour.code}"
    texts = [wire.id, size, f"from {_from(union, flag.there)}"]
    if not flag.line.stays:
        texts.append("see other picture")
    return WireLabel(
        lines=tuple(row for text in texts for row in wrapped(text, _FLAG_ROOM)), is_flag=True
    )


def _from(union: Union, end: End) -> str:
    labels = union.labels(end.role)[end.terminal]
    mark = labels.before if labels.after is None else labels.after
    return f"{union.part(end.role).name} {mark or ''}".strip()


def old_end_label(line: DrawnWire) -> WireLabel:
    """Where a moved conductor comes from."""
    return WireLabel(lines=("MOVE from here:", line.change.mark), is_flag=True)
