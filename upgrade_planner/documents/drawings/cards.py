"""
Terminal by terminal: a part as it is at the left, as it shall be at the right, a row for each wire.

A row is one wire at one terminal; it has a box to tick where the wire comes off and one where it
goes on. Parts that come, go or are exchanged have a card, and those at which two wires or more
change; where a single one does, a sentence reads better.
"""

from collections.abc import Iterator, Sequence

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import PartChange
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component
from upgrade_planner.documents.drawings.card_rows import PITCH, CardRow, is_other_part, rows_of
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
from upgrade_planner.documents.drawings.union import DrawnWire, Union
from upgrade_planner.documents.shared.html import kept_together

WIDTH = 180.0
_TICK, _TICK_ROOM = 5.0, 8.0
_PART = 34.0
_STUB = 15.0
_HEAD, _TAIL = 5.0, 1.5
_TERMINAL_ROOM = 11.0
_ONE_WIRE = 1


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
    return changed > _ONE_WIRE or bool(lines and is_other_part(union.parts[role]))


def card_of(union: Union, role: str, units: str) -> Card:
    """The card of a part; `units` is `metric`, `us` or `both`."""
    drawing = _Drawing(union=union, role=role, rows=tuple(rows_of(union, role, units)))
    change = union.parts[role]
    return Card(
        role=role,
        place=change.part.place,
        title=change.part.name,
        told=drawing.told(),
        marks=tuple(drawing.marks()),
        height=drawing.height,
    )


# Drawing ----------------------------------------------------------------------------------------


@frozen(kw_only=True, eq=False)
class _Drawing:
    """Boxes left and right, rows between them."""

    union: Union
    role: str
    rows: tuple[CardRow, ...]
    change: PartChange = field(init=False)
    _left: float = field(init=False, default=_TICK_ROOM + _PART)
    _right: float = field(init=False, default=WIDTH - _TICK_ROOM - _PART)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "change", self.union.parts[self.role])

    @property
    def height(self) -> float:
        """Room that it takes. [mm]"""
        names = [len(self._name(part)) for _, part in self._sides if part is not None]
        least = (max(names, default=0) + 1) * PITCH + 4
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
        is_other = is_other_part(self.change)
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
        y = _HEAD + (self.height - _HEAD - 1 - (len(lines) + 1) * PITCH) / 2 + 2.4
        word = ("NOW", "THEN")[number]
        if is_other_part(self.change):
            word = ("OUT", "NEW")[number]
        elif number == 1 and type(self.change) in TAGS:
            word = TAGS[type(self.change)]
        yield from tag(x, y, word)
        for count, text in enumerate(lines, start=1):
            yield Text(x=x, y=y + count * PITCH + 0.4, text=text)

    def _wire(self, row: CardRow, y: float) -> Iterator[Mark]:
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

    def _through(self, row: CardRow, drawn: DrawnWire, y: float) -> Iterator[Mark]:
        route = ((self._left + RING, y), (self._right - RING, y))
        if row.is_handled(self.role):
            changes_terminal = drawn.action is Disposition.MOVE
            yield from by_action(route, drawn.action, (False, changes_terminal))
        else:
            yield from flag_line(route)
        middle = (self._left + self._right) / 2
        width = max(width_of(text, SMALL, bold=True) for text in row.texts)
        high = len(row.texts) * PITCH
        yield Box(
            x=middle - width / 2 - 1, y=y - high / 2, width=width + 2, height=high, fill=PAPER
        )
        yield from _beside(row.texts, middle, y, "middle", is_bold=not drawn.stays)

    def _terminals_of(
        self, row: CardRow, y: float, last: dict[tuple[int, str], float]
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

    def _ticks(self, row: CardRow, y: float) -> Iterator[Mark]:
        """A box where a wire comes off, one where it goes on."""
        if row.line is None:
            return
        is_handled = row.is_handled(self.role) or is_other_part(self.change)
        for name, x in ((row.old, 0.3), (row.new, WIDTH - _TICK - 0.3)):
            if name is not None and is_handled:
                size = min(_TICK, row.height - 0.4)
                yield Box(x=x, y=y - size / 2, width=_TICK, height=size, line=0.5, sort="tick")


def _beside(
    texts: Sequence[str], x: float, y: float, anchor: str, *, is_bold: bool = True
) -> Iterator[Mark]:
    """Lines of text round a height, the first one bold."""
    top = y - len(texts) * PITCH / 2
    for number, text in enumerate(texts):
        bold = is_bold and number == 0
        yield Text(x=x, y=top + number * PITCH + 2.2, text=text, bold=bold, anchor=anchor)
