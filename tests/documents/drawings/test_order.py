"""Terminals and landings in their best order: what turns back lies inside one another."""

from upgrade_planner.documents.drawings.lattice import Facing, Lattice, Node, NodeSort, pin_at
from upgrade_planner.documents.drawings.order import Sorting


def crossings_of(rows, wires):
    """Crossings once terminals and landings are sorted; rows of parts stand as they are given."""
    lattice = Lattice()
    for row, parts in rows.items():
        for name, terminals in parts.items():
            node = lattice.add(Node(id=name, sort=NodeSort.PART, row=row))
            node.terminals = {side: list(terminals) for side in Facing}
    for number, ((name, terminal), other) in enumerate(wires):
        node, far = lattice.nodes[name], lattice.nodes[other]
        side = Facing.BOTTOM if far.row < node.row else Facing.TOP
        pins = pin_at(node, Facing.TOP, terminal), pin_at(far, side)
        lattice.join(f"wire {number}", *pins, node.row)
    sorting = Sorting(lattice)
    sorting.settle()
    return sorting.crossings()


def test_wires_that_turn_back_to_one_side_lie_inside_one_another():
    """Both lead up from one terminal and down again, two at the left and two at the right."""
    turning = [("relay", "30")] * 4
    rows = {1: {"a": "1", "b": "1", "relay": ["30"], "c": "1", "d": "1"}}
    assert crossings_of(rows, zip(turning, "abcd", strict=True)) == 0


def test_terminals_stand_where_their_wires_cross_least():
    """The mean of what a terminal leads to lies left of the other one, most of its wires right."""
    rows = {0: dict.fromkeys("abcdefg", "1"), 1: {"relay": ["30", "50"]}}
    wires = [(("relay", "50" if name == "e" else "30"), name) for name in "aefg"]
    assert crossings_of(rows, wires) == 1
