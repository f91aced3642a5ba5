"""One finished picture: from what it shows to marks on paper."""

from collections.abc import Callable, Iterator, Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.documents.drawings.building import Sketch, draft_of
from upgrade_planner.documents.drawings.heights import LOOSE, TIGHT, place_down
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.lattice import Facing, Lattice
from upgrade_planner.documents.drawings.lettering import nearest_grid
from upgrade_planner.documents.drawings.lines import ORDER, Route, by_action, flag_line, old_end
from upgrade_planner.documents.drawings.marks import Mark, shifted
from upgrade_planner.documents.drawings.order import Arrangement, orders
from upgrade_planner.documents.drawings.placing import ROUNDS, place_across
from upgrade_planner.documents.drawings.routes import ends_of, route_of
from upgrade_planner.documents.drawings.selection import Scene
from upgrade_planner.documents.drawings.shapes.battery import Battery
from upgrade_planner.documents.drawings.sifting import sifted
from upgrade_planner.documents.drawings.tracks import Tally, place_tracks
from upgrade_planner.documents.drawings.union import DrawnWire

Fits = Callable[[tuple[float, float]], bool]
Pen = Callable[[Route, DrawnWire, tuple[bool, bool]], Iterator[Mark]]
"""Draws a conductor: its corners, what it is, whether it goes anew to its first and last end."""

EDGE = 2.0
"""White round a picture, for thick lines and caps at its border. [mm]"""
_ROUGH = 2
"""Rounds of placing that tell a good order from a bad one."""


@frozen(kw_only=True)
class Effort:
    """
    How long the best layout is looked for.

    Attributes:
        starts: Orders that are begun.
        sifted: How many of the best are sifted.
        finished: How many are laid out; the finished picture decides.
        further: Orders that are begun, and thrice as many sifted, if conductors still cross;
            those that promise fewer crossings are finished.
    """

    starts: int = 10
    sifted: int = 4
    finished: int = 6
    further: int = 30


@frozen(kw_only=True, eq=False)
class Picture:
    """
    A finished picture.

    Attributes:
        marks: What is drawn, in this order, from (0, 0) to (width, height).
        tally: Crossings, overlaps, bends.
        draft: What it was made from, for whoever wants to know where something lies.
    """

    title: str
    marks: tuple[Mark, ...]
    width: float
    height: float
    tally: Tally
    draft: Sketch

    @property
    def scene(self) -> Scene:
        """What it shows."""
        return self.draft.scene


def by_what_happens(route: Route, wire: DrawnWire, arrows: tuple[bool, bool]) -> Iterator[Mark]:
    """The pen of what changes."""
    return by_action(route, wire.action, arrows)


def picture_of(
    scene: Scene,
    *,
    lettering: Lettering,
    fits: Fits = lambda _: True,
    effort: Effort = Effort(),  # noqa: B008
    pen: Pen = by_what_happens,
) -> Picture:
    """
    The picture of a scene.

    Args:
        scene: What it shows.
        lettering: What decides the words of labels.
        fits: Says of width and height whether there is room for them; if not, the picture is
            drawn with less air.
        effort: How long the best layout is looked for.
        pen: Draws the conductors.
    """
    draft = draft_of(scene, lettering)
    return drawn(draft, laid_out(draft, fits, effort), pen)


def drawn(draft: Sketch, tally: Tally, pen: Pen) -> Picture:
    """The picture of a sketch that is laid out."""
    marks = tuple(shifted(mark, EDGE, EDGE) for mark in (*_lines(draft, pen), *_parts(draft)))
    lattice = draft.lattice
    return Picture(
        title=draft.scene.title,
        marks=marks,
        width=_size(lattice)[0],
        height=_size(lattice)[1],
        tally=tally,
        draft=draft,
    )


# Laying out -------------------------------------------------------------------------------------


