"""
Direct-current networks: elements between nodes, and the voltages and currents they settle at.

Nothing here knows of vehicles; the models of components put networks together from these elements.
"""

from upgrade_planner.electrical.network.elements import Diode, Regulated, Resistor, Source
from upgrade_planner.electrical.network.laws import LEAST_RESISTANCE_OHM, Element, LawPiece, Node
from upgrade_planner.electrical.network.loads import CurrentSink, Lamp, PowerSink
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.solving import Solution, solve
from upgrade_planner.electrical.network.unsolvable import (
    FloatingSource,
    NetworkError,
    NotSolved,
    UnusableElement,
)

__all__ = [
    "LEAST_RESISTANCE_OHM",
    "CurrentSink",
    "Diode",
    "Element",
    "FloatingSource",
    "Lamp",
    "LawPiece",
    "Network",
    "NetworkError",
    "Node",
    "NotSolved",
    "PowerSink",
    "Regulated",
    "Resistor",
    "Solution",
    "Source",
    "UnusableElement",
    "solve",
]
