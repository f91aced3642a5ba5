"""
Nodal equations of nodes known by their indices: currents that leave them, conductances.

The unknowns are the voltages of all connected nodes but the reference, whose index is the last.
Remote-sensing regulators stand apart: they put a current in at one place for a voltage at another,
so that the conductance matrix stays symmetric.
"""

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from upgrade_planner.electrical.network.elements import Regulated
from upgrade_planner.electrical.network.elimination import (
    Edge,
    LinearSolver,
    conductance_slots,
    solver_for,
)
from upgrade_planner.electrical.network.joined import Joined
from upgrade_planner.electrical.network.laws import Element

# Conductance to the reference that keeps a matrix regular where blocking elements alone hold a
# node. It pulls on such nodes only, with 0.014 nA at 14 V: less than the balance allows.
# Source: our assumption. [S]
PULL_S = 1e-12


class IndexedElement(NamedTuple):
    """One element between two indices."""

    a: int
    b: int
    element: Element


class Remote(NamedTuple):
    """One remote-sensing regulator between indices."""

    plus: int
    minus: int
    sense_plus: int
    sense_minus: int
    element: Regulated

    def at(self, number: Mapping[int, int]) -> "Remote":
        """The same between indices of other numbers."""
        plus, minus, sense_plus, sense_minus, element = self
        ends = number[plus], number[minus], number[sense_plus], number[sense_minus]
        return Remote(*ends, element)

    def sensed_v(self, voltages: Sequence[float]) -> float:
        """Voltage between the sensing leads. [V]"""
        return voltages[self.sense_plus] - voltages[self.sense_minus]


class WorkingPoint(NamedTuple):
    """
    Voltages, and what the elements say to them.

    Attributes:
        voltages: Of all indices, the reference last. [V]
        slopes: Of the branches that are no resistors. [S]
        leaving: Current that leaves each index through branches. [A]
    """

    voltages: list[float]
    slopes: list[float]
    leaving: list[float]


class Equations:
    """
    Equations of nodes known by their indices.

    Attributes:
        size: Number of unknowns, and index of the reference.
        resistors: Indices and conductance of each resistor. [S]
        curved: Branches other than resistors.
        remote: Regulators that sense elsewhere.
    """

    size: int
    resistors: list[tuple[int, int, float]]
    curved: list[IndexedElement]
    remote: list[Remote]

    @cached_property
    def islands(self) -> Joined:
        """Indices that resistors join."""
        return Joined(self.size, ((a, b) for a, b, _ in self.resistors))

    @cached_property
    def solver(self) -> LinearSolver:
        """Solves the equations made linear."""
        return solver_for(self.size, tuple(self.curved_slots[1]))

    @cached_property
    def resistor_slots(self) -> tuple[list[int], dict[Edge, int]]:
        """Slot of each resistor, and all pairs of indices between which there is one."""
        return conductance_slots(self.size, ((a, b) for a, b, _ in self.resistors), {})

    @cached_property
    def curved_slots(self) -> tuple[list[int], dict[Edge, int]]:
        """The like for the other branches, with the pairs of both."""
        return conductance_slots(
            self.size, ((a, b) for a, b, _ in self.curved), self.resistor_slots[1]
        )

    def at(self, voltages: list[float]) -> WorkingPoint:
        """The point on all laws at given voltages."""
        leaving = self.leaving_resistors(voltages)
        slopes = []
        for a, b, element in self.curved:
            current_a, slope_s = element.law(voltages[a] - voltages[b])
            leaving[a] += current_a
            leaving[b] -= current_a
            slopes.append(slope_s)
        return WorkingPoint(voltages, slopes, leaving)

    def slopes(self, voltages: Sequence[float]) -> list[float]:
        """Slopes of the branches that are no resistors. [S]"""
        return [element.law(voltages[a] - voltages[b])[1] for a, b, element in self.curved]

    def at_start(self) -> WorkingPoint:
        """The lines a search begins with, seen from zero volts everywhere."""
        leaving = [0.0] * (self.size + 1)
        slopes = []
        for a, b, element in self.curved:
            current_a, slope_s = element.start_line
            leaving[a] += current_a
            leaving[b] -= current_a
            slopes.append(slope_s)
        return WorkingPoint([0.0] * (self.size + 1), slopes, leaving)

    def leaving_resistors(self, voltages: Sequence[float]) -> list[float]:
        """Current that leaves each index through resistors. [A]"""
        leaving = [0.0] * (self.size + 1)
        for a, b, conductance_s in self.resistors:
            current_a = conductance_s * (voltages[a] - voltages[b])
            leaving[a] += current_a
            leaving[b] -= current_a
        return leaving

    def conductances(self, slopes: Sequence[float]) -> list[float]:
        """Conductances of all slots, in the order of the solver. [S]"""
        curved_slots, edges = self.curved_slots
        values = [PULL_S] * self.size + [0.0] * len(edges)
        for slot, (_, _, conductance_s) in zip(self.resistor_slots[0], self.resistors, strict=True):
            values[slot] += conductance_s
        for slot, slope_s in zip(curved_slots, slopes, strict=True):
            values[slot] += slope_s
        return values

    def delivered(self, voltages: Sequence[float]) -> list[float]:
        """Current that each remote regulator delivers at given voltages. [A]"""
        return [remote.element.delivered_a(remote.sensed_v(voltages)) for remote in self.remote]

    def ampere_of(self, remote: Remote) -> list[float]:
        """One ampere of a remote regulator, as currents into all indices. [A]"""
        injected = [0.0] * (self.size + 1)
        injected[remote.plus] += 1.0
        injected[remote.minus] -= 1.0
        return injected

    def through(self, voltages: Sequence[float]) -> list[float]:
        """Sum of the sizes of all currents at each index, for judging a balance. [A]"""
        total = [0.0] * (self.size + 1)
        for a, b, conductance_s in self.resistors:
            size_a = abs(conductance_s * (voltages[a] - voltages[b]))
            total[a] += size_a
            total[b] += size_a
        for a, b, element in self.curved:
            size_a = abs(element.law(voltages[a] - voltages[b])[0])
            total[a] += size_a
            total[b] += size_a
        for remote, current_a in zip(self.remote, self.delivered(voltages), strict=True):
            total[remote.plus] += current_a
            total[remote.minus] += current_a
        return total
