"""
Terminal by terminal: a part as it is at the left, as it shall be at the right, a row for each wire.

A row is one wire at one terminal; it has a box to tick where the wire comes off and one where it
goes on. Parts that come, go or are exchanged have a card, and those at which two wires or more
change; where a single one does, a sentence reads better.
"""

from collections.abc import Iterator, Sequence

from attrs import field, frozen

from upgrade_planner.comparison.part_changes import PartChange
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Configuration, Wire
from upgrade_planner.documents.drawings.labels import size_of_line
from upgrade_planner.documents.drawings.lettering import (
    NAME,
    SMALL,
    height_of,
    widest,
    width_of,
    wrapped,
)
from upgrade_planner.documents.drawings.lines import by_action, flag_line, old_end
from upgrade_planner.documents.drawings.marks import (
    DASHED,
    PAPER,
    Box,
    Disc,
    Mark,
    Text,
    line,
    tag,
)
from upgrade_planner.documents.drawings.shapes.figure import RING, TAGS
from upgrade_planner.documents.drawings.union import DrawnWire, End, Union, end_of
from upgrade_planner.documents.shared.html import kept_together

WIDTH = 180.0
_TICK, _TICK_ROOM = 5.0, 8.0
_PART = 34.0
_STUB = 15.0
_ROW, _PITCH, _AIR = 4.6, 2.9, 1.8
_HEAD, _TAIL = 5.0, 1.5
_TERMINAL_ROOM = 11.0
_ONE_WIRE = 1


@frozen(kw_only=True)
class Row:
    """
    A wire at a part, or a terminal without one.

    Attributes:
        old: Terminal that it is on now, or None.
        new: Terminal that it shall be on, or None.
        line: The wire; None for a terminal that is free.
        texts: What stands beside it.
    """

    old: str | None
    new: str | None
    line: DrawnWire | None
    texts: tuple[str, ...]

    @property
    def height(self) -> float:
        """Room that it takes. [mm]"""
        return max(_ROW, len(self.texts) * _PITCH + _AIR)

    def is_handled(self, role: str) -> bool:
        """True if something is done to the wire at this part, not only at its other end."""
        if self.line is None or self.line.stays:
            return False
        return self.line.action is not Disposition.MOVE or _moves_at(self.line, role)


@frozen(kw_only=True, eq=False)
class Card:
    """
    The card of a part; lengths in mm.

    Attributes:
        role: The part.
        place: Id of the place where the work is done.
        title: The part in words.
        told: What happens to which wire, for whoever cannot see it.
    """

    role: str
    place: str
    title: str
    told: str
    marks: tuple[Mark, ...]
    height: float
    width: float = WIDTH


def cards_of(union: Union, units: str) -> tuple[Card, ...]:
    """The cards of all parts that deserve one, in walking order."""
    places = union.comparison.after.place_by_id
    roles = [role for role in union.parts if deserves_card(union, role)]
    cards = (card_of(union, role, units) for role in roles)
    return tuple(sorted(cards, key=lambda card: (places[card.place].walk, card.role)))


def deserves_card(union: Union, role: str) -> bool:
    """True for a part that comes, goes or is exchanged, or at which several wires change."""
    if union.family(role) in (Family.GROUND_POINT, Family.JOINT):
        return False
    lines = union.lines_at[role]
    changed = sum(not one.stays for one in lines)
    return changed > _ONE_WIRE or bool(lines and _is_other_part(union.parts[role]))


def card_of(union: Union, role: str, units: str) -> Card:
    """The card of a part; `units` is `metric`, `us` or `both`."""
    drawing = _Drawing(union=union, role=role, rows=tuple(_rows(union, role, units)))
    change = union.parts[role]
    return Card(
        role=role,
        place=change.part.place,
        title=change.part.name,
        told=drawing.told(),
        marks=tuple(drawing.marks()),
        height=drawing.height,
    )


def _is_other_part(change: PartChange) -> bool:
    return str(change.disposition) in ("add", "remove", "replace")


# Rows -------------------------------------------------------------------------------------------


def _rows(union: Union, role: str, units: str) -> Iterator[Row]:
    """Wires by terminal, those that come last at each; then free terminals of another part."""
    names = list(union.labels(role))
    rows = [row for line in union.lines_at[role] for row in _rows_of(union, role, line, units)]

    def place(row: Row) -> tuple[int, bool, int, str]:
        old, new = (
            len(names) if name is None else names.index(name) for name in (row.old, row.new)
        )
        return min(old, new), row.old is None, new, row.line.key if row.line else ""

    yield from sorted(rows, key=place)
    if _is_other_part(union.parts[role]):
        used = {row.new for row in rows}
        for name, labels in union.labels(role).items():
            if labels.after is not None and name not in used and not union.is_case(End(role, name)):
                yield Row(old=None, new=name, line=None, texts=("stays free",))


