"""What can be said of any picture: where its texts, lines and boxes lie, and what lies on what."""

from itertools import combinations, pairwise

from pair_facts import compared

from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.lattice import NodeSort
from upgrade_planner.documents.drawings.marks import Stroke, Text
from upgrade_planner.documents.drawings.pages import change_pictures, formats
from upgrade_planner.documents.drawings.picture import EDGE, Effort
from upgrade_planner.documents.drawings.routes import route_of
from upgrade_planner.documents.drawings.union import union_of

QUICK = Effort(starts=2, sifted=1, finished=2, further=0)


def pictures(before, after, *, effort=QUICK, paper="A4"):
    """The change pictures of a pair, with few starts."""
    union = union_of(compared(before, after))
    return union, change_pictures(union, formats(paper), Lettering(), effort)


def texts(picture):
    return [mark for mark in picture.marks if isinstance(mark, Text)]


def rectangles_meet(one, other, slack=0.05):
    return (
        one[0] < other[2] - slack
        and other[0] < one[2] - slack
        and one[1] < other[3] - slack
        and other[1] < one[3] - slack
    )


def text_on_text(picture):
    return [
        (one.text, other.text)
        for one, other in combinations(texts(picture), 2)
        if rectangles_meet(one.rectangle, other.rectangle)
    ]


def routes(picture):
    """Corners of each conductor and flag, on the paper."""
    lattice = picture.draft.lattice
    return {
        owner: [(x + EDGE, y + EDGE) for x, y in route_of(lattice, owner)]
        for owner in lattice.chains
    }


def boxes(picture):
    """Room of each part and label, on the paper, by the names of their nodes."""
    return {
        node.id: (node.left + EDGE, node.top + EDGE, node.right + EDGE, node.bottom + EDGE)
        for node in picture.draft.lattice.nodes.values()
        if node.sort is not NodeSort.PASSING
    }


def lines_through_boxes(picture):
    """Conductors that run through what is not theirs."""
    lattice = picture.draft.lattice
    found = []
    for owner, route in routes(picture).items():
        own = {pin.node.id for piece in lattice.chains[owner] for pin in piece.pins}
        for name, (left, top, right, bottom) in boxes(picture).items():
            inner = (left + 0.3, top + 0.3, right - 0.3, bottom - 0.3)
            if name not in own and any(_meets(a, b, inner) for a, b in pairwise(route)):
                found.append((owner, name))
    return found


def lines_through_texts(picture):
    """Texts that a conductor runs through, be it its own."""
    found = []
    for owner, route in routes(picture).items():
        for text in texts(picture):
            if any(_meets(a, b, text.rectangle) for a, b in pairwise(route)):
                label = picture.draft.labels[owner]
                if text.text not in (*label.name, *label.lines, label.word):
                    found.append((owner, text.text))
    return found


def _meets(a, b, rectangle):
    line = (min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
    return (
        line[0] < rectangle[2]
        and rectangle[0] < line[2]
        and line[1] < rectangle[3]
        and rectangle[1] < line[3]
    )


def lines_on_lines(picture, most=0.5):
    """Pairs of conductors that share a way."""
    pieces = [(owner, a, b) for owner, route in routes(picture).items() for a, b in pairwise(route)]
    return [
        (one[0], other[0])
        for one, other in combinations(pieces, 2)
        if one[0] != other[0] and _shared(one[1:], other[1:]) > most
    ]


def _shared(one, other):
    for axis in (0, 1):
        across = 1 - axis
        level = {point[across] for point in (*one, *other)}
        if max(level) - min(level) < 0.3:
            spans = [sorted(point[axis] for point in piece) for piece in (one, other)]
            return min(spans[0][1], spans[1][1]) - max(spans[0][0], spans[1][0])
    return 0


def crossings(picture):
    """How often conductors cross on the paper."""
    pieces = [(owner, a, b) for owner, route in routes(picture).items() for a, b in pairwise(route)]
    return sum(
        one[0] != other[0] and _cross(one[1:], other[1:]) for one, other in combinations(pieces, 2)
    )


def _cross(one, other):
    upright, level = (one, other) if one[0][0] == one[1][0] else (other, one)
    if upright[0][0] != upright[1][0] or level[0][1] != level[1][1]:
        return False
    x, y = upright[0][0], level[0][1]
    top, bottom = sorted(point[1] for point in upright)
    left, right = sorted(point[0] for point in level)
    return top + 1e-6 < y < bottom - 1e-6 and left + 1e-6 < x < right - 1e-6


def strokes(picture, sort):
    """Lines of one class."""
    return [m for m in picture.marks if isinstance(m, Stroke) and m.sort == sort]
