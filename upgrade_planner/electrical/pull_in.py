"""
The moment in which a starter's solenoid pulls in: both its windings draw, the motor not yet.

The pull-in winding returns through the standing motor, whose resistance is small beside its own; it
is left out, which shows a little too much current.
"""

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Component
from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.solving import solve
from upgrade_planner.electrical.operating_points import OperatingPoint

PULL_IN_RATING = "pull_in_resistance"

LEAST_PULL_IN_V = {12.0: 8.0, 24.0: 18.0}
"""At less a solenoid need not pull in, by system voltage. [V] Source: 12 V: least operating
voltage, workshop manual of a compact car, 2001, starting specification; 24 V: least pull-in
voltage, US Army TM 5-3895-382-24, illustration 61."""


@frozen(kw_only=True)
class PullIn:
    """
    What the solenoid has as it begins to move.

    Attributes:
        solenoid_v: Over its windings. [V]
        current_a: Through both of them. [A]
        battery_v: At the battery. [V]
    """

    solenoid_v: float
    current_a: float
    battery_v: float


def pull_in_of(starter: Component, cranking: OperatingPoint) -> PullIn | None:
    """
    The moment of pulling in; None where the profile does not give both windings.

    Args:
        starter: A starter with its solenoid.
        cranking: The state that follows, with all relays pulled in.

    Raises:
        NetworkError: The network of that moment cannot be solved.
    """
    network = cranking.solution.network
    windings = [e for e in network.elements if e.name == f"{starter.role}:hold-in"]
    ohms = starter.ratings.get(PULL_IN_RATING)
    if not windings or ohms is None:
        return None
    turning = {starter.role, *(f"{starter.role}:{name}" for name in ("contacts", "bypass contact"))}
    pulling = Resistor(f"{starter.role}:pull-in", *windings[0].ends, ohms)
    rest = (element for element in network.elements if element.name not in turning)
    pulling_in = Network(network.reference, (*rest, pulling))
    moment = evolve(cranking, solution=solve(pulling_in, cranking.solution.voltage_v))
    one, other = (moment.solution.voltage_v[node] for node in windings[0].ends)
    return PullIn(
        solenoid_v=abs(one - other),
        current_a=sum(abs(moment.element_current_a(e.name)) for e in (windings[0], pulling)),
        battery_v=moment.battery_v,
    )


def least_pull_in_v(system_v: float) -> float:
    """Least voltage at which a solenoid must pull in; of 6 V, half of that of 12 V. [V]"""
    return LEAST_PULL_IN_V.get(system_v, LEAST_PULL_IN_V[12.0] * system_v / 12.0)
