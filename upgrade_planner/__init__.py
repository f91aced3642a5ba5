"""Upgrade planner: compares two wiring configurations of a vehicle and plans the way between."""

__version__ = "0.1.0"
