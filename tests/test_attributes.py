"""Classes of attributes that never change."""

import copy
import pickle

import attrs
import pytest
from attrs import evolve, field
from attrs.exceptions import FrozenInstanceError
from every_case import every_case

from upgrade_planner.attributes import frozen


@frozen(kw_only=True)
class Ours:
    """What attrs makes, by our decorator."""

    name: str
    facts: dict = field(factory=dict, hash=False)
    origin: str = field(default="", eq=False, repr=False)


@attrs.frozen(kw_only=True)
class Theirs:
    """The same by theirs."""

    name: str
    facts: dict = field(factory=dict, hash=False)
    origin: str = field(default="", eq=False, repr=False)


@frozen
class Nothing:
    """No attribute."""


@frozen
class More(Nothing):
    """One attribute."""

    value: float


@frozen(eq=False)
class Itself:
    """Equal to itself alone."""

    value: float


@frozen(order=True)
class Ranked:
    """With an order."""

    rank: int
    name: str


@frozen
class Own:
    """Says itself what is equal."""

    value: float

    def __eq__(self, other):
        return isinstance(other, Own)

    def __hash__(self):
        return 1

    def __repr__(self):
        return "own"


class TestBothDecorators:
    """What is true of attrs' classes is true of ours."""

    @every_case("made", [Ours, Theirs])
    def test_equal_attributes_make_equal(self, made):
        one, other = made(name="a", origin="here"), made(name="a", origin="there")
        assert one == other
        assert hash(one) == hash(other)
        assert one != made(name="b")
        assert one != made(name="a", facts={"x": 1})
        assert hash(one) == hash(made(name="a", facts={"x": 1}))

    @every_case("made", [Ours, Theirs])
    def test_other_classes_are_never_equal(self, made):
        assert made(name="a") != {Ours: Theirs, Theirs: Ours}[made](name="a")
        assert made(name="a").__eq__("a") is NotImplemented

    @every_case("made", [Ours, Theirs])
    def test_shows_what_it_was_made_of(self, made):
        assert repr(made(name="a", origin="x")) == f"{made.__name__}(name='a', facts={{}})"

    @every_case("made", [Ours, Theirs])
    def test_never_changes(self, made):
        value = made(name="a")
        with pytest.raises(FrozenInstanceError):
            value.name = "b"
        with pytest.raises((AttributeError, TypeError)):
            value.other = 1
        assert evolve(value, name="b") == made(name="b")

    @every_case("made", [Ours, Theirs])
    def test_goes_through_copies_and_files(self, made):
        value = made(name="a", facts={"x": 1})
        assert copy.deepcopy(value) == value == pickle.loads(pickle.dumps(value))


def test_classes_without_attributes_are_equal():
    assert Nothing() == Nothing()
    assert {Nothing(), Nothing()} == {Nothing()}
    assert Nothing() != More(1.0) == More(1.0) != More(2.0)


def test_without_equality_each_is_itself():
    assert Itself(1.0) != Itself(1.0)
    assert len({Itself(1.0), Itself(1.0)}) == 2


def test_order_follows_the_attributes():
    assert sorted([Ranked(2, "a"), Ranked(1, "b")]) == [Ranked(1, "b"), Ranked(2, "a")]
    assert hash(Ranked(1, "a")) == hash(Ranked(1, "a"))


def test_own_methods_stay():
    assert Own(1.0) == Own(2.0)
    assert hash(Own(1.0)) == 1
    assert repr(Own(1.0)) == "own"
