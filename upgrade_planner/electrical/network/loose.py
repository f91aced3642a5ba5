"""
Nodes that only blocking elements hold.

Behind a diode that blocks, or above a constant current with nothing to drive it, any voltage within
some range satisfies all laws. The one to report is what a meter of very high resistance would read;
the search pulls such nodes towards the reference by next to nothing.
"""

from collections.abc import Iterator, Sequence
from itertools import chain

from upgrade_planner.electrical.network.elements import Regulated, Resistor, Source
from upgrade_planner.electrical.network.equations import Equations
from upgrade_planner.electrical.network.joined import apart
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.loads import Lamp

# An element holds its ends together if its current changes to both sides of the working point.
# Nodes that rest on a kink are pulled off it by less than this. [V]
MARGIN_V = 1e-6
# The like for the current of a remote regulator. [A]
MARGIN_A = 1e-7
# Their current rises with any voltage.
ALWAYS_RISING = (Lamp, Source, Resistor)


def loose_indices(equations: Equations, voltages: Sequence[float]) -> tuple[int, ...]:
    """Indices that no chain of holding elements joins to the reference."""
    held = chain(((a, b) for a, b, _ in equations.resistors), _holding(equations, voltages))
    return tuple(apart(equations.size + 1, held, equations.size))


def holds_together(element: Element, across_v: float) -> bool:
    """Whether an element holds its ends together, at the voltage that its law depends on."""
    if isinstance(element, Regulated) and element.is_remote:
        return MARGIN_A < element.delivered_a(across_v) < element.limit_a - MARGIN_A
    if isinstance(element, ALWAYS_RISING):
        return True
    return bool(element.law(across_v - MARGIN_V)[1] and element.law(across_v + MARGIN_V)[1])


def _holding(equations: Equations, voltages: Sequence[float]) -> Iterator[tuple[int, int]]:
    for a, b, element in equations.curved:
        if holds_together(element, voltages[a] - voltages[b]):
            yield a, b
    for remote in equations.remote:
        if holds_together(remote.element, remote.sensed_v(voltages)):
            yield remote.plus, remote.minus
