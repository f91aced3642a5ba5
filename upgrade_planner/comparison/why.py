"""Why something happens: a code and the facts behind it; `documents` puts them into words."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Any, Union

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.sizes import WireSize


class Attribute(StrEnum):
    """What wires and parts are compared by."""

    CIRCUIT = "circuit"
    COLOUR = "colour"
    ENDS = "ends"
    INSULATION = "insulation"
    KIND = "kind"
    PLACE = "place"
    RATING = "rating"
    RESISTANCE = "resistance"
    SIZE = "size"
    TERMINAL = "terminal"


@frozen(kw_only=True)
class Difference:
    """
    One attribute that differs.

    Attributes:
        attribute: Which.
        name: Name of the rating or of the terminal; "" for all other attributes.
        before: Its value now, a `Quantity` if it is measured; None without one.
        after: Its value in the target, likewise.
    """

    attribute: Attribute
    name: str = ""
    before: Any
    after: Any


Fact = Union[str, int, Quantity, WireSize, tuple[str, ...], tuple[Difference, ...], "Reasons"]
"""
What a sentence may name: a role, a circuit, a kind, a name; a stage; a number with its kind; a
size of wire; several of these; or reasons that are part of another.
"""


@frozen
class Reason:
    """
    Why something happens.

    Attributes:
        code: Our own word for it; the sentence is found by it.
        facts: What the sentence names.
    """

    code: str
    facts: Mapping[str, Fact] = field(factory=dict, hash=False)


Reasons = tuple[Reason, ...]


def because(code: str, **facts: Fact) -> Reason:
    """A reason with its facts."""
    return Reason(code, facts)
