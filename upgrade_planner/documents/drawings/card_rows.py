"""The rows of a terminal card: a wire at a terminal, as it is and as it shall be."""

from collections.abc import Iterator

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import PartChange
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.documents.drawings.labels import size_of_line
from upgrade_planner.documents.drawings.lettering import wrapped
from upgrade_planner.documents.drawings.union import DrawnWire, End, Union, end_of
from upgrade_planner.documents.shared.html import kept_together

PITCH = 2.9
"""From one line of a row to the next. [mm]"""
_LEAST, _AIR = 4.6, 1.8
_TEXT_ROOM = 73.0
"""Room beside the stub of a wire. [mm]"""


@frozen(kw_only=True)
class CardRow:
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
        return max(_LEAST, len(self.texts) * PITCH + _AIR)

    def is_handled(self, role: str) -> bool:
        """True if something is done to the wire at this part, not only at its other end."""
        if self.line is None or self.line.stays:
            return False
        return self.line.action is not Disposition.MOVE or _moves_at(self.line, role)


def is_other_part(change: PartChange) -> bool:
    """True for a part that comes, goes or is exchanged."""
    return str(change.disposition) in ("add", "remove", "replace")


def rows_of(union: Union, role: str, units: str) -> Iterator[CardRow]:
    """Wires by terminal, those that come last at each; then free terminals of another part."""
    names = list(union.labels(role))
    rows = [row for line in union.lines_at[role] for row in _of_wire(union, role, line, units)]

    def place(row: CardRow) -> tuple[int, bool, int, str]:
        old, new = (
            len(names) if name is None else names.index(name) for name in (row.old, row.new)
        )
        return min(old, new), row.old is None, new, row.line.key if row.line else ""

    yield from sorted(rows, key=place)
    if is_other_part(union.parts[role]):
        used = {row.new for row in rows}
        for name, labels in union.labels(role).items():
            if labels.after is not None and name not in used and not union.is_case(End(role, name)):
                yield CardRow(old=None, new=name, line=None, texts=("stays free",))


def _of_wire(union: Union, role: str, line: DrawnWire, units: str) -> Iterator[CardRow]:
    comparison = union.comparison
    old = _terminals(comparison.before, getattr(line.change, "before", None), role)
    new = _terminals(comparison.after, getattr(line.change, "after", None), role)
    for number in range(max(len(old), len(new))):
        here = (
            old[number] if number < len(old) else None,
            new[number] if number < len(new) else None,
        )
        yield CardRow(
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
    yield from wrapped(f"{size}, {_other_end(union, role, line)}", _TEXT_ROOM)


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
