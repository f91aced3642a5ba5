"""
Where it is: the places of a job as seen from above, front at the top, looms as bands.

Places stand in rows by their position from front to rear and in each row from left to right, as
near as may be to where the profile puts them; bands are led between them by the same engine as
conductors. It minimises the sideways length of bands and the distance of places from their spots.
"""

from collections.abc import Iterator, Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.ways import Place
from upgrade_planner.documents.drawings.heights import LOOSE, TIGHT, Clearances, place_down
from upgrade_planner.documents.drawings.lattice import (
    Facing,
    Lattice,
    Node,
    NodeSort,
    channel_of,
    pin_at,
)
from upgrade_planner.documents.drawings.lettering import (
    LARGE,
    SMALL,
    nearest_grid,
    on_grid,
    widest,
    wrapped,
)
from upgrade_planner.documents.drawings.marks import (
    INK,
    PAPER,
    Box,
    Disc,
    Mark,
    Stroke,
    Text,
    line,
    shifted,
)
from upgrade_planner.documents.drawings.order import Sorting
from upgrade_planner.documents.drawings.place_boxes import NAME_ROOM, PlaceBox, place_box
from upgrade_planner.documents.drawings.placing import ROUNDS, place_across
from upgrade_planner.documents.drawings.routes import route_of
from upgrade_planner.documents.drawings.tracks import place_tracks
from upgrade_planner.documents.drawings.whereabouts import Band, Whereabouts
from upgrade_planner.documents.words.quantities import counted

EDGE = 6.0
"""Room for the outline and the words round the vehicle. [mm]"""
_PITCH = 3.3
_BAND, _BAND_EDGE, _BAND_PITCH = 2.6, 0.3, 5.0
_BORDER = 22.0
"""From the border to the middle of the outermost places: half of their boxes. [mm]"""
_GREY = "#cccccc"
_GAPS = (LOOSE, TIGHT, Clearances(objects=1.2, bend=1.0))


@frozen(kw_only=True, eq=False)
class PlanView:
    """
    A finished view from above; lengths in mm.

    Attributes:
        is_brief: True if it only counts the parts of each place.
    """

    marks: tuple[Mark, ...]
    width: float
    height: float
    is_brief: bool


def plan_view(
    found: Whereabouts, width: float, height: float, *, may_be_brief: bool = True
) -> PlanView | None:
    """
    The places of a job as seen from above.

    Args:
        found: Places and bands.
        width: Room from left to right. [mm]
        height: Room from top to bottom; what is too tall is drawn with less air, then only
            counts the parts of a place. [mm]
        may_be_brief: False to name the parts in any case.

    Returns:
        The view, or None if a place has no position or the room is too small.
    """
    if not found.can_be_drawn:
        return None
    variants = (False, True) if may_be_brief else (False,)
    views = (_view(found, width, gaps, is_brief=brief) for brief in variants for gaps in _GAPS)
    return next((view for view in views if view.width <= width and view.height <= height), None)


def _view(found: Whereabouts, width: float, gaps: Clearances, *, is_brief: bool) -> PlanView:
    lattice = Lattice()
    boxes = {item.place.id: place_box(item, is_brief=is_brief) for item in found.places}
    rows = _rows([item.place for item in found.places])
    for name, box in boxes.items():
        lattice.add(
            Node(
                id=name,
                sort=NodeSort.PART,
                row=2 * rows[name] + 1,
                width=box.width,
                height=box.height,
            )
        )
    labels = {band.letter: _band_words(band, is_brief=is_brief) for band in found.bands}
    for band in found.bands:
        _add_band(lattice, band, labels[band.letter])
    spots = {name: _spot(box.place, width - 2 * EDGE) for name, box in boxes.items()}
    _lay_out(lattice, spots, gaps)
    marks = [*_bands(lattice, labels), *_place_marks(lattice, boxes)]
    return _framed(lattice, marks, is_brief=is_brief)


def _rows(places: Sequence[Place]) -> dict[str, int]:
    """Rows from front to rear: tenths of the length that have a place, without gaps."""
    tenths = {place.id: round((place.along or 0.0) * 10) for place in places}
    used = {tenth: row for row, tenth in enumerate(sorted(set(tenths.values())))}
    return {name: used[tenth] for name, tenth in tenths.items()}


def _spot(place: Place, width: float) -> float:
    """Where the profile puts it, from the left border. [mm]"""
    return _BORDER + (1 + (place.across or 0.0)) / 2 * (width - 2 * _BORDER)


# Bands ------------------------------------------------------------------------------------------


def _band_words(band: Band, *, is_brief: bool) -> tuple[str, ...]:
    name = band.route.loom or f"open run, {band.route.covering}"
    if is_brief:
        return (f"{name}: {counted(len(band.changes), 'wire')}",)
    change = counted(len(band.changes), "wire changes", "wires change")
    return (*wrapped(name, NAME_ROOM, SMALL), change)


