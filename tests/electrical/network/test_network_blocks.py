"""Blocks: the elements that a current between two nodes can reach."""

from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.electrical.network import Network, Resistor, Source, solve
from upgrade_planner.electrical.network.blocks import Blocks

NODES = st.integers(0, 9)
EDGES = st.lists(st.tuples(NODES, NODES).filter(lambda pair: pair[0] != pair[1]), max_size=16)


def names(elements):
    return {element.name for element in elements}


def resistors(edges, prefix="r"):
    return [Resistor(f"{prefix}{n}", a, b, 0.5 + n) for n, (a, b) in enumerate(edges)]


def test_what_hangs_on_by_one_node_is_left_out():
    ring = resistors([(0, 1), (1, 2), (2, 0)])
    hanging = resistors([(1, 5), (5, 6), (6, 1), (2, 7)], "h")
    assert names(Blocks([*ring, *hanging]).between(0, 2)) == names(ring)


def test_a_way_through_several_blocks_is_followed():
    chain = resistors([(0, 1), (1, 2), (1, 2), (2, 3)])
    assert names(Blocks(chain).between(3, 0)) == names(chain)


def test_an_added_element_joins_blocks_to_one():
    first, second = resistors([(0, 1), (1, 2)]), resistors([(0, 3), (3, 4)], "s")
    contact = Resistor("contact", 2, 4, 0.1)
    blocks = Blocks([*first, *second])
    assert names(blocks.between(0, 1)) == {"r0"}
    assert names(blocks.between(0, 1, [contact])) == names([*first, *second, contact])


def test_an_added_element_reaches_a_node_apart():
    blocks, contact = Blocks(resistors([(0, 1)])), Resistor("contact", 1, 8, 0.1)
    assert names(blocks.between(0, 1, [contact])) == {"r0"}
    assert names(blocks.between(0, 8, [contact])) == {"r0", "contact"}
    assert blocks.between(0, 8) == ()


def test_two_added_elements_lead_through_what_is_apart_without_them():
    blocks = Blocks(resistors([(0, 1), (2, 3), (3, 4), (5, 6)]))
    contacts = resistors([(0, 2), (3, 1), (5, 4)], "contact")
    assert names(blocks.between(0, 1, contacts)) == {"r0", "r1", "contact0", "contact1"}


@given(EDGES, EDGES, NODES)
def test_a_fault_in_the_blocks_alone_has_the_currents_of_the_whole(edges, added, far):
    battery = Source("battery", 1, 0, 12.0, 0.01, 0.01)
    elements = [battery, *resistors(edges)]
    contacts = resistors(added, "contact")
    if far == 0:
        return
    passed = Blocks(elements).between(far, 0, contacts)
    fault = Resistor("fault", far, 0, 0.001)
    whole = solve(Network(0, (*elements, *contacts, fault))).current_a
    found = solve(Network(0, (*passed, fault))).current_a
    for name, current_a in found.items():
        assert abs(current_a - whole[name]) < 1e-7 * max(1.0, abs(current_a))
