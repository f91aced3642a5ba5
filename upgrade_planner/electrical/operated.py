"""
What a voltage decides that it moves itself: relays that pull in, machines that are excited.

A relay pulls in at one voltage of its coil and lets go at a lower one. An alternator whose separate
regulator gets no feed, or a dynamo whose field gets no current, delivers nothing.
"""

from collections.abc import Iterator
from functools import lru_cache

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models.context import Context, node_of
from upgrade_planner.electrical.network.solving import Solution
from upgrade_planner.electrical.states import State

KEPT = 8
"""Configurations whose coils and machines are kept, for every state asks for them. Our choice."""

PULL_IN_RATIO = 0.6
"""Coil voltage that pulls a relay in, as part of its rated voltage. [1] Source: from memory: makers
promise 7 to 8 V for 12 V; one in good order needs less."""

DROP_OUT_RATIO = 0.2
"""Coil voltage below which it lets go. [1] Source: from memory: 1.2 to 4 V for 12 V."""

FED_RATIO = 0.5
"""Feed of a regulator that gives a field worth the name, as part of the system voltage. [1] Source:
our assumption."""

BUILD_UP_RATIO = 0.1
"""Field current below which a dynamo does not build up, as part of the system voltage over the
field's resistance. [1] Source: our assumption."""


@frozen
class Coil:
    """The coil of a relay: its two nodes, and the voltages at which it acts. [V]"""

    role: str
    one: str
    other: str
    pull_in_v: float
    drop_out_v: float

    def across_v(self, solution: Solution) -> float:
        """Voltage over it, without sign. [V]"""
        found = [solution.voltage_v.get(node) for node in (self.one, self.other)]
        return 0.0 if found[0] is None or found[1] is None else abs(found[0] - found[1])

    def is_in(self, solution: Solution, before: frozenset[str]) -> bool:
        """Whether it is pulled in: one that was stays so down to its lower voltage."""
        limit_v = self.drop_out_v if self.role in before else self.pull_in_v
        return self.across_v(solution) >= limit_v


@lru_cache(maxsize=KEPT)
def coils_of(configuration: Configuration) -> tuple[Coil, ...]:
    """The coils of all relays."""
    return tuple(_coils(configuration))


def _coils(configuration: Configuration) -> Iterator[Coil]:
    for part in configuration.parts_of(Family.RELAY, Family.STARTER_RELAY):
        ends = _coil_ends(part)
        if ends is not None:
            rated_v = part.ratings.get("rated_voltage", configuration.vehicle.voltage_v)
            pull_in_v = part.ratings.get("pull_in_voltage", PULL_IN_RATIO * rated_v)
            yield Coil(part.role, *ends, pull_in_v, min(DROP_OUT_RATIO * rated_v, pull_in_v))


def _coil_ends(part: Component) -> tuple[str, str] | None:
    one = part.terminal_as(TerminalUse.WINDING)
    other = part.terminal_as(TerminalUse.WINDING_RETURN) or part.return_terminal
    return None if other is None else (f"{part.role}.{one}", f"{part.role}.{other}")


@lru_cache(maxsize=KEPT)
def _excited_from_outside(configuration: Configuration) -> tuple[Component, ...]:
    machines = configuration.parts_that(Capability.CHARGES)
    return tuple(part for part in machines if not part.can(Capability.REGULATES))


def first_guess(configuration: Configuration) -> frozenset[str]:
    """Every machine excited, no relay pulled in."""
    return frozenset(part.role for part in _excited_from_outside(configuration))


def operated_in(
    configuration: Configuration, state: State, solution: Solution, before: frozenset[str]
) -> frozenset[str]:
    """
    What is pulled in or excited by the voltages of a solution that `before` led to.

    A machine that has lost its field does not get it back within a state.
    """
    pulled = {coil.role for coil in coils_of(configuration) if coil.is_in(solution, before)}
    context = Context(configuration=configuration, state=state, operated=before)
    excited = {
        part.role
        for part in _excited_from_outside(configuration)
        if part.role in before and _is_excited(part, context, solution)
    }
    return frozenset(pulled | excited)


def _is_excited(part: Component, context: Context, solution: Solution) -> bool:
    nominal_v = context.configuration.vehicle.voltage_v
    if not context.is_generating:
        return True
    if part.family is Family.DYNAMO:
        ohms = float(part.ratings.get("field_resistance", assumed.COIL_FIELD_OHM))
        least_a = BUILD_UP_RATIO * nominal_v / ohms
        return abs(solution.current_a.get(f"{part.role}:field", 0.0)) >= least_a
    regulator = context.regulator_of(part)
    if regulator is None:
        return True
    ref = TerminalRef(regulator.role, context.feed_of(regulator))
    volts = solution.voltage_v.get(node_of(ref))
    sign = 1.0 if context.is_negative_ground else -1.0
    return volts is not None and sign * volts >= FED_RATIO * nominal_v