def _add_band(lattice: Lattice, band: Band, words: Sequence[str]) -> None:
    start, end = (lattice.nodes[name] for name in (band.route.start, band.route.end))
    upper, lower = sorted((start, end), key=lambda node: node.row)
    turns = upper.row == lower.row
    first = pin_at(upper, Facing.BOTTOM, band.letter)
    last = pin_at(lower, Facing.BOTTOM if turns else Facing.TOP, band.letter)
    label = Node(
        id=f"label {band.letter}",
        sort=NodeSort.LABEL,
        row=upper.row + 1,
        width=_label_width(words),
        height=max(6.0, len(words) * _PITCH + 1.4),
        owner=band.letter,
    )
    if turns:
        label.width += 2 * _BAND_PITCH
        label.beside = True
        lattice.add(label)
        channel = channel_of(upper, Facing.BOTTOM)
        lattice.join(band.letter, first, pin_at(label, Facing.TOP), channel)
        lattice.join(band.letter, pin_at(label, Facing.TOP), last, channel)
        return
    at = first
    for row in range(upper.row + 1, lower.row):
        name = f"{band.letter} passes {row}"
        node = label if row == label.row else Node(id=name, sort=NodeSort.PASSING, row=row)
        node.owner = band.letter
        lattice.add(node)
        lattice.join(band.letter, at, pin_at(node, Facing.TOP), row)
        at = pin_at(node, Facing.BOTTOM)
    lattice.join(band.letter, at, last, lower.row)


def _label_width(words: Sequence[str]) -> float:
    return on_grid(widest(words, SMALL) + 10)


# Laying out -------------------------------------------------------------------------------------


def _lay_out(lattice: Lattice, spots: dict[str, float], gaps: Clearances) -> None:
    middles = _middles(lattice, spots)
    for row in lattice.rows.values():
        row.sort(key=lambda node: (middles[node.id], node.id))
    lattice.rows = dict(sorted(lattice.rows.items()))
    Sorting(lattice).settle()
    for node in lattice.nodes.values():
        _set_pins(node)
    place_across(lattice, ROUNDS, spots)
    place_tracks(lattice)
    place_down(lattice, gaps, (), ())


def _middles(lattice: Lattice, spots: dict[str, float]) -> dict[str, float]:
    """Where each node should lie; labels and passing bands between the places that they join."""
    found = dict(spots)
    for owner, chain in lattice.chains.items():
        ends = (chain[0].first.node, chain[-1].second.node)
        between = [pin.node for piece in chain for pin in piece.pins if pin.node.owner == owner]
        for number, node in enumerate(dict.fromkeys(between), start=1):
            share = number / (len(set(between)) + 1)
            found[node.id] = spots[ends[0].id] * (1 - share) + spots[ends[1].id] * share
    return found


def _set_pins(node: Node) -> None:
    node.reach = node.height
    for side, pins in node.pins.items():
        for number, pin in enumerate(pins):
            if node.beside:
                pin.offset, pin.drop = number * node.width, node.height / 2
            else:
                shift = (number - (len(pins) - 1) / 2) * _BAND_PITCH
                pin.offset = nearest_grid(node.width / 2 + shift)
                pin.drop = 0.0 if side is Facing.TOP else node.height


# Drawing ----------------------------------------------------------------------------------------


def _bands(lattice: Lattice, labels: dict[str, tuple[str, ...]]) -> Iterator[Mark]:
    for letter in labels:
        route = route_of(lattice, letter)
        yield line(route, _BAND + 2 * _BAND_EDGE, sort="band")
        yield line(route, _BAND, colour=_GREY)
    for letter, words in labels.items():
        node = lattice.nodes[f"label {letter}"]
        width = _label_width(words)
        x = node.left + (node.width - width) / 2
        yield Box(
            x=x, y=node.top, width=width, height=node.height, line=0.3, radius=1, sort="label"
        )
        yield Disc(x=x + 3.4, y=node.top + node.height / 2, radius=2.6, line=0.3, fill=INK)
        yield Text(
            x=x + 3.4,
            y=node.top + node.height / 2 + 1.0,
            text=letter,
            points=LARGE if len(letter) == 1 else SMALL,
            bold=True,
            anchor="middle",
            colour=PAPER,
        )
        top = node.top + (node.height - len(words) * _PITCH) / 2
        for number, text in enumerate(words, start=1):
            yield Text(x=x + 7.4, y=top + number * _PITCH - 0.8, text=text)


def _place_marks(lattice: Lattice, boxes: dict[str, PlaceBox]) -> Iterator[Mark]:
    for name, box in boxes.items():
        yield from box.marks(lattice.nodes[name])


def _framed(lattice: Lattice, marks: Sequence[Mark], *, is_brief: bool) -> PlanView:
    """With the outline of the vehicle, and words for front and rear, left and right."""
    width, height = lattice.width() + 2 * EDGE, lattice.height() + 2 * EDGE + 4
    inner = (4.4, 4.4, width - 4.4, height - 4.4)
    words = [
        Text(x=width / 2, y=3.2, text="FRONT", bold=True, anchor="middle"),
        Text(x=width / 2, y=height - 0.8, text="REAR", bold=True, anchor="middle"),
        Text(x=0.5, y=3.2, text="LEFT", bold=True),
        Text(x=width - 0.5, y=3.2, text="RIGHT", bold=True, anchor="end"),
    ]
    outline = _outline(*inner)
    moved = (shifted(mark, EDGE, EDGE + 2) for mark in marks)
    return PlanView(marks=(outline, *words, *moved), width=width, height=height, is_brief=is_brief)


def _outline(left: float, top: float, right: float, bottom: float) -> Mark:
    """A rectangle whose front corners are cut, so that the front is seen at a glance."""
    cut = 9.0
    points = (
        (left + cut, top),
        (right - cut, top),
        (right, top + cut),
        (right, bottom),
        (left, bottom),
        (left, top + cut),
    )
    return Stroke(points=points, width=0.5, colour="#888888", closed=True, sort="vehicle")