def _rows_of(union: Union, role: str, line: DrawnWire, units: str) -> Iterator[Row]:
    comparison = union.comparison
    old = _terminals(comparison.before, getattr(line.change, "before", None), role)
    new = _terminals(comparison.after, getattr(line.change, "after", None), role)
    for number in range(max(len(old), len(new))):
        here = (
            old[number] if number < len(old) else None,
            new[number] if number < len(new) else None,
        )
        yield Row(
            old=here[0],
            new=here[1],
            line=line,
            texts=tuple(_texts(union, role, line, units, is_both=None not in here)),
        )


def _terminals(configuration: Configuration, wire: Wire | None, role: str) -> list[str]:
    if wire is None:
        return []
    return [end_of(configuration, ref).terminal for ref in wire.ends if ref.role == role]


def _texts(union: Union, role: str, line: DrawnWire, units: str, *, is_both: bool) -> Iterator[str]:
    size = f"{size_of_line(line, units)} {line.wire.colour.code}"
    if line.stays and is_both:
        yield f"{line.change.mark}  {size}"
        return
    action = "" if line.stays else f"{str(line.action).upper()} "
    elsewhere = is_both and line.action is Disposition.MOVE and not _moves_at(line, role)
    yield f"{line.change.mark}, its other end moves" if elsewhere else f"{action}{line.change.mark}"
    room = WIDTH - 2 * (_TICK_ROOM + _PART) - _STUB - 8
    yield from wrapped(f"{size}, {_other_end(union, role, line)}", room)


def _moves_at(line: DrawnWire, role: str) -> bool:
    return role in {end.role for end in (*line.left, *line.reached)}


def _other_end(union: Union, role: str, line: DrawnWire) -> str:
    other = next((end for end in line.ends if end.role != role), line.end)
    labels = union.labels(other.role)[other.terminal]
    old, new = (part for _, part in union.sides(other.role))
    part = (new if line.is_in_target else old) or union.part(other.role)
    mark = labels.after if line.is_in_target else labels.before
    is_joint = part.family in (Family.GROUND_POINT, Family.JOINT)
    name = str(kept_together(part.name))
    return f"to {name}" if is_joint or not mark else f"to {name}, {mark}"


# Drawing ----------------------------------------------------------------------------------------


