"""
What a configuration says of a system that one based on it replaces.

A person copies the profile of his car and only names another ignition: what the copy's base said of
the old coil and its wires is then void, not a fault. So is a part or wire that the base added under
a name that the other system brings itself: that system comes with its own.
"""

from collections.abc import Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.structuring.entries import ConfigurationFile, SystemFile

Chain = tuple[tuple[str, ConfigurationFile], ...]
Chosen = Mapping[str, tuple[str, str]]
"""Slot to the name of its system and the file that chose it."""


@frozen
class Superseded:
    """Roles and wires of systems that were in place when a file was written, and no longer are."""

    roles: frozenset[str] = frozenset()
    wires: frozenset[str] = frozenset()
    slots: frozenset[str] = frozenset()

    @classmethod
    def by_replacing(cls, system: SystemFile) -> "Superseded":
        """What goes with one system."""
        added = system.changes
        return cls(
            frozenset(part.role for part in (*system.component, *added.add_component)),
            frozenset(wire.id for wire in (*system.wiring.wires, *added.add_wires)),
            frozenset((system.system.slot,)),
        )

    def __or__(self, other: "Superseded") -> "Superseded":
        """What goes with either."""
        return Superseded(
            self.roles | other.roles, self.wires | other.wires, self.slots | other.slots
        )


def replaced_choices(chain: Chain) -> dict[str, dict[str, tuple[str, str]]]:
    """For each file of a chain: choices that stood then, and that a later file replaced."""
    standing: dict[str, tuple[str, str]] = {}
    history: dict[str, dict[str, tuple[str, str]]] = {}
    for file, content in chain:
        standing |= {slot: (name, file) for slot, name in content.systems.items()}
        history[file] = dict(standing)
    return {
        file: {slot: choice for slot, choice in chosen.items() if choice[0] != standing[slot][0]}
        for file, chosen in history.items()
    }
