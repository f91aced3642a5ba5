"""Which way the needle of an ammeter goes after the work, by the currents of the new wiring."""

from upgrade_planner.comparison.part_changes import PartConverted, PartKept
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import FromVehicle, IntoTarget, Kept
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import ampere
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import KEY_ON
from upgrade_planner.planning.fact_values import Facts

LEAST_A = 0.1
"""Less through the instrument tells nothing of its direction. [A] Source: our assumption."""


_NOT_IN_HAND: Facts = {
    "ammeter_in_hand": False,
    "ammeter_role": "",
    "ammeter": None,
    "ammeter_drawn": None,
    "ammeter_enters": "",
    "ammeter_leaves": "",
    "ammeter_turns": False,
}


def ammeter_facts(comparison: Comparison) -> Facts:
    """
    Where the current enters the ammeter with the engine stopped, and how much it is.

    `ammeter_in_hand`: the job touched it, its wires or the ground; `ammeter_turns`: it is the old
    one, and the current in its wires runs the other way round than before; then its leads are
    exchanged, and `ammeter_enters` is the stud at which it enters all the same.
    """
    after = comparison.after
    meter = next(iter(after.parts_of(Family.AMMETER)), None)
    if meter is None or not _is_in_hand(meter, comparison):
        return _NOT_IN_HAND
    drawn_a = _into_a(meter, after)
    turns = _turns(meter, drawn_a, comparison)
    ends = [terminal.mark or terminal.name for terminal in meter.terminals][:2]
    enters, leaves = ends if (drawn_a >= 0) is not turns else ends[::-1]
    return {
        "ammeter_in_hand": abs(drawn_a) > LEAST_A,
        "ammeter_role": meter.role,
        "ammeter": meter.name,
        "ammeter_drawn": ampere(abs(drawn_a)),
        "ammeter_enters": enters,
        "ammeter_leaves": leaves,
        "ammeter_turns": turns,
    }


def _is_in_hand(meter: Component, comparison: Comparison) -> bool:
    if not isinstance(comparison.part_by_role[meter.role], PartKept):
        return True
    if comparison.before.vehicle.ground != comparison.after.vehicle.ground:
        return True
    return any(
        meter.role in {end.role for wire in change.wires for end in wire.ends}
        for change in comparison.wires
        if isinstance(change, FromVehicle | IntoTarget) and not isinstance(change, Kept)
    )


def _turns(meter: Component, drawn_a: float, comparison: Comparison) -> bool:
    """True for an instrument that stays while the current through it changes its direction."""
    if not isinstance(comparison.part_by_role[meter.role], PartKept | PartConverted):
        return False
    return _into_a(meter, comparison.before) * drawn_a < 0


def _into_a(meter: Component, configuration: Configuration) -> float:
    """Current into its first terminal, ignition on, engine stopped; 0 without solution. [A]"""
    try:
        point = operating_point(configuration, KEY_ON)
    except NetworkError:
        return 0.0
    ref = TerminalRef(meter.role, meter.terminals[0].name)
    wires = configuration.wires_at.get(ref, ())
    return sum(point.wire_current_a(wire.id) * (1 if wire.end == ref else -1) for wire in wires)