@frozen(kw_only=True, eq=False)
class _Drawing:
    """Boxes left and right, rows between them."""

    union: Union
    role: str
    rows: tuple[Row, ...]
    change: PartChange = field(init=False)
    _left: float = field(init=False, default=_TICK_ROOM + _PART)
    _right: float = field(init=False, default=WIDTH - _TICK_ROOM - _PART)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "change", self.union.parts[self.role])

    @property
    def height(self) -> float:
        """Room that it takes. [mm]"""
        names = [len(self._name(part)) for _, part in self._sides if part is not None]
        least = (max(names, default=0) + 1) * _PITCH + 4
        return _HEAD + max(least, sum(row.height for row in self.rows) + _TAIL) + 1

    @property
    def _sides(self) -> list[tuple[float, Component | None]]:
        old, new = (part for _, part in self.union.sides(self.role))
        return [(_TICK_ROOM, old), (self._right, new)]

    @property
    def _terminal_room(self) -> float:
        """Room for the widest label of a terminal. [mm]"""
        labels = self.union.labels(self.role).values()
        texts = [text for one in labels for text in (one.before, one.after) if text]
        return max(_TERMINAL_ROOM, widest(texts, NAME, bold=True) + 4)

    def _name(self, part: Component) -> tuple[str, ...]:
        return wrapped(str(kept_together(part.name)), _PART - self._terminal_room - 2, SMALL)

    def told(self) -> str:
        """What happens to which wire at which terminal."""
        found = []
        for row in self.rows:
            labels = self.union.labels(self.role)
            old = labels[row.old].before if row.old else None
            new = labels[row.new].after if row.new else None
            way = f"{old or 'off'} to {new or 'off'}" if row.line else f"{new} stays free"
            found.append(f"{row.texts[0]}: {way}" if row.line else way)
        return "; ".join(found)

    def marks(self) -> Iterator[Mark]:
        """Everything, what lies below first."""
        yield from self._boxes()
        y = _HEAD + _TAIL / 2
        last: dict[tuple[int, str], float] = {}
        for row in self.rows:
            middle = y + row.height / 2
            yield from self._wire(row, middle)
            yield from self._terminals_of(row, middle, last)
            yield from self._ticks(row, middle)
            y += row.height

    def _boxes(self) -> Iterator[Mark]:
        is_other = _is_other_part(self.change)
        for number, (x, part) in enumerate(self._sides):
            if part is None:
                continue
            goes, comes = is_other and number == 0, is_other and number == 1
            yield Box(
                x=x,
                y=_HEAD,
                width=_PART,
                height=self.height - _HEAD - 1,
                line=1.2 if comes else 0.5 if goes else 0.35,
                dashes=DASHED if goes else "",
                sort="part",
            )
            yield from self._words(x + (2 if number == 0 else self._terminal_room), part, number)
            heading = ("OFF", "ON")[number]
            tick_x = 0.2 if number == 0 else WIDTH - 0.2
            yield Text(
                x=tick_x,
                y=_HEAD - 1.2,
                text=heading,
                bold=True,
                anchor=("start", "end")[number],
            )

    def _words(self, x: float, part: Component, number: int) -> Iterator[Mark]:
        lines = self._name(part)
        y = _HEAD + (self.height - _HEAD - 1 - (len(lines) + 1) * _PITCH) / 2 + 2.4
        word = ("NOW", "THEN")[number]
        if _is_other_part(self.change):
            word = ("OUT", "NEW")[number]
        elif number == 1 and type(self.change) in TAGS:
            word = TAGS[type(self.change)]
        yield from tag(x, y, word)
        for count, text in enumerate(lines, start=1):
            yield Text(x=x, y=y + count * _PITCH + 0.4, text=text)

    def _wire(self, row: Row, y: float) -> Iterator[Mark]:
        if row.line is None:
            width = width_of(row.texts[0])
            yield Text(x=self._right - 3 - width, y=y + 0.9, text=row.texts[0])
            return
        if row.old is not None and row.new is not None:
            yield from self._through(row, row.line, y)
        elif row.old is not None:
            route = ((self._left + RING, y), (self._left + _STUB, y))
            if row.line.action is Disposition.CAP_OFF:
                yield from by_action(route, Disposition.CAP_OFF, (False, False))
            else:
                yield from old_end(route)
            yield from _beside(row.texts, self._left + _STUB + 2, y, "start")
        else:
            route = ((self._right - RING, y), (self._right - _STUB, y))
            yield from by_action(route, row.line.action, (True, False))
            yield from _beside(row.texts, self._right - _STUB - 2, y, "end")

    def _through(self, row: Row, drawn: DrawnWire, y: float) -> Iterator[Mark]:
        route = ((self._left + RING, y), (self._right - RING, y))
        if row.is_handled(self.role):
            changes_terminal = drawn.action is Disposition.MOVE
            yield from by_action(route, drawn.action, (False, changes_terminal))
        else:
            yield from flag_line(route)
        middle = (self._left + self._right) / 2
        width = max(width_of(text, SMALL, bold=True) for text in row.texts)
        high = len(row.texts) * _PITCH
        yield Box(
            x=middle - width / 2 - 1, y=y - high / 2, width=width + 2, height=high, fill=PAPER
        )
        yield from _beside(row.texts, middle, y, "middle", is_bold=not drawn.stays)

    def _terminals_of(
        self, row: Row, y: float, last: dict[tuple[int, str], float]
    ) -> Iterator[Mark]:
        """Rings and labels; wires of one terminal hang together."""
        labels = self.union.labels(self.role)
        for number, x in enumerate((self._left, self._right)):
            name = (row.old, row.new)[number]
            if name is None:
                continue
            if (number, name) in last:
                yield line(((x, last[number, name] + RING), (x, y - RING)), 0.8)
            else:
                text = (labels[name].before, labels[name].after)[number] or ""
                yield Text(
                    x=x + (-1.8, 1.8)[number],
                    y=y + height_of(NAME) / 2,
                    text=text,
                    points=NAME,
                    bold=True,
                    anchor=("end", "start")[number],
                )
            last[number, name] = y
            is_new = number == 1 and labels[name].before is None
            yield Disc(x=x, y=y, radius=RING, line=0.9 if is_new else 0.4, sort="ring")

    def _ticks(self, row: Row, y: float) -> Iterator[Mark]:
        """A box where a wire comes off, one where it goes on."""
        if row.line is None:
            return
        is_handled = row.is_handled(self.role) or _is_other_part(self.change)
        for name, x in ((row.old, 0.3), (row.new, WIDTH - _TICK - 0.3)):
            if name is not None and is_handled:
                size = min(_TICK, row.height - 0.4)
                yield Box(x=x, y=y - size / 2, width=_TICK, height=size, line=0.5, sort="tick")


def _beside(
    texts: Sequence[str], x: float, y: float, anchor: str, *, is_bold: bool = True
) -> Iterator[Mark]:
    """Lines of text round a height, the first one bold."""
    top = y - len(texts) * _PITCH / 2
    for number, text in enumerate(texts):
        bold = is_bold and number == 0
        yield Text(x=x, y=top + number * _PITCH + 2.2, text=text, bold=bold, anchor=anchor)
