"""What is cut out and stays in the vehicle: fuse maps for lids, polarity, tags of capped ends."""

from collections.abc import Iterator

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.documents.drawings.lettering import SMALL, wrapped
from upgrade_planner.documents.drawings.marks import FINE_DASHES, Box, Mark, Text, line
from upgrade_planner.documents.drawings.svg import inline_svg
from upgrade_planner.documents.words.fuses import fed_words, rating_words, slot_lines, slot_name
from upgrade_planner.documents.words.wire_words import numbered_name
from upgrade_planner.documents.words.wording import part_words, sentence, terminal_words
from upgrade_planner.planning.fuses import Slot, fuses_of, slots_of
from upgrade_planner.planning.operations import CapWire
from upgrade_planner.planning.plan import Plan

_SLOT_WIDTH, _PITCH, _EDGE = 40.0, 2.9, 2.0
_COLUMNS = 4
_TAG = (58.0, 17.0)
_POLARITY = (84.0, 30.0)
_LARGE, _HUGE = 10.0, 18.0


@frozen(kw_only=True)
class CutOut:
    """One piece of paper, as a drawing with its words."""

    svg: str


def cut_outs(plan: Plan) -> Iterator[CutOut]:
    """A map for each fuse box, a polarity label if battery or ground change, tags of dead ends."""
    after = plan.comparison.after
    for part in after.components:
        if "fuses" in part.ratings and len(fuses_of(part)) > 1:
            yield _fuse_map(part, after)
    if _is_other_supply(plan):
        yield _polarity(after)
    for operation in plan.operations:
        if isinstance(operation, CapWire):
            name = numbered_name(plan.number_of(operation.conductor), operation.wire.id)
            for end in operation.wire.ends:
                yield _tag(name, end, plan.comparison.before)


def _is_other_supply(plan: Plan) -> bool:
    old, new = plan.comparison.before.vehicle, plan.comparison.after.vehicle
    return (old.ground, old.voltage_v) != (new.ground, new.voltage_v)


def _drawn(marks: tuple[Mark, ...], width: float, height: float, told: str) -> CutOut:
    frame = Box(x=0.2, y=0.2, width=width - 0.4, height=height - 0.4, line=0.2, dashes=FINE_DASHES)
    return CutOut(svg=inline_svg((frame, *marks), width, height, told))


# Fuse map ---------------------------------------------------------------------------------------


def _fuse_map(part: Component, configuration: Configuration) -> CutOut:
    """Slots side by side in the order of the box."""
    name = sentence(part_words(part))
    slots = slots_of(part, configuration)
    columns = min(_COLUMNS, len(slots))
    marks: list[Mark] = [Text(x=_EDGE, y=6.0, text=name, points=_LARGE, bold=True)]
    y = 8.5
    for first in range(0, len(slots), columns):
        row = slots[first : first + columns]
        height = max(map(_slot_height, row))
        for column, slot in enumerate(row):
            marks.extend(_slot(slot, _EDGE + column * _SLOT_WIDTH, y, height))
        y += height
    told = f"{name}: {'; '.join(slot_lines(part, configuration))}."
    return _drawn(tuple(marks), columns * _SLOT_WIDTH + 2 * _EDGE, y + _EDGE, told)


def _slot_texts(slot: Slot) -> tuple[tuple[str, ...], tuple[str, ...]]:
    room = _SLOT_WIDTH - 3
    return wrapped(slot_name(slot), room, SMALL, bold=True), wrapped(fed_words(slot), room, SMALL)


def _slot_height(slot: Slot) -> float:
    return 8.0 + _PITCH * sum(map(len, _slot_texts(slot)))


def _slot(slot: Slot, x: float, y: float, height: float) -> Iterator[Mark]:
    yield Box(x=x, y=y, width=_SLOT_WIDTH, height=height, line=0.4)
    names, feeds = _slot_texts(slot)
    y += 1.0
    for text in names:
        y += _PITCH
        yield Text(x=x + 1.5, y=y, text=text, bold=True)
    y += 5.0
    yield Text(x=x + 1.5, y=y, text=rating_words(slot), points=_LARGE, bold=True)
    for text in feeds:
        y += _PITCH
        yield Text(x=x + 1.5, y=y + 0.4, text=text)


# Polarity and tags ------------------------------------------------------------------------------


def _polarity(after: Configuration) -> CutOut:
    width, height = _POLARITY
    ground = f"{after.vehicle.ground} ground".upper()
    volts = f"{after.vehicle.voltage_v:g} V"
    sign = "−" if after.vehicle.ground == "negative" else "+"
    middle = width / 2
    marks = (
        Text(
            x=middle, y=10.0, text=f"{volts}   {ground}", points=_HUGE, bold=True, anchor="middle"
        ),
        line(((4.0, 14.0), (width - 4.0, 14.0)), 0.6),
        Text(
            x=middle,
            y=20.0,
            text=f"Battery {sign} to metal. This vehicle was changed over.",
            points=_LARGE - 1,
            anchor="middle",
        ),
        Text(
            x=middle,
            y=25.5,
            text="Check before you join a battery, charger or radio.",
            points=_LARGE - 1,
            anchor="middle",
        ),
    )
    return _drawn(marks, width, height, f"{volts}, {ground}: the vehicle was changed over.")


def _tag(name: str, end: TerminalRef, before: Configuration) -> CutOut:
    """What somebody reads who finds a capped end in ten years."""
    width, height = _TAG
    was = wrapped(f"was at {terminal_words(before, end)}", width - 10, SMALL)[:2]
    marks: list[Mark] = [
        Text(x=7.0, y=5.0, text="CAPPED, NOT IN USE", bold=True),
        Text(x=7.0, y=9.0, text=name, bold=True),
        *(Text(x=7.0, y=12.2 + n * _PITCH, text=text) for n, text in enumerate(was)),
        line(((4.5, 0.5), (4.5, height - 0.5)), 0.2, dashes=FINE_DASHES),
    ]
    return _drawn(tuple(marks), width, height, f"Tag: {name} is capped; {' '.join(was)}.")
