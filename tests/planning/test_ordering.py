"""The order of work: proven against every permutation of small jobs."""

from functools import cache
from itertools import pairwise, permutations

import pytest
from generating import numbers, one_of
from hypothesis import given, settings
from hypothesis import strategies as st

from upgrade_planner.planning.operations import Dependency, Phase, Procedure
from upgrade_planner.planning.ordering import OrderingLoop, in_order_of_work


def act(name, place="", after=(), phase=Phase.TAKE_OUT):
    waits = tuple(Dependency(other, f"{other} comes first") for other in after)
    return Procedure(id=name, phase=phase, place=place, after=waits, code=name)


def changes_of_place(operations, start):
    """How often one has to walk; operations without a place are done on the spot."""
    places = [start, *(operation.place for operation in operations)]
    return sum(a != b for a, b in pairwise(filter(None, places)))


def is_possible(sequence):
    seen = set()
    for operation in sequence:
        if any(d.operation_id not in seen for d in operation.after):
            return False
        seen.add(operation.id)
    return True


@cache
def some_before(number):
    return st.lists(st.sampled_from(range(number)), unique=True, max_size=2)


@st.composite
def jobs(draw):
    count = draw(numbers(1, 6))
    made = []
    for i in range(count):
        after = draw(some_before(i)) if i else []
        place = draw(one_of(("", "p", "q", "r")))
        made.append(act(f"op{i}", place, [f"op{j}" for j in after]))
    return made


class TestAgainstEveryPermutation:
    @given(jobs(), st.sampled_from(("", "p", "q")))
    @settings(max_examples=150)
    def test_no_possible_order_walks_less(self, operations, start):
        best = min(
            changes_of_place(sequence, start)
            for sequence in permutations(operations)
            if is_possible(sequence)
        )
        ordered = in_order_of_work(operations, {}, start)
        assert is_possible(ordered)
        assert changes_of_place(ordered, start) == best

    @given(jobs(), st.randoms())
    @settings(max_examples=60)
    def test_order_of_input_does_not_matter(self, operations, random):
        shuffled = list(operations)
        random.shuffle(shuffled)
        assert in_order_of_work(operations, {}) == in_order_of_work(shuffled, {})


def test_nearer_place_comes_first():
    distances = {"home": {"near": 1.0, "far": 5.0}, "near": {"far": 4.0}, "far": {"near": 4.0}}
    ordered = in_order_of_work([act("a", "far"), act("b", "near")], distances, "home")
    assert [operation.id for operation in ordered] == ["b", "a"]


def test_phases_stand_in_their_order_whatever_the_place():
    early = act("z", "far", phase=Phase.MAKE_SAFE)
    late = act("a", "near", phase=Phase.SIGN)
    assert in_order_of_work([late, early], {}, "near") == (early, late)


def test_loop_is_reported_with_its_members_and_reasons():
    loop = [act("a", after=["c"]), act("b", after=["a"]), act("c", after=["b"]), act("free")]
    with pytest.raises(OrderingLoop) as caught:
        in_order_of_work(loop, {})
    assert {operation.id for operation in caught.value.loop} == {"a", "b", "c"}
    assert "c comes first" in str(caught.value)
    assert "free" not in str(caught.value)


def test_waiting_for_a_later_phase_is_a_loop_too():
    early = act("early", after=["late"], phase=Phase.MAKE_SAFE)
    late = act("late", phase=Phase.SIGN)
    with pytest.raises(OrderingLoop):
        in_order_of_work([early, late], {})