def laid_out(draft: Sketch, fits: Fits, effort: Effort) -> Tally:
    """Gives everything its place: the best few orders are finished roughly, the cheapest wins."""
    lattice = draft.lattice
    found = _candidates(lattice, range(effort.starts), effort.sifted)
    best = _cheapest(draft, found[: effort.finished])
    if best.tally.crossings and effort.further:
        seeds = range(effort.starts, effort.starts + effort.further)
        more = _candidates(lattice, seeds, 3 * effort.sifted)
        hopeful = [order for order in more if order.crossings < best.tally.crossings]
        if hopeful:
            again = _cheapest(draft, hopeful[: effort.finished])
            best = min(best, again, key=lambda one: one.cost)
    tally = _finished(draft, best.order, ROUNDS)
    union = draft.scene.union
    grounds = [r for r in draft.scene.roles if union.family(r) is Family.GROUND_POINT]
    heads = [role for role, figure in draft.figures.items() if isinstance(figure, Battery)]
    for gaps in (LOOSE, TIGHT):
        place_down(lattice, gaps, heads, grounds)
        if fits(_size(lattice)):
            break
    return tally


def _size(lattice: Lattice) -> tuple[float, float]:
    return lattice.width() + 2 * EDGE, lattice.height() + 2 * EDGE


@frozen
class _Rough:
    """An order, and what its roughly finished picture costs."""

    cost: float
    tally: Tally
    order: Arrangement


def _cheapest(draft: Sketch, arrangements: Sequence[Arrangement]) -> _Rough:
    """The cheapest of some orders; of equals the one that stands first."""
    tried = []
    for order in arrangements:
        tally = _finished(draft, order, _ROUGH)
        tried.append(_Rough(_cost(draft, tally), tally, order))
    return min(tried, key=lambda one: one.cost)


def _candidates(lattice: Lattice, seeds: range, sifting: int) -> list[Arrangement]:
    found = orders(lattice, seeds)
    better = [sifted(lattice, order) for order in found[:sifting] if order.crossings]
    return sorted([*better, *found], key=lambda one: one.crossings)


def _finished(draft: Sketch, order: Arrangement, rounds: int) -> Tally:
    """Everything from left to right, and the levels of the channels."""
    lattice = draft.lattice
    order.apply(lattice)
    for figure in draft.figures.values():
        figure.measure()
    _measure_labels(lattice)
    place_across(lattice, rounds)
    return place_tracks(lattice)


def _measure_labels(lattice: Lattice) -> None:
    """Labels are met in their middle, or at their sides by a conductor that turns back."""
    for node in lattice.nodes.values():
        if not node.owner:
            continue
        for side, pins in node.pins.items():
            for number, pin in enumerate(pins):
                if node.beside:
                    pin.offset, pin.drop = number * node.width, node.height / 2
                else:
                    pin.offset = nearest_grid(node.width / 2)
                    pin.drop = 0.0 if side is Facing.TOP else node.height


def _cost(draft: Sketch, tally: Tally) -> float:
    lattice = draft.lattice
    sideways = sum(abs(piece.first.x - piece.second.x) for piece in lattice.pieces)
    size = (lattice.width() + lattice.height()) / 12
    return 50 * tally.overlaps + 12 * tally.crossings + tally.bends + size + sideways / 40


# Drawing ----------------------------------------------------------------------------------------


def _lines(draft: Sketch, pen: Pen) -> Iterator[Mark]:
    lattice = draft.lattice
    for key in draft.labels:
        if key in draft.old_ends:
            yield from old_end(route_of(lattice, key))
        elif key.startswith("flag "):
            yield from flag_line(route_of(lattice, key))
    lines = sorted(draft.scene.lines, key=lambda one: (ORDER.index(one.action), one.key))
    for line in lines:
        yield from pen(route_of(lattice, line.key), line, _arrows(draft, line))


def _arrows(draft: Sketch, line: DrawnWire) -> tuple[bool, bool]:
    """Whether a moved conductor goes to the first and to the last end of its route."""
    reached = {(end.role, end.terminal) for end in line.reached}
    first, last = (
        (pin.node.id, pin.terminal) in reached for pin in ends_of(draft.lattice, line.key)
    )
    return first, last


def _parts(draft: Sketch) -> Iterator[Mark]:
    for figure in draft.figures.values():
        yield from figure.marks()
    for key, label in draft.labels.items():
        node = draft.lattice.nodes[f"label {key}"]
        left, top = (node.width - label.width) / 2, (node.height - label.height) / 2
        yield from label.marks(node.left + left, node.top + top)
