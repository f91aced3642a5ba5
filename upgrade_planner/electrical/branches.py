"""
What a way for current is made of: branches, what guards each, which contacts can close.

`feed_ways` joins them.
"""

from collections.abc import Iterator
from enum import StrEnum
from itertools import pairwise

from attrs import frozen

from upgrade_planner.configuration.model import Component, Configuration, TerminalRef


class Guard(StrEnum):
    """What a branch does to a fault current."""

    NONE = "none"
    FUSE = "fuse"
    LINK = "fusible link"
    LOAD = "load or resistance"


@frozen(kw_only=True)
class Branch:
    """
    One element as part of a way.

    Attributes:
        name: Of the element in the network.
        guard: What it does to a fault current.
        limit_a: Current that opens it, or that it lets pass at battery voltage; else infinite. [A]
        rating_a: Rating of a fuse. [A]
        ohms: For finding the shortest way. [Ω]
        one_way: A diode: it feeds nothing behind it from the battery.
    """

    name: str
    ends: tuple[str, str]
    guard: Guard
    limit_a: float
    ohms: float
    rating_a: float = 0.0
    one_way: bool = False

    def other(self, node: str) -> str:
        """The end that is not `node`."""
        return self.ends[1] if node == self.ends[0] else self.ends[0]


SOLENOID_STARTERS = ("starter", "starter_permanent_magnet")
"""Kinds of starter with a solenoid on them."""

STARTERS = (*SOLENOID_STARTERS, "starter_motor")
"""Kinds that turn the engine."""

START_SIGNALS = {
    "starter": "solenoid",
    "starter_permanent_magnet": "solenoid",
    "starter_relay": "signal",
}
"""Kinds that the start signal pulls in, and the terminal that it comes to."""


def is_out_of_work(part: Component, configuration: Configuration) -> bool:
    """True for a starter relay of which nothing but the battery stud is used, as a junction."""
    names = ("starter", "signal", "bypass")
    refs = [TerminalRef(part.role, name) for name in names]
    is_used = any(configuration.wires_at.get(ref) for ref in refs)
    return part.kind == "starter_relay" and not is_used


def key_positions(configuration: Configuration) -> tuple[str | None, ...]:
    """Every position of every key switch; None alone if there is no key switch."""
    found = [
        position
        for part in configuration.components
        if part.kind == "key_switch"
        for position in part.ratings["positions"]
    ]
    return tuple(dict.fromkeys(found)) or (None,)


def closable(part: Component, key: str | None) -> Iterator[tuple[str, str]]:
    """Pairs of terminals that contacts of a part can join."""
    if part.kind in ("switch", "key_switch"):
        for position, groups in part.ratings["positions"].items():
            if part.kind == "switch" or key in (None, position):
                for group in groups:
                    yield from pairwise(group)
    if part.kind == "relay":
        yield "common", "normally_open"
    if (
        part.kind in SOLENOID_STARTERS
        and part.terminal("bypass") is not None
        and key in (None, "start")
    ):
        yield "battery", "bypass"
    if part.kind == "starter_relay" and key in (None, "start"):
        yield "battery", "starter"
        if part.terminal("bypass") is not None:
            yield "battery", "bypass"


def fuse_ratings_by_element(configuration: Configuration) -> Iterator[tuple[str, float]]:
    """Name of the element and rating of every fuse. [A]"""
    for part in configuration.components:
        if part.kind in ("fuse", "breaker"):
            yield part.role, float(part.ratings["rated_current"])
        elif part.kind == "fuse_box":
            for way in part.ratings["fuses"]:
                yield f"{part.role}:{way.end}", float(way.rated_current_a)
