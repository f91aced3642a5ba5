"""
Where remote regulators keep Newton's method going round: their currents, enclosed one by one.

With all regulators holding their currents the rest of the network has a potential and is solved
for certain. What a regulator lacks falls while its current rises, so that an interval can be closed
round the current it wants; with two, each trial of one encloses the other. Slow and sure, and
seldom needed.

Source: false position with halved ends ("Illinois"), M. Dowell and P. Jarratt (1971): common
practice.
"""

from upgrade_planner.attributes import frozen
from upgrade_planner.electrical.network.equations import Equations
from upgrade_planner.electrical.network.line_search import Found, Search

# Enclosing one within another takes the power of their number; beyond this it is not tried.
MOST_ENCLOSED = 2
MOST_TRIALS = 40
# Close enough for Newton's method to go on. [V]
CLOSE_V = 1e-6


@frozen
class Trial:
    """
    One current of one regulator, with all after it agreed.

    Attributes:
        delivered_a: The current. [A]
        lacking_v: By how much the regulator wants more; below zero, less. [V]
        outcome: What the network does.
    """

    delivered_a: float
    lacking_v: float
    outcome: Found


def enclosed(equations: Equations) -> Found | None:
    """
    A state of the network near one in which all remote regulators agree.

    Args:
        equations: A network with at least one remote regulator.

    Returns:
        The state, for Newton's method to begin at; None if there are too many remote regulators.
    """
    if len(equations.remote) > MOST_ENCLOSED:
        return None
    return _agreed(equations, ())


def _agreed(equations: Equations, held: tuple[float, ...]) -> Found:
    """The state with the first regulators held, and all others agreed."""
    if len(held) == len(equations.remote):
        return Search(equations, held).from_lines()
    low = _tried(equations, held, 0.0)
    if low.lacking_v <= 0.0:
        return low.outcome
    high = _tried(equations, held, equations.remote[len(held)].element.limit_a)
    if high.lacking_v >= 0.0:
        return high.outcome
    return _closed(equations, held, low, high)


def _closed(equations: Equations, held: tuple[float, ...], low: Trial, high: Trial) -> Found:
    """Close the interval between a current too low and one too high."""
    low_weight_v, high_weight_v = low.lacking_v, high.lacking_v
    trial = low
    for number in range(MOST_TRIALS):
        share = low_weight_v / (low_weight_v - high_weight_v) if number % 3 < 2 else 0.5
        between_a = low.delivered_a + share * (high.delivered_a - low.delivered_a)
        trial = _tried(equations, held, between_a)
        if abs(trial.lacking_v) <= CLOSE_V:
            break
        if trial.lacking_v > 0.0:
            low, low_weight_v, high_weight_v = trial, trial.lacking_v, 0.5 * high_weight_v
        else:
            high, high_weight_v, low_weight_v = trial, trial.lacking_v, 0.5 * low_weight_v
    return trial.outcome


def _tried(equations: Equations, held: tuple[float, ...], delivered_a: float) -> Trial:
    remote = equations.remote[len(held)]
    outcome = _agreed(equations, (*held, delivered_a))
    sensed_v = remote.sensed_v(outcome.voltages)
    droop_v = remote.element.droop_ohm * delivered_a
    return Trial(delivered_a, remote.element.set_point_v - droop_v - sensed_v, outcome)
