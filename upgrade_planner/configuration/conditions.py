"""In which state a wire or a part was found: what a survey form or a profile says of it."""

from collections.abc import Iterable
from enum import StrEnum


class Condition(StrEnum):
    """One thing that is wrong with a wire or part, whatever its electrical values are."""

    STIFF = "stiff"
    CRACKED = "cracked"
    CORRODED = "corroded end"
    BURNT = "burnt"
    TOUCHES_METAL = "touches metal"
    REPAIRED = "repaired"
    MEASURED_OFF = "measured off"
    RENEW = "renew"


GOOD = "good"
"""What a form says of something that has no condition."""

Conditions = tuple[Condition, ...]

_WIRE_IS_SPENT = (
    Condition.BURNT,
    Condition.TOUCHES_METAL,
    Condition.CRACKED,
    Condition.RENEW,
)
"""A wire in such a state serves no more. Source: common practice; insulation cannot be mended, and
copper that glowed is soft and brittle."""


def is_spent(conditions: Iterable[Condition]) -> bool:
    """True if a wire in that state must be renewed."""
    return any(condition in _WIRE_IS_SPENT for condition in conditions)


def asks_for_care(conditions: Iterable[Condition]) -> Conditions:
    """What is left to look after on a wire that serves on."""
    return tuple(condition for condition in conditions if condition not in _WIRE_IS_SPENT)


def are_opened(conditions: Iterable[Condition]) -> bool:
    """True if both ends of the wire come off, to be cleaned and measured by themselves."""
    return any(
        condition in (Condition.CORRODED, Condition.MEASURED_OFF) for condition in conditions
    )


def are_remade(conditions: Iterable[Condition]) -> bool:
    """
    True if both ends are cut back to bright copper and given new terminals.

    Source: common practice; corrosion creeps below the barrel, where no brush gets at it.
    """
    return Condition.CORRODED in tuple(conditions)


def ordered(conditions: Iterable[Condition]) -> Conditions:
    """Each once, in the order of the form."""
    found = set(conditions)
    return tuple(condition for condition in Condition if condition in found)
