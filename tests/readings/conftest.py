"""Shared by the tests of readings."""

import pytest
from attrs import evolve
from pair_facts import planned

from upgrade_planner.configuration.model import Configuration, TerminalRef
from upgrade_planner.readings.points import ReadingPoint

_SWAPPED = {
    TerminalRef(role, one): TerminalRef(role, other)
    for role in ("battery", "coil")
    for one, other in (("positive", "negative"), ("negative", "positive"))
}


def mirrored(configuration: Configuration) -> Configuration:
    """The same wiring with the other battery post grounded, the coil leads swapped with it."""
    ground = "positive" if configuration.vehicle.ground == "negative" else "negative"
    wires = tuple(
        evolve(
            wire,
            start=_SWAPPED.get(wire.start, wire.start),
            end=_SWAPPED.get(wire.end, wire.end),
        )
        for wire in configuration.wires
    )
    return evolve(configuration, vehicle=evolve(configuration.vehicle, ground=ground), wires=wires)


def with_words(state: str, live: str, ground: str, name: str = "reading") -> ReadingPoint:
    """A reading from words with spaces between alternatives."""
    return ReadingPoint(
        id=name, state=state, live_side=tuple(live.split()), ground_side=tuple(ground.split())
    )


@pytest.fixture(scope="session")
def reading():
    return with_words


@pytest.fixture(scope="session")
def mirror():
    return mirrored


@pytest.fixture(scope="session")
def pair():
    """A shipped pair planned once, with its expectations computed."""
    return planned("van_as_found", "van_upgraded")
